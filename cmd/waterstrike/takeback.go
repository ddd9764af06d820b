package main

import (
	"os"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// takeBackCmd undoes a whole import, or lists the imports.
type takeBackCmd struct {
	Batch string `arg:"" optional:"" help:"${flag_batch}"`
	JSON  bool   `help:"${flag_json}"`
}

// Run undoes the import that was named.
func (c *takeBackCmd) Run(a *app) error {
	if c.Batch == "" {
		return c.list(a)
	}
	base, err := a.open()
	if err != nil {
		return err
	}
	defer base.Close()
	taken, err := base.TakeBack(a.ctx, c.Batch, store.Why{Who: os.Getenv("USER"), Reason: "take-back"}, a.slowly("takeback.progress"))
	if err != nil {
		return err
	}
	if c.JSON {
		return a.print(taken)
	}
	a.say(geo.Say("takeback.done", geo.With("n", geo.Count(taken.Hidden)),
		geo.With("changed", geo.Count(taken.Restored)), geo.With("listed", geo.Count(len(taken.Conflicts)))))
	return nil
}

// list prints the imports that can be named, newest first.
func (c *takeBackCmd) list(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	batches, err := base.Batches(a.ctx)
	if err != nil {
		return err
	}
	if c.JSON {
		return a.print(batches)
	}
	for _, b := range batches {
		state := ""
		if b.TakenBack {
			state = a.sentence(geo.Say("takeback.before"))
		}
		a.say(geo.Say("takeback.line", geo.With("batch", geo.Text(b.ID)), geo.With("day", geo.Text(b.At.Format("2006-01-02 15:04"))),
			geo.With("added", geo.Count(b.Added)), geo.With("changed", geo.Count(b.Changed)),
			geo.With("value", geo.Text(strings.TrimSpace(b.Why+" "+state)))))
	}
	return nil
}
