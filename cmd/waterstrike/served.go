package main

import (
	"fmt"
	"io"
	"time"

	"waterstrike/advisor/season"
	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"
)

// servedCmd accounts for what was achieved.
type servedCmd struct {
	Standard string `placeholder:"sphere-2018" help:"${flag_standard}"`
	On       string `placeholder:"${takes_day}" help:"${flag_on}"`
	Tested   bool   `help:"${flag_tested}"`
	Foretold bool   `help:"${flag_foretold}"`
	JSON     bool   `help:"${flag_json}"`
	Page     string `type:"path" placeholder:"${takes_file}" help:"${flag_page}"`
	PDF      string `name:"pdf" type:"path" placeholder:"${takes_file}" help:"${flag_pdf}"`
}

// Run takes the account, writes what was asked for, and prints it.
func (c *servedCmd) Run(a *app) error {
	for _, path := range []string{c.Page, c.PDF} {
		if err := a.free(path, ""); err != nil {
			return err
		}
	}
	account, err := c.take(a)
	if err != nil {
		return err
	}
	if c.Page != "" {
		if err := a.accountPage(c.Page, func(w io.Writer) error { return sheet.ServedFile(w, a.words, a.lang, account) }); err != nil {
			return err
		}
	}
	if c.PDF != "" {
		if err := a.accountPage(c.PDF, func(w io.Writer) error { return sheet.ServedPDF(w, a.words, a.lang, account) }); err != nil {
			return err
		}
	}
	if c.JSON {
		data, err := sheet.ServedJSON(account)
		if err != nil {
			return err
		}
		_, err = a.out.Write(data)
		return err
	}
	_, err = fmt.Fprint(a.out, sheet.NewServed(a.words, a.lang, account).WithoutRecords().Text())
	return err
}

func (c *servedCmd) take(a *app) (*season.Account, error) {
	ask := season.AccountAsk{Tested: c.Tested}
	list, err := a.standards()
	if err != nil {
		return nil, err
	}
	if ask.Standard, err = season.Standard(list, c.Standard); err != nil {
		return nil, err
	}
	if ask.On, err = season.ParsePast(c.On, geo.DateOf(time.Now())); err != nil {
		return nil, err
	}
	base, err := a.openToRead()
	if err != nil {
		return nil, err
	}
	defer base.Close()
	if c.Foretold {
		if ask.Foretold, err = a.foretold(base); err != nil {
			return nil, err
		}
	}
	seq, err := base.Seq(a.ctx)
	if err != nil {
		return nil, err
	}
	records, err := seasonRecords(a.ctx, base, fmt.Sprint(seq))
	if err != nil {
		return nil, err
	}
	return season.Report(a.ctx, &records, ask)
}

// foretold is the chance of every bore as the others alone tell it: it takes minutes.
func (a *app) foretold(base *store.Base) (map[string]float64, error) {
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return nil, err
	}
	defer done()
	rules, err := a.ownRules()
	if err != nil {
		return nil, err
	}
	a.complain(geo.Say("trust.fitting", geo.With("n", geo.Count(snapshot.Len()))))
	report, err := trust.Run(a.ctx, snapshot, rules, trust.DefaultOptions(), a.asking())
	return season.Foretold(report), err
}
