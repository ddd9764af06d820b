package geo_test

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
)

// The values of the water-quality table in the trade notes: WHO, Guidelines for
// drinking-water quality, 4th edition with addenda, as quoted there (most read in a summary
// or reprint; boron, selenium, nickel, uranium and all values of acceptance from memory).
func TestLimits(t *testing.T) {
	for _, want := range []struct {
		code        string
		kind        geo.LimitKind
		low, high   float64
		provisional bool
		mark        string
	}{
		{"e-coli", geo.HealthLimit, 0, 0, false, "source"},
		{"arsenic", geo.HealthLimit, 0, 0.01, true, "source"},
		{"lead", geo.HealthLimit, 0, 0.01, true, "source"},
		{"manganese", geo.HealthLimit, 0, 0.08, true, "source"},
		{"fluoride", geo.HealthLimit, 0, 1.5, false, "source 1996; memory that it stands"},
		{"nitrate", geo.HealthLimit, 0, 50, false, "source 1996; memory that it stands"},
		{"nitrite", geo.HealthLimit, 0, 3, false, "source 1996; memory that it stands"},
		{"uranium", geo.HealthLimit, 0, 0.03, true, "memory"},
		{"cadmium", geo.HealthLimit, 0, 0.003, false, "source"},
		{"chromium", geo.HealthLimit, 0, 0.05, false, "source"},
		{"copper", geo.HealthLimit, 0, 2, false, "source"},
		{"antimony", geo.HealthLimit, 0, 0.02, false, "source"},
		{"barium", geo.HealthLimit, 0, 1.3, false, "source"},
		{"mercury", geo.HealthLimit, 0, 0.006, false, "source"},
		{"boron", geo.HealthLimit, 0, 2.4, false, "memory"},
		{"selenium", geo.HealthLimit, 0, 0.04, false, "memory"},
		{"nickel", geo.HealthLimit, 0, 0.07, false, "memory"},
		{"turbidity", geo.AcceptLimit, 0, 5, false, "memory"},
		{"tds", geo.AcceptLimit, 0, 1000, false, "memory"},
		{"ec", geo.AcceptLimit, 0, 1500, false, "memory"},
		{"iron", geo.AcceptLimit, 0, 0.3, false, "memory"},
		{"manganese", geo.AcceptLimit, 0, 0.1, false, "memory"},
		{"chloride", geo.AcceptLimit, 0, 250, false, "memory"},
		{"sodium", geo.AcceptLimit, 0, 200, false, "memory"},
		{"sulfate", geo.AcceptLimit, 0, 250, false, "memory"},
		{"zinc", geo.AcceptLimit, 0, 3, false, "memory"},
		{"ph", geo.AcceptLimit, 6.5, 8.5, false, "memory"},
		{"hydrogen-sulfide", geo.AcceptLimit, 0, 0.05, false, "memory"},
		{"ammonia", geo.AcceptLimit, 0, 1.5, false, "memory"},
		{"free-chlorine", geo.AcceptLimit, 0.2, 0.5, false, "memory"},
	} {
		a, _, ok := geo.FindAnalyte(want.code)
		at := slices.IndexFunc(a.Limits, func(l geo.Limit) bool { return l.Kind == want.kind })
		if !ok || a.Code != want.code || at < 0 {
			t.Errorf("%s has no %s limit", want.code, want.kind)
			continue
		}
		l := a.Limits[at]
		if l.High != geo.Some(want.high) || l.Low.Or(0) != want.low || l.Provisional != want.provisional || l.Mark != want.mark {
			t.Errorf("%s: %+v, want %+v", want.code, l, want)
		}
		if year, dated := l.Year.Get(); dated != (want.kind == geo.HealthLimit) || dated && (year < 2011 || year > 2022) {
			t.Errorf("%s: year %v", want.code, l.Year)
		}
	}
}

