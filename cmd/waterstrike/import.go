package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// importCmd reads files by a mapping into a draft, lists what is doubtful, and applies it.
type importCmd struct {
	Mapping string `arg:"" type:"path" help:"${flag_mapping}"`
	Files   string `arg:"" optional:"" type:"path" help:"${flag_files}"`
	Check   bool   `help:"${flag_check}"`
	List    bool   `help:"${flag_list}"`
	JSON    bool   `help:"${flag_json}"`
}

// imported is what an import reports.
type imported struct {
	Read    intake.Summary `json:"read"`
	Draft   store.Summary  `json:"draft"`
	Applied *store.Applied `json:"applied,omitempty"` // missing when only checked
	Issues  []geo.Issue    `json:"issues,omitempty"`  // when asked for
	Lost    int            `json:"unmatched"`         // rows taken as read whose bore the draft did not find
}

// Run reads, lists and applies.
func (c *importCmd) Run(a *app) error {
	from, err := c.origin(a)
	if err != nil {
		return err
	}
	result, err := a.bringIn(from, c.Check, c.List)
	if err != nil {
		return err
	}
	if c.JSON {
		return a.print(result)
	}
	a.report(result)
	return nil
}

// origin is where an import comes from.
type origin struct {
	name string // of its draft
	why  store.Why
	read func(*store.Draft) (intake.Summary, error)
}

// origin tells a mapping from what this program exported itself.
func (c *importCmd) origin(a *app) (origin, error) {
	if own(c.Mapping) {
		return a.ownExport(c.Mapping), nil
	}
	mapping, err := readMapping(c.Mapping)
	if err != nil {
		return origin{}, err
	}
	if c.Files == "" {
		c.Files = filepath.Dir(c.Mapping)
	}
	return a.mapped(mapping, newLocalFiles(c.Files))
}

// mapped reads files by a mapping.
func (a *app) mapped(m intake.Mapping, files fs.FS) (origin, error) {
	known, err := a.known()
	return origin{m.Dataset, store.Why{Who: m.By, Reason: m.Name}, func(draft *store.Draft) (intake.Summary, error) {
		return intake.ReadWith(a.ctx, known, m, files, draft, a.progress())
	}}, err
}

// readMapping reads and checks a mapping file.
func readMapping(path string) (intake.Mapping, error) {
	file, err := os.Open(path)
	if err != nil {
		return intake.Mapping{}, err
	}
	defer file.Close()
	m, err := intake.LoadMapping(file)
	if err != nil {
		err = geo.Fail(geo.Invalid, "import", geo.Say("import.bad-mapping",
			geo.With("file", geo.Text(path)), geo.With("value", geo.Text(cause(err)))), err)
	}
	return m, err
}

// cause is what the innermost error says: the part that names the wrong key.
func cause(err error) string {
	for inner := errors.Unwrap(err); inner != nil; inner = errors.Unwrap(err) {
		err = inner
	}
	return err.Error()
}

// bringIn takes records through a draft into the base. The draft is gone afterwards: only
// an applied import leaves a trace, and one that is only checked needs no data folder at
// all.
func (a *app) bringIn(from origin, checkOnly, list bool) (result imported, err error) {
	path, err := a.draftPath(from.name, checkOnly)
	if err != nil {
		return result, err
	}
	draft, err := store.NewDraft(a.ctx, path)
	if err != nil {
		return result, err
	}
	defer func() {
		draft.Close()
		os.Remove(path)
		if checkOnly {
			os.Remove(filepath.Dir(path))
		}
	}()
	if result.Read, err = from.read(draft); err != nil {
		return result, err
	}
	if err = draft.Finish(); err != nil {
		return result, err
	}
	if err = result.collect(a, draft, list); err != nil || checkOnly {
		return result, err
	}
	base, err := a.openOrCreate()
	if err != nil {
		return result, err
	}
	defer base.Close()
	applied, err := base.Apply(a.ctx, draft, from.why, nil)
	result.Applied = &applied
	return result, err
}

// known is what the office knows before it reads: its words, and the villages of its base
// where it has one.
func (a *app) known() (k intake.Known, err error) {
	if k.Words, err = a.soilWords(); err != nil {
		return k, err
	}
	base, err := a.openToRead()
	if geo.KindOf(err) == geo.NotFound {
		return k, nil
	}
	if err != nil {
		return k, err
	}
	defer base.Close()
	return k, base.Villages(a.ctx, func(v geo.Village) error {
		k.Villages = append(k.Villages, v)
		return nil
	})
}

// draftPath returns where the draft of an import is written, rid of what killed imports left.
func (a *app) draftPath(of string, checkOnly bool) (string, error) {
	name := time.Now().Format("20060102-150405.000") + "-" + safeName(of)
	if checkOnly {
		dir, err := os.MkdirTemp("", "waterstrike-check-")
		return filepath.Join(dir, name+".db"), err
	}
	return a.folder.Draft(name), errors.Join(a.folder.Make(), a.folder.SweepDrafts(time.Now()))
}

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

// report prints what was asked to be listed, the reasons by how often they stand, and
// what became of the rows.
func (a *app) report(r imported) {
	for _, i := range r.Issues {
		where := a.sentence(geo.Say("import.where", geo.With("file", geo.Text(i.File)), geo.With("row", geo.Count(i.Row))))
		fmt.Fprintf(a.out, "%s  %s  %s\n", where, a.sentence(geo.Say(geo.Code("severity."+i.Severity))), a.sentence(i.Message))
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
		a.say(geo.Say("import.only-checked"))
		return
	}
	a.say(geo.Say("import.applied", geo.With("added", geo.Count(r.Applied.Added)),
		geo.With("changed", geo.Count(r.Applied.Changed)), geo.With("same", geo.Count(r.Applied.Same))))
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

// progress writes the count of rows to the error output once a second: a person sees it,
// and a program that reads the output does not.
func (a *app) progress() intake.Progress {
	last := time.Now()
	return func(file string, rows int) {
		if time.Since(last) < time.Second {
			return
		}
		last = time.Now()
		a.complain(geo.Say("import.progress", geo.With("file", geo.Text(filepath.Base(file))), geo.With("n", geo.Count(rows))))
	}
}

// safeName keeps the letters of a data set's name that are safe in a file name.
func safeName(name string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '-'
	}, name)
}
