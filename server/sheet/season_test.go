package sheet_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/sheet"
	"waterstrike/server/sheet/sheettest"
	"waterstrike/ui/say"
)

func chosen(t *testing.T) *season.Season {
	t.Helper()
	x, err := sheettest.Season(t.Context(), sheettest.Wishes())
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func accounted(t *testing.T) *season.Account {
	t.Helper()
	a, err := sheettest.Account(t.Context(), season.AccountAsk{
		Standard: sheettest.Standards()[0], On: geo.Date{Year: 2023, Month: 10, Day: 31}, Foretold: map[string]float64{"b1": 0.8, "b2": 0.4},
	})
	if err != nil {
		t.Fatal(err)
	}
	a.Waivers = []season.Waiver{{Bore: "b1", Analyte: "fluoride", By: "A. Diallo", Reason: "none found around"}}
	return a
}

// Every language says the whole season and the whole account, in words that it has.
func TestSeasonInEveryLanguage(t *testing.T) {
	c, x, a := catalogue(t), chosen(t), accounted(t)
	for _, l := range say.Langs() {
		for name, text := range map[string]string{"season": sheet.NewSeason(c, l, x).Text(), "account": sheet.NewServed(c, l, a).Text()} {
			if strings.Contains(text, "⟨") || strings.Contains(text, "NaN") {
				t.Errorf("%s in %s: a gap in\n%s", name, l, text)
			}
			for _, want := range []string{"Anse Étoile", map[say.Lang]string{say.EN: "Sphere 2018", say.FR: "Sphère 2018", say.PT: "Esfera 2018"}[l]} {
				if !strings.Contains(text, want) {
					t.Errorf("%s in %s: %q is missing in\n%s", name, l, want, text)
				}
			}
			for line := range strings.SplitSeq(text, "\n") {
				if n := len([]rune(line)); n > 80 {
					t.Errorf("%s in %s: %d characters: %s", name, l, n, line)
				}
			}
		}
	}
}

// A table too wide for a terminal is told row by row, and no word of it is cut.
func TestWideTablesAreStacked(t *testing.T) {
	text := sheet.NewSeason(catalogue(t), say.PT, chosen(t)).Text()
	for _, want := range []string{"\n  1. Anse", "\n    probabilidade da primeira tentativa", "\n    primeira tentativa"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, "tentativ \n") || strings.Contains(text, "tentativ  ") {
		t.Errorf("a word is cut in\n%s", text)
	}
}

// Where there is not enough evidence, and where a district has no bore at all, every language
// says so, and the village stays.
func TestSeasonSaysWhereItDoesNotKnow(t *testing.T) {
	c, x := catalogue(t), chosen(t)
	for i := range x.Villages {
		for k := range x.Villages[i].Spots {
			x.Villages[i].Spots[k].Unsure = x.Villages[i].Name == "Corde"
		}
	}
	for i := range x.Drilled {
		if x.Drilled[i].District == "East" {
			x.Drilled[i].Bores = 0
		}
	}
	for l, wants := range map[say.Lang][]string{
		say.EN: {"not enough evidence", "Not enough evidence at 1 chosen village", "No bore of the records lies in East"},
		say.FR: {"pas assez d'indices", "Pas assez d'indices pour 1 village", "Aucun forage des fiches ne se trouve dans East"},
		say.PT: {"não há dados suficientes", "Não há dados suficientes em 1 aldeia", "Nenhum furo dos registos fica em East"},
	} {
		text := strings.Join(strings.Fields(sheet.NewSeason(c, l, x).Text()), " ")
		for _, want := range append(wants, "Corde") {
			if !strings.Contains(strings.ReplaceAll(text, "’", "'"), want) {
				t.Errorf("%s: %q is missing in %s", l, want, text)
			}
		}
	}
}

// The PDF is the same twice, and bears the day of the wishes.
func TestSeasonOnPaper(t *testing.T) {
	x := chosen(t)
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if err := sheet.SeasonPDF(out, catalogue(t), say.PT, x); err != nil {
			t.Fatal(err)
		}
	}
	on := x.Wishes.On
	if day := fmt.Sprintf("/CreationDate (D:%04d%02d%02d", on.Year, on.Month, on.Day); !bytes.Equal(first.Bytes(), second.Bytes()) || !strings.Contains(first.String(), day) {
		t.Errorf("%d and %d bytes, no %s", first.Len(), second.Len(), day)
	}
}