// Factors of the trade notes: NO3 from N 4.43, NO2 from N 3.28, to the digits given there.
// The rest are prefixes of the SI.
func TestAnalyteIn(t *testing.T) {
	for _, tt := range []struct {
		code, unit, basis string
		value, want, tol  float64
	}{
		{"nitrate", "mg/L", "N", 1, 4.43, 0.005},
		{"nitrite", "mg/L", "N", 1, 3.28, 0.005},
		{"nitrate", "mg/L", "NO3", 12, 12, 0},
		{"nitrate", "mg/L", "", 12, 12, 0},
		{"arsenic", "ug/L", "", 10, 0.01, 1e-15},
		{"arsenic", "µg/l", "", 10, 0.01, 1e-15},
		{"arsenic", "ppb", "", 10, 0.01, 1e-15},
		{"fluoride", "ppm", "F", 1.5, 1.5, 0},
		{"iron", "mg l-1", "", 0.3, 0.3, 0},
		{"ec", "mS/cm", "", 1.2, 1200, 1e-9},
		{"ec", "dS/m", "", 1.2, 1200, 1e-9},
		{"ec", "mS/m", "", 120, 1200, 1e-9},
		{"ec", "µS/cm", "", 640, 640, 0},
		{"e-coli", "CFU/100 mL", "", 3, 3, 0},
		{"e-coli", "cfu per 100 ml", "", 3, 3, 0},
		{"e-coli", "UFC/mL", "", 3, 300, 0},
	} {
		a, _, _ := geo.FindAnalyte(tt.code)
		got, err := a.In(tt.value, tt.unit, tt.basis)
		if err != nil || math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%v %s %s %s: %v %v, want %v", tt.value, tt.unit, tt.basis, tt.code, got, err, tt.want)
		}
	}
	iron, _, _ := geo.FindAnalyte("iron")
	for _, wrong := range [][2]string{{"uS/cm", ""}, {"", ""}, {"mg/L", "N"}} {
		if _, err := iron.In(1, wrong[0], wrong[1]); geo.KindOf(err) != geo.Invalid {
			t.Errorf("iron in %q: %v", wrong, err)
		}
	}
}

// Signs of the elements and common names; names are general usage, from memory.
func TestFindAnalyte(t *testing.T) {
	for name, want := range map[string][2]string{
		"As": {"arsenic", ""}, "Arsénio": {"arsenic", ""}, "NO3": {"nitrate", "NO3"}, "NO₃⁻": {"nitrate", ""},
		"Nitrate as N": {"nitrate", "N"}, "NO3-N": {"nitrate", "N"}, "nitrate (mg/L)": {"nitrate", ""},
		"Nitrates en N": {"nitrate", "N"}, "nitrato": {"nitrate", ""}, "E. coli": {"e-coli", ""}, "e-coli": {"e-coli", ""},
		"Fluorures": {"fluoride", ""}, "Fluoreto": {"fluoride", ""}, "Fer total": {"iron", ""}, "Ferro": {"iron", ""},
		"Conductivité électrique": {"ec", ""}, "Condutividade": {"ec", ""}, "pH": {"ph", ""}, "Turbidité": {"turbidity", ""},
		"Coliformes fécaux": {"thermotolerant-coliforms", ""}, "Dureté totale": {"hardness", ""}, "Mn": {"manganese", ""},
		"gold": {}, "": {}, "N": {}, "nitrate gold": {},
	} {
		a, basis, ok := geo.FindAnalyte(name)
		if a.Code != want[0] || ok != (want[0] != "") || want[1] != "" && basis != want[1] {
			t.Errorf("%q: %s %q, want %v", name, a.Code, basis, want)
		}
	}
}

func TestReadUnit(t *testing.T) {
	for _, tt := range []struct{ code, text, unit, basis string }{
		{"nitrate", "mg/L", "mg/L", ""},
		{"nitrate", "mg/L as N", "mg/L", "N"},
		{"nitrate", "mg/l NO3-N", "mg/L", "N"},
		{"nitrate", "mg/L (NO3)", "mg/L", "NO3"},
		{"nitrate", "mg/L en N", "mg/L", "N"},
		{"arsenic", "µg/L", "ug/L", ""},
		{"arsenic", "ppb", "ug/L", ""},
		{"ec", "µS/cm", "uS/cm", ""},
		{"ec", "mS/cm", "mS/cm", ""},
		{"e-coli", "UFC/100 ml", "CFU/100mL", ""},
		{"ph", "", "[pH]", ""},
		{"temperature", "°C", "Cel", ""},
		{"turbidity", "NTU", "NTU", ""},
	} {
		a, _, _ := geo.FindAnalyte(tt.code)
		unit, basis, ok := a.ReadUnit(tt.text)
		if !ok || unit != tt.unit || basis != tt.basis {
			t.Errorf("%s in %q: %q %q %v", tt.code, tt.text, unit, basis, ok)
		}
		if _, err := a.In(1, unit, basis); err != nil {
			t.Errorf("%s: what was read is not converted: %v", tt.code, err)
		}
	}
	for code, text := range map[string]string{"arsenic": "uS/cm", "iron": "", "nitrate": "mg/L as gold", "ec": "mg/L"} {
		a, _, _ := geo.FindAnalyte(code)
		if unit, _, ok := a.ReadUnit(text); ok {
			t.Errorf("%s in %q read as %q", code, text, unit)
		}
	}
}

