package sheet

import (
	"net/url"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/say"
)

// Sheet is an advice said in one language: every string is ready to be shown.
type Sheet struct {
	Lang     string // BCP 47
	Title    string
	Asked    []string // the point, and the village where it was asked by village
	Verdict  Verdict
	Chance   Chances
	Water    Table
	Layers   Table
	Plan     Table
	Reasons  Table
	Quality  Lines
	Cautions Lines
	Evidence Table
	Source   Lines
}

// Verdict is the advice in one word and what goes with it.
type Verdict struct {
	Mark    string // which sign goes with it: "go", "care", "avoid" or "unsure"
	Words   string
	Chance  string   // of the method it speaks of; empty when there is none
	Details []string // what it means and why
}

// Chances are the methods with their chances, best first.
type Chances struct {
	Heading string
	Columns []string // method, chance, range
	Rows    []ChanceRow
	Note    string // how to read the bar
	Crew    string // what is lost to the work besides; empty where no chance is known
	Months  string // what the month of drilling does; empty where nothing is known of it
	Missing string // said in place of rows
}

// ChanceRow is one method; the bar's ends and middle are in percent of its scale.
type ChanceRow struct {
	Method, Chance, Range string
	Lo, Mid, Hi           float64
}

// Width is the length of the bar in percent of its scale.
func (r ChanceRow) Width() float64 { return r.Hi - r.Lo }

// Table is a part that lists things.
type Table struct {
	ID      string // to lead to it on a page; empty for none
	Heading string
	Columns []string
	Rows    [][]Cell
	Notes   []string // read after the rows
	Missing string   // said in place of rows
}

// Cell is one entry with the heading of its column, for narrow screens, and where more of
// it stands on the server; empty for nowhere.
type Cell struct{ Label, Words, Href string }

func (t *Table) add(words ...string) {
	row := make([]Cell, len(words))
	for i, w := range words {
		row[i] = Cell{Label: t.Columns[i], Words: w}
	}
	t.Rows = append(t.Rows, row)
}

// link leads from the first cell of the last row to where more of it stands.
func (t *Table) link(href string) { t.Rows[len(t.Rows)-1][0].Href = href }

// lead makes an entry of the last row lead somewhere.
func (t *Table) lead(column int, href string) { t.Rows[len(t.Rows)-1][column].Href = href }

// leadNowhere takes away where the entries lead.
func (t Table) leadNowhere() {
	for _, row := range t.Rows {
		for i := range row {
			row[i].Href = ""
		}
	}
}

// AdviceAt is where the advice at a place stands on the server; with a method, the plan is
// for that one.
func AdviceAt(at coord.LonLat, m geo.Method, l say.Lang) string {
	q := url.Values{"at": {plainNumber(at.Lat, 6) + " " + plainNumber(at.Lon, 6)}, "lang": {l.String()}}
	if m != "" {
		q.Set("method", string(m))
	}
	return "/advice?" + q.Encode()
}

// Lines is a part that says things.
type Lines struct {
	Heading string
	Lines   []string
}
