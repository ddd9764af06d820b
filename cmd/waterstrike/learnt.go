package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/server/sheet"
)

// learntCmd says what the answers are learnt from, and how far to trust it.
type learntCmd struct {
	JSON     bool   `help:"${flag_json}"`
	Drawings string `type:"path" placeholder:"${takes_folder}" help:"${flag_drawings}"`
	Page     string `type:"path" placeholder:"${takes_file}" help:"${flag_page}"`
}

// Run fits, writes what was asked for, and prints it.
func (c *learntCmd) Run(a *app) error {
	if err := a.free(c.Page, c.Drawings); err != nil {
		return err
	}
	fits, err := c.fits(a)
	if err != nil {
		return err
	}
	if c.Drawings != "" {
		drawings, err := sheet.FitsDrawings(a.words, a.lang, fits)
		if err != nil {
			return err
		}
		if err := a.drawAccount(drawings, c.Drawings); err != nil {
			return err
		}
	}
	if c.Page != "" {
		if err := a.accountPage(c.Page, func(w io.Writer) error { return sheet.FitsFile(w, a.words, a.lang, fits) }); err != nil {
			return err
		}
	}
	if c.JSON {
		return a.print(fits)
	}
	_, err = fmt.Fprint(a.out, sheet.NewFits(a.words, a.lang, fits).Text())
	return err
}

func (c *learntCmd) fits(a *app) (advisor.Fits, error) {
	base, err := a.openToRead()
	if err != nil {
		return advisor.Fits{}, err
	}
	defer base.Close()
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return advisor.Fits{}, err
	}
	defer done()
	if snapshot.Len() == 0 {
		return advisor.Fits{}, geo.Fail(geo.NotFound, "learnt", geo.Say("problem.no-data"), nil)
	}
	a.complain(geo.Say("fit.fitting", geo.With("n", geo.Count(snapshot.Len()))))
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return advisor.Fits{}, err
	}
	return adviser.Fits(), nil
}

// free tells before the work, not after it, that a file or folder stands in the way.
func (a *app) free(page, drawings string) error {
	if drawings != "" {
		if err := emptyFolder(drawings); err != nil {
			return err
		}
	}
	if _, err := os.Stat(filepath.Dir(page)); page != "" && errors.Is(err, fs.ErrNotExist) {
		return noFolder(page, err)
	}
	if _, err := os.Lstat(page); page != "" && !errors.Is(err, fs.ErrNotExist) {
		return inTheWay(page, err)
	}
	return nil
}

// drawAccount writes drawings into a folder.
func (a *app) drawAccount(drawings []sheet.AccountDrawing, folder string) error {
	err := wholeFolder(folder, func(dir string) error {
		for _, d := range drawings {
			if err := a.place(filepath.Join(dir, d.Name+".svg"), d.WriteSVG); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil {
		a.complain(geo.Say("trust.wrote-drawings", geo.With("n", geo.Count(len(drawings))), geo.With("file", geo.Text(folder))))
	}
	return err
}

// accountPage writes the page of an account.
func (a *app) accountPage(path string, write func(io.Writer) error) error {
	err := a.place(path, write)
	if err == nil {
		a.complain(geo.Say("trust.wrote-page", geo.With("file", geo.Text(path))))
	}
	return err
}
