package sheet_test

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"waterstrike/advisor"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file of testdata, which a person has read.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run with -update if this is meant, and read it\n%s", path, got)
	}
}

func TestTextGolden(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		golden(t, "advice."+l.String()+".txt", sheet.Text(c, l, full()))
	}
	golden(t, "bare.en.txt", sheet.Text(c, say.EN, bare()))
}

func TestBuildingGolden(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		got := sheet.NewBuilding(c, l, full()).Text()
		golden(t, "building."+l.String()+".txt", got)
		if strings.Contains(got, "⟨") {
			t.Errorf("%s: a gap in a sentence", l)
		}
	}
	if got := sheet.NewBuilding(c, say.EN, bare()).Text(); !strings.Contains(got, "No plan comes with") {
		t.Errorf("without a plan: %s", got)
	}
}

// verdicts gives the full advice each verdict in turn, and the bare one.
func verdicts() []advisor.Advice {
	out := []advisor.Advice{bare()}
	for _, code := range []geo.Code{advisor.Go, advisor.WithCare, advisor.Avoid, advisor.NotEnough} {
		a := full()
		a.Verdict.Code = code
		if code == advisor.Avoid {
			a.Plan = nil
		}
		out = append(out, a)
	}
	return out
}

func TestTextFitsATerminalAndLeavesNothingUnsaid(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		for _, a := range verdicts() {
			for _, line := range strings.Split(sheet.Text(c, l, a), "\n") {
				if n := utf8.RuneCountInString(line); n > 80 {
					t.Errorf("%v: %d characters in %q", l, n, line)
				}
				if i := strings.IndexAny(line, "⟨\u00a0\u202f–−’“”\t"); i >= 0 {
					t.Errorf("%v: a gap or a character beyond plain text in %q", l, line)
				}
			}
		}
	}
}

func TestTextTellsTheVerdictFirst(t *testing.T) {
	text := sheet.Text(catalogue(t), say.EN, full())
	verdict, chance := strings.Index(text, "WORTH A TRY"), strings.Index(text, "CHANCE OF SUCCESS")
	if verdict < 0 || chance < verdict {
		t.Errorf("verdict at %d, chances at %d", verdict, chance)
	}
}

func TestMissingPartsSaySo(t *testing.T) {
	text := sheet.Text(catalogue(t), say.EN, bare())
	for _, want := range []string{"No chance can be given here", "too few bores with a water", "described log", "No plan comes with", "No known bore says"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, " 0.0 m") || strings.Contains(text, " 0%") {
		t.Errorf("something unknown is shown as nought:\n%s", text)
	}
}

func TestTextSurvivesAnyLabel(t *testing.T) {
	a := full()
	a.Evidence.Bores[0].Label = strings.Repeat("a very long name ", 12) + strings.Repeat("x", 200)
	for _, line := range strings.Split(sheet.Text(catalogue(t), say.EN, a), "\n") {
		if utf8.RuneCountInString(line) > 80 {
			t.Errorf("too wide: %q", line)
		}
	}
}

// A price list that prices nothing of a well does not make it free: what has no price is
// named, and no sum is.
func TestNothingPricedIsNotFree(t *testing.T) {
	a := full()
	missing := []geo.Message{geo.Say("cost.no-fixed", geo.With("file", geo.Text("rules/prices.json")))}
	for _, tt := range []struct {
		half, most float64
		told       bool
	}{{0, 0, false}, {310, 420, true}} {
		a.Plan.Forecast.Money = geo.Some(welldesign.MoneyShare{Currency: "XTS", Missing: missing, Enough: welldesign.Enough{P50: tt.half, P80: tt.most}})
		text := sheet.NewBuilding(catalogue(t), say.EN, a).Text()
		if strings.Contains(text, "XTS") != tt.told || !strings.Contains(text, "rules/prices.json") {
			t.Errorf("%v to %v: %s", tt.half, tt.most, text)
		}
	}
}

// The month of drilling is named where it matters and the season is known; it is not where
// every month is alike, and nothing is said of months where nobody knows which is the low
// one.
func TestMonthIsSaidWhereItIsKnown(t *testing.T) {
	c := catalogue(t)
	said := func(known bool, alike bool) string {
		a := full()
		water := *a.Water
		water.SeasonIdentified = known
		a.Water = &water
		for i := range a.Months {
			if alike {
				a.Months[i].Chance = 0.5
			}
		}
		return sheet.New(c, say.EN, a).Chance.Months
	}
	months := regexp.MustCompile(`January|February|March|April|May|June|July|August|September|October|November|December`)
	if got := said(true, false); len(months.FindAllString(got, -1)) != 2 || months.FindString(got) != "May" {
		t.Errorf("the best month, May, and the worst: %q", got)
	}
	if got := said(true, true); got == "" || months.MatchString(got) {
		t.Errorf("months alike: %q", got)
	}
	for _, alike := range []bool{false, true} {
		if got := said(false, alike); got != "" {
			t.Errorf("a season that nobody knows: %q", got)
		}
	}
}

// Litres from a hundred on are loaded in tens, rounded up; less, and what comes whole, as it
// is.
func TestLoadsAreRoundedAsTheyAreMeasured(t *testing.T) {
	c := catalogue(t)
	for _, tt := range []struct {
		item welldesign.Item
		load float64
		want string
	}{
		{welldesign.HauledWater, 471, "480 L"},
		{welldesign.HauledWater, 480, "480 L"},
		{welldesign.PackSand, 58.6, "59 L"},
		{welldesign.Sand, 0.344, "0.34 m³"},
		{welldesign.Rods, 12.46, "12.5 m"},
		{welldesign.Cement, 7, "7 bags"},
		{welldesign.Cement, 1, "1 bag"},
	} {
		a := full()
		plan := *a.Plan
		plan.Forecast.Loads = []welldesign.Load{{Item: tt.item, Unit: tt.item.Unit(), Carry: tt.load}}
		a.Plan = &plan
		for _, part := range sheet.NewBuilding(c, say.EN, a).Parts {
			if len(part.Columns) != 4 {
				continue
			}
			if got := strings.ReplaceAll(part.Rows[0][3].Words, "\u00a0", " "); got != tt.want {
				t.Errorf("%v of %s: %q, want %q", tt.load, tt.item, got, tt.want)
			}
		}
	}
}
