package main

import (
	"fmt"
	"io"
	"time"

	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/server/sheet"
)

// trustCmd says whether the advisor keeps its word on the bores of the base.
type trustCmd struct {
	Split    string `default:"block" help:"${flag_split}"`
	Folds    int    `default:"10" help:"${flag_folds}"`
	Most     int    `default:"10000" help:"${flag_most}"`
	JSON     bool   `help:"${flag_json}"`
	Drawings string `type:"path" placeholder:"${takes_folder}" help:"${flag_drawings}"`
	Page     string `type:"path" placeholder:"${takes_file}" help:"${flag_page}"`
}

// Run takes the account, writes what was asked for, and prints it.
func (c *trustCmd) Run(a *app) error {
	if err := a.free(c.Page, c.Drawings); err != nil {
		return err
	}
	report, err := c.take(a)
	if err != nil {
		return err
	}
	if err := c.draw(a, report); err != nil {
		return err
	}
	if c.JSON {
		return a.print(report)
	}
	_, err = fmt.Fprint(a.out, sheet.NewTrust(a.words, a.lang, report).Text())
	return err
}

func (c *trustCmd) take(a *app) (trust.Report, error) {
	if c.Folds < 2 || c.Most < 1 {
		return trust.Report{}, geo.Fail(geo.Invalid, "trust", geo.Say("trust.bad-numbers"), nil)
	}
	base, err := a.openToRead()
	if err != nil {
		return trust.Report{}, err
	}
	defer base.Close()
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return trust.Report{}, err
	}
	defer done()
	if snapshot.Len() == 0 {
		return trust.Report{}, geo.Fail(geo.NotFound, "trust", geo.Say("problem.no-data"), nil)
	}
	rules, err := a.ownRules()
	if err != nil {
		return trust.Report{}, err
	}
	o := trust.Options{Split: trust.Split(c.Split), Folds: c.Folds, Most: c.Most}
	a.complain(geo.Say("trust.fitting", geo.With("n", geo.Count(snapshot.Len()))))
	return trust.Run(a.ctx, snapshot, rules, o, a.asking())
}

// asking writes the count of bores to the error output once a second.
func (a *app) asking() trust.Progress {
	last := time.Now()
	return func(done, total int) {
		if time.Since(last) < time.Second {
			return
		}
		last = time.Now()
		a.complain(geo.Say("trust.progress", geo.With("n", geo.Count(done)), geo.With("total", geo.Count(total))))
	}
}

// draw writes the drawings and the page that were asked for.
func (c *trustCmd) draw(a *app, r trust.Report) error {
	if c.Drawings != "" {
		drawings, err := sheet.TrustDrawings(a.words, a.lang, r)
		if err != nil {
			return err
		}
		if err := a.drawAccount(drawings, c.Drawings); err != nil {
			return err
		}
	}
	if c.Page == "" {
		return nil
	}
	return a.accountPage(c.Page, func(w io.Writer) error { return sheet.TrustFile(w, a.words, a.lang, r) })
}
