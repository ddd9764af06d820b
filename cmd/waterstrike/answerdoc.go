package main

import (
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
)

// columnsText says what each column of the answers means, and what its codes mean.
func (a *app) columnsText() string {
	var b strings.Builder
	fmt.Fprintln(&b, a.sentence(geo.Say("predict.form")))
	a.columnsOf(&b, "levels.csv", levelHeader(), func(column string) geo.Message {
		switch {
		case strings.HasPrefix(column, "q"):
			return quantileWord(column)
		case column == "verdict":
			return geo.Say("predict.column.verdict", geo.With("value", geo.Text(a.verdicts())))
		}
		return columnWord(column)
	})
	a.columnsOf(&b, "layers.csv", layerHeader()[:4], columnWord)
	a.columnsOf(&b, "chances.csv", chanceHeader(), columnWord)
	return b.String()
}

// quantileWord is what a column such as q05 means.
func quantileWord(column string) geo.Message {
	for i, p := range advisor.QuantileSteps() {
		if levelHeader()[len("...")+i] == column {
			return geo.Say("predict.column.quantile", geo.With("chance", geo.Chance(p)))
		}
	}
	return geo.Message{}
}

// columnWord is what a column means by its name.
func columnWord(column string) geo.Message {
	stem, _, numbered := strings.Cut(column, "_")
	switch {
	case column == "design_low_m":
		return geo.Say("predict.column.design-low")
	case column == "wet_high_m":
		return geo.Say("predict.column.wet-high")
	case column == "lo" || column == "hi":
		return geo.Say("predict.column.range")
	case numbered || knownColumn[column]:
		return geo.Say(geo.Code("predict.column." + stem))
	}
	return geo.Say("predict.column.class")
}

var knownColumn = map[string]bool{"point": true, "lon": true, "lat": true, "effective": true, "method": true, "chance": true}

// columnsOf lists the columns of one file.
func (a *app) columnsOf(b *strings.Builder, file string, columns []string, word func(string) geo.Message) {
	fmt.Fprintf(b, "\n%s\n", file)
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	for _, column := range columns {
		m := word(column)
		if m.Code == "predict.column.class" {
			column = strings.Join(layerHeader()[3:], ", ")
		}
		fmt.Fprintf(table, "  %s\t%s\n", column, a.sentence(m))
	}
	table.Flush()
}

// verdicts lists the words of the verdicts with what they say.
func (a *app) verdicts() string {
	var out []string
	for _, code := range []geo.Code{advisor.Go, advisor.WithCare, advisor.Avoid, advisor.Unsafe, advisor.NotEnough} {
		_, word, _ := strings.Cut(string(code), ".")
		out = append(out, word+" = "+a.sentence(geo.Say(code)))
	}
	return strings.Join(out, "; ")
}

// readmeOf is the file that goes with the tables: what they rest on, and their columns.
func (a *app) readmeOf(adviser *advisor.Advisor, s *evidence.Snapshot, seed uint64) string {
	about := geo.Say("predict.about", geo.With("n", geo.Count(s.Len())), geo.With("snapshot", geo.Text(adviser.ID())),
		geo.With("program", geo.Text(programVersion())), geo.With("seed", geo.Text(strconv.FormatUint(seed, 10))))
	return a.sentence(about) + "\n\n" + a.columnsText()
}
