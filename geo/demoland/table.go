package demoland

import (
	"encoding/csv"
	"math/rand/v2"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// File is one file as an office would hand it over.
type File struct {
	Name string
	Data []byte
}

// Defect is one thing that is wrong in a file, on purpose.
type Defect struct {
	File string
	Row  int    // 1 = first data row
	Kind string // such as "coordinates-swapped"; the README among the files lists all
	Bore geo.BoreID
}

// Mess is the honest mess: the records as three offices keep them, and what is wrong.
type Mess struct {
	Files   []File
	Defects []Defect
}

// The kinds of defect.
const (
	Swapped       = "coordinates-swapped"
	SignLost      = "sign-lost"
	ZoneMissing   = "zone-missing"
	BottomMissing = "bottom-missing"
	Duplicate     = "duplicate-row"
	Misspelt      = "word-misspelt"
	LevelAbsent   = "level-not-measured"
	LevelZero     = "level-zero-for-missing"
	YieldUnit     = "yield-in-another-unit"
	DateSerial    = "date-as-serial-number"
	DateMissing   = "date-missing"
	DateYear      = "date-year-only"
)

// Tables writes the records as the offices keep them: each in its own language, with its
// own coordinates, units, marks for what is missing, and mistakes.
func (l *Land) Tables(records Records) Mess {
	m := &mess{r: stream(l.seed, "mess"), bores: records.Bores}
	m.englishTables()
	m.frenchTables()
	m.portugueseTables()
	m.villageTable(records.Villages)
	m.pointTable(records.Points)
	m.shapes(records)
	m.readme(records.Boundary.Name)
	return m.Mess
}

// mess is a set of files in the making.
type mess struct {
	Mess
	r     *rand.Rand
	bores []geo.Bore
}

// chance reports whether something that goes wrong that often does.
func (m *mess) chance(share float64) bool { return m.r.Float64() < share }

func (m *mess) wrong(t *sheet, kind string, id geo.BoreID) {
	m.Defects = append(m.Defects, Defect{File: t.name, Row: len(t.rows) + 1, Kind: kind, Bore: id})
}

// of lists the bores of one office.
func (m *mess) of(o Office) []*geo.Bore {
	var out []*geo.Bore
	for i := range m.bores {
		if m.bores[i].Source.By == o.Name {
			out = append(out, &m.bores[i])
		}
	}
	return out
}

// sheet is one table in the making.
type sheet struct {
	name   string
	comma  rune
	header []string
	rows   [][]string
}

func (t *sheet) add(cells ...string) { t.rows = append(t.rows, cells) }

func (m *mess) write(t *sheet) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = t.comma
	w.UseCRLF = t.comma == ';' // as spreadsheets of that setting write
	_ = w.Write(t.header)      // a strings.Builder does not fail
	_ = w.WriteAll(t.rows)
	m.Files = append(m.Files, File{Name: t.name, Data: []byte(b.String())})
}

func number(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

// comma writes a number with a decimal comma.
func comma(x float64, decimals int) string { return strings.Replace(number(x, decimals), ".", ",", 1) }

// misspell swaps or drops a letter of a word of some length.
func (m *mess) misspell(words string) string {
	letters := []rune(words)
	if len(letters) < 5 {
		return words
	}
	i := 1 + m.r.IntN(len(letters)-3)
	if m.chance(0.5) {
		letters[i], letters[i+1] = letters[i+1], letters[i]
		return string(letters)
	}
	return string(append(letters[:i:i], letters[i+1:]...))
}

// layerRows writes the layers of a bore into a joined table: some words misspelt, some
// last bottoms left out, some rows written twice.
func (m *mess) layerRows(t *sheet, b *geo.Bore, depth func(float64) string, missing string) {
	for i, l := range b.Layers {
		words, base := l.Words, depth(l.BaseM)
		if m.chance(0.05) {
			if wrong := m.misspell(words); wrong != words {
				words = wrong
				m.wrong(t, Misspelt, b.ID)
			}
		}
		if i == len(b.Layers)-1 && m.chance(0.06) {
			base = missing
			m.wrong(t, BottomMissing, b.ID)
		}
		t.add(b.Code, depth(l.TopM), base, words)
		if m.chance(0.008) {
			m.wrong(t, Duplicate, b.ID)
			t.add(b.Code, depth(l.TopM), base, words)
		}
	}
}

// reading is a bore's first level: rest or flowing.
func reading(b *geo.Bore) (state geo.LevelState, depthM float64, ok bool) {
	if len(b.Levels) == 0 {
		return "", 0, false
	}
	return b.Levels[0].State, b.Levels[0].DepthM.Or(0), true
}
