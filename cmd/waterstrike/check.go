package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/check"
)

// checkCmd says which records look wrong; it changes nothing.
type checkCmd struct {
	Severity string `default:"note" enum:"note,doubt" help:"${flag_severity}"`
	List     bool   `help:"${flag_list}"`
	Rules    bool   `help:"${flag_rules}"`
	Built    bool   `help:"${flag_built}"`
	JSON     bool   `help:"${flag_json}"`
}

// errDoubtful ends a check that found something doubtful: all was said, and the exit code
// tells it to a script.
var errDoubtful = errors.New("something doubtful was found")

// ruleCount is how often a rule found something.
type ruleCount struct {
	check.Rule
	N int `json:"n"`
}

// checked is what a check reports.
type checked struct {
	Bores    int         `json:"bores"`
	Doubtful int         `json:"doubtful"` // bores and sources with a doubt
	Counts   []ruleCount `json:"counts"`   // most first
	Issues   []geo.Issue `json:"issues,omitempty"`

	least    geo.Severity
	list     bool
	labels   map[string]string // of the bores by id
	doubtful map[string]bool
	counts   map[geo.Code]int
}

// Run checks every bore by itself and all against each other.
func (c *checkCmd) Run(a *app) error {
	if c.Rules {
		return a.rules(c.JSON)
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	if c.Built {
		return a.checkBuilt(base, geo.Severity(c.Severity), c.JSON)
	}
	r := checked{
		least: geo.Severity(c.Severity), list: c.List, labels: map[string]string{},
		doubtful: map[string]bool{}, counts: map[geo.Code]int{},
	}
	today := geo.DateOf(time.Now())
	err = base.Bores(a.ctx, func(b geo.Bore) error {
		r.Bores++
		if c.List && !c.JSON { // nothing else shows them
			r.labels[string(b.ID)] = b.Label()
		}
		for _, i := range check.Bore(b, today) {
			r.take(i)
		}
		return nil
	})
	if err == nil {
		err = a.across(base, func(i geo.Issue) error { r.take(i); return nil })
	}
	if err != nil {
		return err
	}
	r.settle()
	return a.reportChecked(r, c.JSON)
}

// take counts a finding, and keeps it where all are to be listed.
func (r *checked) take(i geo.Issue) {
	if i.Severity != geo.Note {
		r.doubtful[i.Record+"\x00"+i.File] = true
	}
	if i.Severity == geo.Note && r.least != geo.Note {
		return
	}
	r.counts[i.Message.Code]++
	if r.list {
		r.Issues = append(r.Issues, i)
	}
}

// settle puts the findings of one bore together, and the rules by how often they found
// something.
func (r *checked) settle() {
	r.Doubtful = len(r.doubtful)
	slices.SortStableFunc(r.Issues, func(x, y geo.Issue) int {
		return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Row, y.Row), cmp.Compare(x.Record, y.Record))
	})
	for _, rule := range check.Rules() {
		if n := r.counts[rule.Code]; n > 0 {
			r.Counts = append(r.Counts, ruleCount{rule, n})
		}
	}
	slices.SortStableFunc(r.Counts, func(x, y ruleCount) int { return cmp.Compare(y.N, x.N) })
}

func (a *app) reportChecked(r checked, asJSON bool) error {
	if asJSON {
		if err := a.print(r); err != nil {
			return err
		}
	} else {
		a.sayChecked(r)
	}
	if r.Doubtful > 0 {
		return errDoubtful
	}
	return nil
}

func (a *app) sayChecked(r checked) {
	for _, i := range r.Issues {
		fmt.Fprintf(a.out, "%s  %s  %s\n", a.whereFound(i, r.labels[i.Record]), a.severity(i.Severity), a.sentence(i.Message))
	}
	for _, rule := range r.Counts {
		fmt.Fprintf(a.out, "%7d  %-12s %s\n", rule.N, a.severity(rule.Severity), a.sentence(geo.Say(rule.Code+".name")))
	}
	a.say(geo.Say("check.summary", geo.With("total", geo.Count(r.Bores)), geo.With("n", geo.Count(r.Doubtful))))
	if len(r.Counts) > 0 && !r.list {
		a.say(geo.Say("check.list"))
	}
}

// whereFound names the bore and the row it came from, or the source alone.
func (a *app) whereFound(i geo.Issue, label string) string {
	switch {
	case i.Row > 0:
		return a.sentence(geo.Say("check.where", geo.With("bore", geo.Text(label)),
			geo.With("file", geo.Text(i.File)), geo.With("row", geo.Count(i.Row))))
	case label != "":
		return label
	}
	return i.File
}

func (a *app) severity(s geo.Severity) string { return a.sentence(geo.Say(geo.Code("severity." + s))) }

// rules lists what is looked for, and where each rule comes from.
func (a *app) rules(asJSON bool) error {
	if asJSON {
		return a.print(check.Rules())
	}
	for _, rule := range check.Rules() {
		fmt.Fprintf(a.out, "%-10s  %s: %s\n", a.severity(rule.Severity), a.sentence(geo.Say(rule.Code+".name")), a.sentence(geo.Say(rule.Source)))
	}
	return nil
}
