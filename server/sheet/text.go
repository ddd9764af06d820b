package sheet

import (
	"strings"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/ui/say"
)

// textWidth is the width of a terminal page in characters.
const textWidth = 78

// Text says an advice as one page for a terminal: at most 80 characters wide, without
// any character that a plain terminal font lacks.
func Text(c *say.Catalogue, l say.Lang, a advisor.Advice) string { return New(c, l, a).Text() }

// Text lays the sheet out for a terminal, the verdict first.
func (s Sheet) Text() string {
	var p page
	p.heading(s.Title)
	p.lines(s.Asked)
	p.heading(s.Verdict.Words)
	if s.Verdict.Chance != "" {
		p.lines([]string{s.Verdict.Chance})
	}
	p.lines(s.Verdict.Details)
	p.chances(s.Chance)
	for _, t := range []Table{s.Water, s.Layers, s.Plan, s.Reasons} {
		p.table(t)
	}
	p.table(s.Evidence)
	p.heading(s.Quality.Heading)
	p.lines(s.Quality.Lines)
	p.heading(s.Cautions.Heading)
	p.lines(s.Cautions.Lines)
	p.heading(s.Source.Heading)
	p.lines(s.Source.Lines)
	return p.String()
}

// page is a text of wrapped lines. Words that must stand together are kept by the
// unbreakable blanks of the catalogue until the page is read out.
type page struct{ b strings.Builder }

func (p *page) heading(words string) {
	if p.b.Len() > 0 {
		p.b.WriteByte('\n')
	}
	for _, line := range wrap(strings.ToUpper(words), textWidth) {
		p.b.WriteString(line + "\n")
	}
}

// lines writes each entry behind a hyphen, its next lines set in.
func (p *page) lines(entries []string) {
	for _, entry := range entries {
		mark := "- "
		for _, line := range wrap(entry, textWidth-2) {
			p.b.WriteString(mark + line + "\n")
			mark = "  "
		}
	}
}

func (p *page) table(t Table) {
	p.heading(t.Heading)
	if t.Missing != "" {
		p.lines([]string{t.Missing})
	}
	if len(t.Rows) > 0 {
		rows := [][]string{t.Columns}
		for _, row := range t.Rows {
			words := make([]string, len(row))
			for i, cell := range row {
				words[i] = cell.Words
			}
			rows = append(rows, words)
		}
		if cutsWords(rows, textWidth-2) {
			p.stacked(rows)
		} else {
			p.grid(rows)
		}
	}
	p.lines(t.Notes)
}

// stacked writes a table that is too wide for its columns row by row: what the row is of,
// and below it each other cell beside the head of its column.
func (p *page) stacked(rows [][]string) {
	for _, row := range rows[1:] {
		var cells [][]string
		for i, words := range row[1:] {
			if words != "" {
				cells = append(cells, []string{"\u00a0\u00a0" + rows[0][i+1], words}) // blanks that stay
			}
		}
		for _, line := range wrap(row[0], textWidth-2) {
			p.b.WriteString("  " + line + "\n")
		}
		if len(cells) > 0 {
			p.grid(cells)
		}
	}
}

func (p *page) chances(c Chances) {
	p.heading(c.Heading)
	if c.Missing != "" {
		p.lines([]string{c.Missing})
		return
	}
	rows := [][]string{append([]string{}, c.Columns...)}
	rows[0] = append(rows[0], "")
	for _, r := range c.Rows {
		rows = append(rows, []string{r.Method, r.Chance, r.Range, bar(r)})
	}
	p.grid(rows)
	p.lines([]string{c.Note})
	for _, line := range []string{c.Months, c.Crew} {
		if line != "" {
			p.lines([]string{line})
		}
	}
}

// bar draws a chance on a scale of 25 characters: 4 % each.
func bar(r ChanceRow) string {
	const cells = 25
	at := func(percent float64) int { return min(int(percent/100*cells), cells-1) }
	out := []byte(strings.Repeat(".", cells))
	for i := at(r.Lo); i <= at(r.Hi); i++ {
		out[i] = '='
	}
	out[at(r.Mid)] = 'O'
	return "|" + string(out) + "|"
}

// plain replaces the characters that a terminal font may lack.
var plain = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2013", "-", "\u2212", "-", "\u2019", "'",
	"\u201c", `"`, "\u201d", `"`, joiner, "",
)

// String returns the page.
func (p *page) String() string { return plain.Replace(p.b.String()) }

// joiner keeps a range on one line and takes no room.
const joiner = "\u2060"

func width(s string) int { return utf8.RuneCountInString(s) - strings.Count(s, joiner) }
