package main

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
)

// proposeCmd looks at files and writes a mapping for them: the mapping to the output, what
// it rests on to the error output.
type proposeCmd struct {
	Files   []string `arg:"" type:"path" help:"${flag_tables}"`
	Dataset string   `placeholder:"${takes_name}" help:"${flag_dataset}"`
	Lengths string   `placeholder:"m|ft|cm" help:"${flag_lengths}"`
	Yields  string   `placeholder:"L/s|L/min|m3/h" help:"${flag_yields}"`
	JSON    bool     `help:"${flag_json}"`
}

// proposed is what a program reads.
type proposed struct {
	Mapping intake.Mapping `json:"mapping"`
	Report  intake.Report  `json:"report"`
}

// Run proposes a mapping.
func (c *proposeCmd) Run(a *app) error {
	folder, names := c.folder()
	m, report, err := intake.Propose(a.ctx, arrival.FilesOf(folder), names)
	if err != nil && len(report.Files) == 0 {
		return err
	}
	m.Lengths, m.Yields = c.Lengths, c.Yields
	if c.Dataset != "" {
		m.Dataset, m.Name = c.Dataset, c.Dataset
	}
	if c.JSON {
		return errors.Join(a.print(proposed{m, report}), err)
	}
	a.explain(report)
	if err != nil {
		return geo.Fail(geo.Invalid, "propose", geo.Say("propose.nothing"), err)
	}
	return a.print(m)
}

// folder returns the folder that holds all files, and their names in it.
func (c *proposeCmd) folder() (string, []string) {
	folder := filepath.Dir(c.Files[0])
	for _, f := range c.Files {
		for folder != filepath.Dir(folder) && !strings.HasPrefix(f, folder+string(filepath.Separator)) {
			folder = filepath.Dir(folder)
		}
	}
	names := make([]string, len(c.Files))
	for i, f := range c.Files {
		names[i] = filepath.ToSlash(strings.TrimPrefix(strings.TrimPrefix(f, folder), string(filepath.Separator)))
	}
	return folder, names
}

// explain says what each column is taken for, what is left out, and why.
func (a *app) explain(report intake.Report) {
	taken, total := 0, 0
	for _, f := range report.Files {
		kind := "propose.no-records"
		if f.Kind != "" {
			kind = "kind." + f.Kind
		}
		a.complain(geo.Say("propose.file", geo.With("file", geo.Text(f.File)), geo.With("n", geo.Count(f.Rows)), geo.With("reason", geo.Ref(kind))))
		if publish.Own(columnsOf(f)) {
			fmt.Fprintf(a.err, "  %s\n", a.sentence(geo.Say("propose.own", geo.With("file", geo.Text(f.File)))))
		}
		for _, n := range f.Notes {
			fmt.Fprintf(a.err, "  %s\n", a.sentence(n))
		}
		for _, c := range f.Columns {
			total++
			if c.Field != "" && f.Kind != "" {
				taken++
			}
			a.explainColumn(c)
		}
	}
	a.complain(geo.Say("propose.summary", geo.With("n", geo.Count(taken)), geo.With("total", geo.Count(total))))
}

func columnsOf(f intake.ProposedFile) (out []string) {
	for _, c := range f.Columns {
		out = append(out, c.Column)
	}
	return out
}

func (a *app) explainColumn(c intake.ProposedColumn) {
	line := geo.Say("propose.left-out", geo.With("field", geo.Text(c.Column)))
	if c.Field != "" {
		line = geo.Say("propose.taken", geo.With("field", geo.Text(c.Column)), geo.With("value", geo.Text(c.Field)), geo.With("n", geo.Count(math.Round(100*c.Confidence))))
	}
	fmt.Fprintf(a.err, "    %s %s\n", a.sentence(line), a.sentence(c.Reason))
	for _, n := range c.Notes {
		fmt.Fprintf(a.err, "      %s\n", a.sentence(n))
	}
}

// sayGuesses shows what the letters of a text were taken for where it did not say.
func (a *app) sayGuesses(files []intake.FileCount) {
	for _, f := range files {
		if !f.Guessed {
			continue
		}
		a.say(geo.Say("import.encoding", geo.With("file", geo.Text(f.File)), geo.With("value", geo.Text(f.Encoding))))
		for _, line := range f.Preview {
			fmt.Fprintf(a.out, "  %s\n", line)
		}
	}
}
