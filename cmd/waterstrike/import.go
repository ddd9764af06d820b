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
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// importCmd reads files by a mapping into a draft, lists what is doubtful, and applies it.
type importCmd struct {
	Mapping  string `arg:"" type:"path" help:"${flag_mapping}"`
	Files    string `arg:"" optional:"" type:"path" help:"${flag_files}"`
	Check    bool   `help:"${flag_check}"`
	List     bool   `help:"${flag_list}"`
	TakeFile bool   `help:"${flag_takefile}"`
	JSON     bool   `help:"${flag_json}"`
}

// imported is what an import reports.
type imported struct {
	Read        intake.Summary     `json:"read"`
	Draft       store.Summary      `json:"draft"`
	Applied     *store.Applied     `json:"applied,omitempty"`     // missing when only checked
	Compared    *store.Applied     `json:"compared,omitempty"`    // what would be applied, when only checked
	Differences []store.Difference `json:"differences,omitempty"` // the first ones, or all when asked for
	More        int                `json:"moreDifferences,omitempty"`
	Issues      []geo.Issue        `json:"issues,omitempty"` // when asked for
	Lost        int                `json:"unmatched"`        // rows taken as read whose bore the draft did not find
}

// Run reads, lists and applies.
func (c *importCmd) Run(a *app) error {
	from, err := c.origin(a)
	if err != nil {
		return err
	}
	how := bringing{checkOnly: c.Check, list: c.List, fileWins: c.TakeFile, silent: c.JSON}
	result, err := a.bringIn(from, how)
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
	name    string // of its draft
	dataset string // empty for what has none
	why     store.Why
	read    func(*store.Draft) (intake.Summary, error)
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
	return a.mapped(mapping, arrival.FilesOf(c.Files))
}

// mapped reads files by a mapping.
func (a *app) mapped(m intake.Mapping, files fs.FS) (origin, error) {
	known, err := a.known()
	return origin{m.Dataset, m.Dataset, store.Why{Who: m.By, Reason: m.Name}, func(draft *store.Draft) (intake.Summary, error) {
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
			geo.With("file", geo.Text(path)), geo.With("value", geo.Text(geo.Cause(err).Error()))), err)
	}
	return m, err
}

// bringIn takes records through a draft into the base. The draft is gone afterwards: only
// an applied import leaves a trace, and one that is only checked needs no data folder at
// all.
func (a *app) bringIn(from origin, how bringing) (result imported, err error) {
	path, err := a.draftPath(from.name, how.checkOnly)
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
		if how.checkOnly {
			os.Remove(filepath.Dir(path))
		}
	}()
	if result.Read, err = from.read(draft); err != nil {
		return result, err
	}
	if err = draft.Finish(); err != nil {
		return result, err
	}
	if err = result.collect(a, draft, how.list); err != nil {
		return result, err
	}
	a.sayIssues(result.Issues, how)
	with := store.How{Dataset: from.dataset, FileWins: how.fileWins, Tell: a.telling(&result, how)}
	if how.checkOnly {
		return result, result.compare(a, draft, with)
	}
	return result, result.apply(a, draft, from.why, with)
}

// bringing says what to do with what is read.
type bringing struct {
	checkOnly bool
	list      bool // each issue and each difference
	fileWins  bool // over values changed by hand since
	silent    bool // nothing is said on the way
}

// apply takes the draft into the base.
func (r *imported) apply(a *app, draft *store.Draft, why store.Why, how store.How) error {
	base, err := a.openOrCreate()
	if err != nil {
		return err
	}
	defer base.Close()
	applied, err := base.Apply(a.ctx, draft, why, how)
	r.Applied = &applied
	return err
}

// compare tells what applying the draft would do; without a base all of it is new.
func (r *imported) compare(a *app, draft *store.Draft, how store.How) error {
	r.Compared = &store.Applied{}
	base, err := a.openToRead()
	if geo.KindOf(err) == geo.NotFound {
		for _, n := range r.Draft.Records {
			r.Compared.Added += n
		}
		return nil
	}
	if err != nil {
		return err
	}
	defer base.Close()
	*r.Compared, err = base.Compare(a.ctx, draft, how)
	return err
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
	name := fmt.Sprintf("%s-%d-%s", time.Now().Format("20060102-150405.000"), os.Getpid(), safeName(of))
	if checkOnly {
		dir, err := os.MkdirTemp("", "waterstrike-check-")
		return filepath.Join(dir, name+".db"), err
	}
	path := a.folder.Draft(name)
	if err := a.folder.Make(); err != nil {
		return path, err
	}
	probe, err := os.Create(path) // the database would not say why it cannot
	if err != nil {
		return path, err
	}
	return path, errors.Join(probe.Close(), os.Remove(path), a.folder.SweepDrafts(time.Now()))
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
