package main

import (
	"fmt"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/store"
)

// built is what a review of one finished bore found.
type built struct {
	Bore   geo.BoreID        `json:"bore"`
	Label  string            `json:"label"`
	Issues []geo.Issue       `json:"issues,omitempty"`
	Return welldesign.Return `json:"return"` // what the authority is owed
}

// checkBuilt holds the bores whose pipes or fills were written down to the rules that
// wells are designed by, and tells what is missing for the return to the authority.
func (a *app) checkBuilt(base *store.Base, least geo.Severity, asJSON bool) error {
	rules, err := a.ownRules()
	if err != nil {
		return err
	}
	var found []built
	reviewed, doubtful := 0, 0
	err = base.Bores(a.ctx, func(b geo.Bore) error {
		if len(b.Pipes) == 0 && len(b.Fills) == 0 {
			return nil
		}
		reviewed++
		one := built{Bore: b.ID, Label: b.Label(), Return: welldesign.ReturnOf(b, &rules.Well)}
		bad := false
		for _, i := range welldesign.Review(b, geo.Opt[welldesign.Water]{}, &rules.Well).Issues {
			bad = bad || i.Severity != geo.Note
			if i.Severity != geo.Note || least == geo.Note {
				one.Issues = append(one.Issues, i)
			}
		}
		if bad {
			doubtful++
		}
		if asJSON {
			found = append(found, one)
			return nil
		}
		a.sayBuilt(one)
		return nil
	})
	if err != nil {
		return err
	}
	if asJSON {
		err = a.print(found)
	} else {
		a.say(geo.Say("check.built", geo.With("total", geo.Count(reviewed)), geo.With("n", geo.Count(doubtful))))
	}
	if err == nil && doubtful > 0 {
		return errDoubtful
	}
	return err
}

// sayBuilt writes what was found in one bore, and what the authority is owed.
func (a *app) sayBuilt(b built) {
	for _, i := range b.Issues {
		fmt.Fprintf(a.out, "%s  %s  %s\n", b.Label, a.severity(i.Severity), a.sentence(i.Message))
	}
	for _, part := range b.Return.Absent {
		fmt.Fprintf(a.out, "%s  %s\n", b.Label, a.sentence(geo.Say("check.owed", geo.With("part", geo.Ref(part)))))
	}
}