func TestJudge(t *testing.T) {
	value, limit := geo.Some[float64], geo.Some[float64]
	for _, tt := range []struct {
		name   string
		sample geo.Sample
		want   geo.Verdict
		kind   geo.LimitKind
	}{
		{"at the limit", geo.Sample{Analyte: "arsenic", Unit: "ug/L", Value: value(10)}, geo.Within, geo.HealthLimit},
		{"above", geo.Sample{Analyte: "arsenic", Unit: "ug/L", Value: value(11)}, geo.Above, geo.HealthLimit},
		{"not found, fine test", geo.Sample{Analyte: "arsenic", Unit: "mg/L", DetectionLimit: limit(0.002)}, geo.Within, geo.HealthLimit},
		{"not found, coarse test", geo.Sample{Analyte: "arsenic", Unit: "mg/L", DetectionLimit: limit(0.05)}, geo.NotKnown, geo.HealthLimit},
		{"nitrate as N", geo.Sample{Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: value(12)}, geo.Above, geo.HealthLimit},
		{"nitrate as NO3", geo.Sample{Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: value(12)}, geo.Within, geo.HealthLimit},
		{"nitrate, basis not said and of no weight", geo.Sample{Analyte: "nitrate", Unit: "mg/L", Value: value(5)}, geo.Within, geo.HealthLimit},
		{"nitrate, basis not said", geo.Sample{Analyte: "nitrate", Unit: "mg/L", Value: value(20)}, geo.NotKnown, geo.HealthLimit},
		{"one colony", geo.Sample{Analyte: "e-coli", Unit: "CFU/100mL", Value: value(1)}, geo.Above, geo.HealthLimit},
		{"no colony", geo.Sample{Analyte: "e-coli", Unit: "CFU/100mL", Value: value(0)}, geo.Within, geo.HealthLimit},
		{"none in a bottle", geo.Sample{Analyte: "e-coli", Unit: "CFU/100mL", DetectionLimit: limit(1)}, geo.Within, geo.HealthLimit},
		{"none in a drop", geo.Sample{Analyte: "e-coli", Unit: "CFU/mL", DetectionLimit: limit(1)}, geo.NotKnown, geo.HealthLimit},
		{"iron stains", geo.Sample{Analyte: "iron", Unit: "mg/L", Value: value(0.4)}, geo.Above, geo.AcceptLimit},
		{"sour", geo.Sample{Analyte: "ph", Unit: "[pH]", Value: value(6)}, geo.Below, geo.AcceptLimit},
		{"chlorine not found", geo.Sample{Analyte: "free-chlorine", Unit: "mg/L", DetectionLimit: limit(0.1)}, geo.NotKnown, geo.AcceptLimit},
		{"no limit", geo.Sample{Analyte: "calcium", Unit: "mg/L", Value: value(80)}, geo.NotKnown, ""},
		{"unit of something else", geo.Sample{Analyte: "arsenic", Unit: "uS/cm", Value: value(1)}, geo.NotKnown, geo.HealthLimit},
		{"no result", geo.Sample{Analyte: "arsenic", Unit: "mg/L"}, geo.NotKnown, geo.HealthLimit},
		{"no analyte", geo.Sample{Analyte: "gold", Unit: "mg/L", Value: value(1)}, geo.NotKnown, ""},
	} {
		if got, l := geo.Judge(tt.sample); got != tt.want || l.Kind != tt.kind {
			t.Errorf("%s: %s by %q, want %s by %q", tt.name, got, l.Kind, tt.want, tt.kind)
		}
	}
	manganese := geo.Sample{Analyte: "manganese", Unit: "mg/L", Value: value(0.09)}
	if got, _ := geo.JudgeAs(geo.AcceptLimit, manganese); got != geo.Within {
		t.Errorf("manganese by taste: %s", got)
	}
}

// A name or sign must mean one analyte only: each name of the file finds its own line.
func TestAnalyteNames(t *testing.T) {
	file, err := os.Open("analytes.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows)-1 != len(geo.Analytes()) {
		t.Fatalf("%v: %d lines, %d analytes", err, len(rows)-1, len(geo.Analytes()))
	}
	names := 0
	for _, row := range rows[1:] {
		for _, cell := range row[len(row)-3:] {
			for _, name := range append(strings.Split(cell, ";"), row[0]) {
				names++
				if a, _, ok := geo.FindAnalyte(name); !ok || a.Code != row[0] {
					t.Errorf("%q of %s finds %q", name, row[0], a.Code)
				}
			}
		}
	}
	if names < 200 {
		t.Errorf("%d names", names)
	}
}

func TestAnalyteBases(t *testing.T) {
	for _, a := range geo.Analytes() {
		if _, err := a.In(1, a.Unit, a.Basis); err != nil {
			t.Errorf("%s is not in its own unit: %v", a.Code, err)
		}
		for basis, factor := range a.Bases {
			if !(factor > 0) || basis == a.Basis || a.Basis == "" {
				t.Errorf("%s: basis %s", a.Code, basis)
			}
		}
	}
}