func TestSeasonTable(t *testing.T) {
	x := chosen(t)
	var out bytes.Buffer
	if err := sheet.SeasonCSV(&out, catalogue(t), say.EN, x); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+len(x.Villages) {
		t.Fatalf("%d rows for %d villages", len(rows), len(x.Villages))
	}
	in := 0
	for _, r := range rows[1:] {
		if r[7] == "true" {
			in++
		}
		if r[len(r)-1] == "" {
			t.Errorf("%s: no reason", r[1])
		}
	}
	p := x.Programme.Picks[0]
	village := slices.IndexFunc(x.Villages, func(v season.Village) bool { return v.ID == p.Village })
	for _, tried := range []bool{true, false} {
		for k := range x.Villages[village].Spots {
			s := &x.Villages[village].Spots[k]
			s.Unsure = tried == slices.ContainsFunc(p.Tries, func(a programme.Attempt) bool { return a.Spot == s.Name })
		}
		out.Reset()
		if err := sheet.SeasonCSV(&out, catalogue(t), say.EN, x); err != nil {
			t.Fatal(err)
		}
		again, err := csv.NewReader(&out).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if got := again[1+village][slices.Index(again[0], "not_enough_evidence")]; got != strconv.FormatBool(tried) {
			t.Errorf("not enough evidence at the spots that are tried: %q, want %v", got, tried)
		}
	}
	if in == 0 || in != len(x.Programme.Picks) {
		t.Errorf("%d villages in, %d picks", in, len(x.Programme.Picks))
	}
	data, err := sheet.SeasonJSON(x)
	var back map[string]any
	if err != nil || json.Unmarshal(data, &back) != nil || back["schema"] != season.Schema {
		t.Errorf("JSON: %v, %v", err, back["schema"])
	}
}

// Every figure with records leads to their list in the same page, and nothing leads nowhere.
func TestServedFiguresLeadToTheirRecords(t *testing.T) {
	a := sheet.NewServed(catalogue(t), say.EN, accounted(t))
	there, led := map[string]int{}, 0
	for _, p := range a.Parts {
		for _, table := range p.Tables {
			if table.ID != "" {
				there["#"+table.ID] = len(table.Rows)
			}
		}
	}
	for _, p := range a.Parts {
		for _, table := range p.Tables {
			for _, row := range table.Rows {
				for _, cell := range row {
					if cell.Href == "" {
						continue
					}
					led++
					if there[cell.Href] == 0 {
						t.Errorf("%s: %q leads to %s, where nothing is", table.Heading, cell.Words, cell.Href)
					}
				}
			}
		}
	}
	if led < 10 {
		t.Errorf("%d figures lead to records", led)
	}
}

// Every chosen spot leads to its advice by the method of the attempt; in a file that stands
// alone nothing does, and both hold the map.
func TestSeasonLeadsToAdvice(t *testing.T) {
	c, x := catalogue(t), chosen(t)
	page, err := sheet.NewSeasonPage(c, say.PT, x)
	if err != nil {
		t.Fatal(err)
	}
	spots := page.Parts[0].Tables[1]
	for _, row := range spots.Rows {
		to, err := url.Parse(row[1].Href)
		if err != nil || to.Path != "/advice" || to.Query().Get("method") == "" || to.Query().Get("lang") != "pt" {
			t.Errorf("%s leads to %q", row[0].Words, row[1].Href)
		}
		if _, err := coord.ReadPair(to.Query().Get("at"), coord.LatLonOrder); err != nil {
			t.Errorf("%s: %v", row[0].Words, err)
		}
	}
	if len(spots.Rows) == 0 || len(page.Parts[1].Drawings) != 1 {
		t.Errorf("%d spots, %d maps", len(spots.Rows), len(page.Parts[1].Drawings))
	}
	var file bytes.Buffer
	if err := sheet.SeasonFile(&file, c, say.PT, x); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(file.String(), "/advice") || strings.Count(file.String(), "<svg") != 1 {
		t.Error("the file leads to a server, or has no map")
	}
}

// The file needs no other, and the same account gives the same bytes.
func TestServedFileAndPDF(t *testing.T) {
	c, a := catalogue(t), accounted(t)
	for _, l := range say.Langs() {
		var page, pdf, again bytes.Buffer
		if err := sheet.ServedFile(&page, c, l, a); err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{"<link", "src=", "⟨", "NaN"} {
			if strings.Contains(page.String(), bad) {
				t.Errorf("%s: the page holds %q", l, bad)
			}
		}
		if n := strings.Count(page.String(), "<svg"); n != 3 {
			t.Errorf("%s: %d drawings", l, n)
		}
		if err := sheet.ServedPDF(&pdf, c, l, a); err != nil {
			t.Fatal(err)
		}
		if err := sheet.ServedPDF(&again, c, l, accounted(t)); err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-1.")) || !bytes.Equal(pdf.Bytes(), again.Bytes()) {
			t.Errorf("%s: no PDF, or another one the second time", l)
		}
		// Both drawings of who has water stand beside each other, so that all has room on four sheets.
		if n := bytes.Count(pdf.Bytes(), []byte("/Type /Page\n")); n != 4 {
			t.Errorf("%s: %d sheets", l, n)
		}
	}
}

// Every standard that comes with the program has a name in every language; one of a programme's
// own keeps its code.
func TestStandardName(t *testing.T) {
	list, err := coverage.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range say.Langs() {
		for _, s := range list {
			if name := sheet.StandardName(catalogue(t), l, s.Code); name == s.Code || name == "" {
				t.Errorf("%s in %s has no name", s.Code, l)
			}
		}
		if got := sheet.StandardName(catalogue(t), l, "our-own"); got != "our-own" {
			t.Errorf("our-own in %s: %s", l, got)
		}
	}
}
