package main

import (
	"fmt"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// collect reads the draft's account of itself. Rows without their bore that the intake
// refused already stand among the draft's issues too: only the others are counted.
func (r *imported) collect(a *app, draft *store.Draft, list bool) (err error) {
	if r.Draft, err = draft.Summary(a.ctx); err != nil {
		return err
	}
	for _, reason := range r.Read.Reasons {
		if reason.Code == intake.UnmatchedParent {
			r.Lost -= reason.N
		}
	}
	return draft.Issues(a.ctx, func(i geo.Issue) error {
		if list {
			r.Issues = append(r.Issues, i)
		}
		if i.Message.Code == intake.UnmatchedParent {
			r.Lost++
		}
		return nil
	})
}

// sayIssues prints the issues that were asked for.
func (a *app) sayIssues(issues []geo.Issue, how bringing) {
	if how.silent {
		return
	}
	for _, i := range issues {
		where := a.sentence(geo.Say("import.where", geo.With("file", geo.Text(i.File)), geo.With("row", geo.Count(i.Row))))
		fmt.Fprintf(a.out, "%s  %s  %s\n", where, a.sentence(geo.Say(geo.Code("severity."+i.Severity))), a.sentence(i.Message))
	}
}

// report prints the differences that were not said on the way, the reasons by how often
// they stand, and what became of the rows and of the records.
func (a *app) report(r imported) {
	for _, d := range r.Differences {
		a.sayDifference(d)
	}
	if r.More > 0 {
		a.say(geo.Say("import.more-differences", geo.With("n", geo.Count(r.More))))
	}
	for _, reason := range r.Read.Reasons {
		fmt.Fprintf(a.out, "%7d  %-12s %s\n", reason.N, a.sentence(geo.Say(geo.Code("severity."+reason.Severity))), a.sentence(geo.Say(reason.Code+".name")))
	}
	a.sayUnread(r.Read.Unread)
	a.sayGuesses(r.Read.Files)
	summary := geo.Code("import.summary")
	if r.Applied == nil {
		summary = "import.would"
	}
	a.say(geo.Say(summary, geo.With("total", geo.Count(r.Read.Rows)),
		geo.With("n", geo.Count(r.Read.Applied-r.Lost)), geo.With("listed", geo.Count(r.Read.Rejected+r.Lost))))
	if len(r.Read.Reasons) > 0 {
		a.say(geo.Say("import.left-out", geo.With("n", geo.Count(r.with(geo.Rejected))), geo.With("listed", geo.Count(r.with(geo.Doubt)))))
	}
	if r.Applied == nil {
		a.sayRecords("import.compared", *r.Compared)
		a.say(geo.Say("import.only-checked"))
		return
	}
	a.sayRecords("import.applied", *r.Applied)
	if r.Applied.Batch != "" {
		a.say(geo.Say("import.batch", geo.With("value", geo.Text(r.Applied.Batch))))
	}
}

// with counts the issues of a severity.
func (r imported) with(severity geo.Severity) int {
	n := 0
	for _, reason := range r.Read.Reasons {
		if reason.Severity == severity {
			n += reason.N
		}
	}
	return n
}

// sayRecords prints how the records of the files stand to those of the base.
func (a *app) sayRecords(code geo.Code, r store.Applied) {
	a.say(geo.Say(code, geo.With("added", geo.Count(r.Added)), geo.With("changed", geo.Count(r.Changed)), geo.With("same", geo.Count(r.Same))))
	for _, more := range []struct {
		code geo.Code
		n    int
	}{
		{geo.Code("import.kept"), len(r.Conflicts) - r.Hidden},
		{geo.Code("import.hidden"), r.Hidden},
		{geo.Code("import.absent"), r.Absent},
	} {
		if more.n > 0 {
			a.say(geo.Say(more.code, geo.With("n", geo.Count(more.n))))
		}
	}
}

// firstDifferences is how many are shown unless all are asked for.
const firstDifferences = 10

// telling says each difference at once where all are asked for, so that none need be
// held; else it holds the first ones.
func (a *app) telling(r *imported, how bringing) func(store.Difference) error {
	return func(d store.Difference) error {
		switch {
		case how.list && !how.silent:
			a.sayDifference(d)
		case how.list || len(r.Differences) < firstDifferences:
			r.Differences = append(r.Differences, d)
		default:
			r.More++
		}
		return nil
	}
}

func (a *app) sayDifference(d store.Difference) {
	a.say(d.Message)
	for _, f := range d.Fields {
		fmt.Fprintln(a.out, "    "+a.sentence(f))
	}
}
