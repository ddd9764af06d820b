package intake_test

import (
	"math"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

func TestReadNumber(t *testing.T) {
	tests := []struct {
		text, decimal string
		want          float64
		unit          string
		ok            bool
	}{
		{"12", ".", 12, "", true},
		{" 12.5 ", ".", 12.5, "", true},
		{"-3.2", ".", -3.2, "", true},
		{"−3.2", ".", -3.2, "", true},
		{"+0.5", ".", 0.5, "", true},
		{".5", ".", 0.5, "", true},
		{"12,5", ",", 12.5, "", true},
		{"1 234,5", ",", 1234.5, "", true},
		{"1 234", ".", 1234, "", true},
		{"1\u00a0234.5 m", ".", 1234.5, "m", true},
		{"40ft", ".", 40, "ft", true},
		{"3,6 m3/h", ",", 3.6, "m3/h", true},
		{"0", ".", 0, "", true},
		{"12,5", ".", 0, "", false},    // 12.5 or 125?
		{"1,250.5", ".", 0, "", false}, // thousands by comma are not read
		{"12.5", ",", 0, "", false},
		{"25.39?", ".", 0, "", false},
		{"8,5*", ",", 0, "", false},
		{"1 to 5", ".", 0, "", false},
		{"`+0.50", ".", 0, "", false},
		{"10-12", ".", 0, "", false},
		{"<0.01", ".", 0, "", false},
		{"1e3", ".", 1, "e3", true}, // the unit reader refuses it
		{"NaN", ".", 0, "", false},
		{"Inf", ".", 0, "", false},
		{"-", ".", 0, "", false},
		{".", ".", 0, "", false},
		{"", ".", 0, "", false},
		{"Artesian", ".", 0, "", false},
	}
	for _, tt := range tests {
		got, unit, ok := intake.ReadNumber(tt.text, tt.decimal)
		if got != tt.want || unit != tt.unit || ok != tt.ok {
			t.Errorf("%q with %q: %v %q %v, want %v %q %v", tt.text, tt.decimal, got, unit, ok, tt.want, tt.unit, tt.ok)
		}
	}
}

// Sizes of units: NIST SP 811 (2008), appendix B.8: foot 3.048 E-01 m, inch 2.54 E-02 m,
// gallon (US) per minute 6.309020 E-05 m3/s, gallon (imperial) 4.54609 E-03 m3.
func TestUnits(t *testing.T) {
	const tol = 1e-8 // the source gives seven figures of values near 0.1
	for unit, want := range map[string]float64{
		"m": 1, "M": 1, "metres": 1, "mètres": 1, "metros": 1, "ft": 0.3048, "feet": 0.3048, "'": 0.3048, "pieds": 0.3048,
		"pés": 0.3048, "in": 0.0254, "inches": 0.0254, `"`: 0.0254, "cm": 0.01, "mm": 0.001, "furlong": 0,
	} {
		if got := intake.LengthM(unit); math.Abs(got-want) > tol {
			t.Errorf("%s: %v m, want %v", unit, got, want)
		}
	}
	for unit, want := range map[string]float64{
		"L/s": 1, "l / s": 1, "L/min": 1.0 / 60, "m3/h": 1 / 3.6, "m³/h": 1 / 3.6, "M3/HR": 1 / 3.6,
		"gpm": 0.06309020, "igpm": 4.54609 / 60, "L/h": 1.0 / 3600, "buckets": 0,
	} {
		if got := intake.RateLPS(unit); math.Abs(got-want) > tol {
			t.Errorf("%s: %v L/s, want %v", unit, got, want)
		}
	}
}

func TestReadDate(t *testing.T) {
	tests := []struct {
		text string
		as   intake.Field
		want string
	}{
		{"2004-03-21", intake.Field{}, "2004-03-21"},
		{"2004-03", intake.Field{}, "2004-03"},
		{"1951-01-01T00:00:00", intake.Field{}, "1951-01-01"},
		{"1951-01-01T00:00:00", intake.Field{JanuaryFirst: "year"}, "1951"},
		{"2021-02-30", intake.Field{}, ""},
		{"0001-01-01", intake.Field{}, ""},
		{"21/3/2004", intake.Field{Dates: []string{"dmy"}}, "2004-03-21"},
		{"2.5.1998", intake.Field{Dates: []string{"dmy"}}, "1998-05-02"},
		{"3/21/2004", intake.Field{Dates: []string{"mdy"}}, "2004-03-21"},
		{"3/21/2004", intake.Field{Dates: []string{"dmy"}}, ""},
		{"3/4/2004", intake.Field{Dates: []string{"dmy", "mdy"}}, ""}, // two readings
		{"4/4/2004", intake.Field{Dates: []string{"dmy", "mdy"}}, "2004-04-04"},
		{"2004/3/21", intake.Field{Dates: []string{"ymd"}}, "2004-03-21"},
		{"20/10/99", intake.Field{Dates: []string{"dmy"}}, ""}, // which century?
		{"20/10/99", intake.Field{Dates: []string{"dmy"}, YearsFrom: 1950}, "1999-10-20"},
		{"20/10/04", intake.Field{Dates: []string{"dmy"}, YearsFrom: 1950}, "2004-10-20"},
		{"21/3-2004", intake.Field{Dates: []string{"dmy"}}, ""},
		{"1998", intake.Field{Dates: []string{"year"}}, "1998"},
		{"98", intake.Field{Dates: []string{"year"}}, ""},
		{"March 25/2007", intake.Field{Dates: []string{"month"}}, "2007-03-25"},
		{"July 10 ,2005", intake.Field{Dates: []string{"month"}}, "2005-07-10"},
		{"August, 2005", intake.Field{Dates: []string{"month"}}, "2005-08"},
		{"January 1996", intake.Field{Dates: []string{"month"}}, "1996-01"},
		{"12 février 2010", intake.Field{Dates: []string{"month"}}, "2010-02-12"},
		{"3 de dezembro de 2011", intake.Field{Dates: []string{"month"}}, "2011-12-03"},
		{"September 23/01/2005", intake.Field{Dates: []string{"month", "dmy"}}, ""},
		{"2007-2008?", intake.Field{Dates: []string{"iso", "year", "dmy"}}, ""},
		{"", intake.Field{}, ""},
	}
	for _, tt := range tests {
		got, ok := intake.ReadDate(tt.text, tt.as)
		if got != tt.want || ok != (tt.want != "") {
			t.Errorf("%q as %v: %q %v, want %q", tt.text, tt.as.Dates, got, ok, tt.want)
		}
	}
}

// ECMA-376 part 1, 18.17.4.1, gives serial 39448 for 1 January 2008 in the 1900 system;
// the first days count a 29 February 1900 that never was and are refused.
func TestReadSerial(t *testing.T) {
	as := intake.Field{Dates: []string{"serial"}}
	for text, want := range map[string]string{
		"39448": "2008-01-01", "39448.75": "2008-01-01", "61": "1900-03-01", "60": "", "0": "", "-5": "", "9999999": "", "NaN": "",
	} {
		if got, _ := intake.ReadDate(text, as); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

func TestReadMonths(t *testing.T) {
	for text, want := range map[string]geo.MonthSet{
		"Feb, Mar":           geo.Months(time.February, time.March),
		"fevereiro; março":   geo.Months(time.February, time.March),
		"décembre / janvier": geo.Months(time.January, time.December),
		"2 3 4":              geo.Months(time.February, time.March, time.April),
		"never":              0,

		"dry in March":            geo.Months(time.March),
		"Dry in March and April.": geo.Months(time.March, time.April),
		"never dry":               0,
		"ne tarit jamais":         0,
		"nunca seca":              0,
		"March to May":            geo.Months(time.March, time.April, time.May),
		"de mars à mai":           geo.Months(time.March, time.April, time.May),
		"março a maio":            geo.Months(time.March, time.April, time.May),
		"Nov-Feb":                 geo.Months(time.November, time.December, time.January, time.February),
		"seco em set.":            geo.Months(time.September),
		"à sec en août":           geo.Months(time.August),
		"09, 10, 11":              geo.Months(time.September, time.October, time.November),
		"all year":                0xFFF,
		"toute l'année":           0xFFF,
		"todo o ano":              0xFFF,
	} {
		if got, ok := intake.ReadMonths(text); got != want || !ok {
			t.Errorf("%q: %v %v, want %v", text, got.List(), ok, want.List())
		}
	}
	for _, text := range []string{"", "13", "harvest", "1.5", "1.1", "3 months", "out of order in 3 of them", "March to", "never in March", "not before March", "dry"} {
		if got, ok := intake.ReadMonths(text); ok {
			t.Errorf("%q was read as %v", text, got.List())
		}
	}
}

func TestCutPart(t *testing.T) {
	const cell = "See report; Drilling Started : 2.5.1998; Screen position (depth m) : 88 - 94,  105 - 111\nDWL ( m ) : 94,16"
	for name, want := range map[string]string{
		"Drilling Started": "2.5.1998", "screen position (depth m)": "88 - 94,  105 - 111", "DWL ( m )": "94,16",
		"Started": "", "See report": "", "Pump": "",
	} {
		if got := intake.CutPart(cell, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

func TestSplitList(t *testing.T) {
	for text, want := range map[string][]string{
		"16,63,70": {"16", "63", "70"},
		"42,75":    {"42,75"}, // may be one number
		"12; 23.5": {"12", "23.5"},
		"12, 23":   {"12", "23"},
		"12 & 23":  {"12", "23"},
	} {
		if got := intake.SplitList(text, "."); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestReadIntervals(t *testing.T) {
	for text, want := range map[string][][2]float64{
		"88 - 94,  105 - 111":      {{88, 94}, {105, 111}},
		"44 - 47,71 - 74":          {{44, 47}, {71, 74}},
		"24.72 - 38.87, 58.68–67":  {{24.72, 38.87}, {58.68, 67}},
		"88 - 94 approx":           nil,
		"88":                       nil,
		"88 - 94,16 - 100,5 - 101": {{88, 94}, {16, 100}, {5, 101}},
	} {
		got, ok := intake.ReadIntervals(text, ".")
		if !slices.Equal(got, want) || ok != (want != nil) {
			t.Errorf("%q: %v %v, want %v", text, got, ok, want)
		}
	}
}

func FuzzCells(f *testing.F) {
	for _, s := range []string{"12.5 m", "1 234,5", "−3", "20/10/99", "March 25/2007", "88 - 94, 1-2", "Feb; 3", "a : b; c : d", "İ : 3"} {
		f.Add(s)
	}
	forms := intake.Field{Dates: []string{"iso", "dmy", "mdy", "ymd", "year", "month", "serial"}, YearsFrom: 1950}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<10 {
			return // longer than any cell
		}
		for _, decimal := range []string{".", ","} {
			if v, _, ok := intake.ReadNumber(text, decimal); ok && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("%q: %v", text, v)
			}
			if list, ok := intake.ReadIntervals(text, decimal); ok != (len(list) > 0) {
				t.Errorf("%q: %v %v", text, list, ok)
			}
			intake.SplitList(text, decimal)
		}
		if iso, ok := intake.ReadDate(text, forms); ok {
			if _, err := geo.ParseDate(iso); err != nil {
				t.Errorf("%q: %q: %v", text, iso, err)
			}
		}
		intake.ReadMonths(text)
		intake.CutPart(text, "c")
	})
}

// People in groups of three, as three languages write them: nobody counts thousandths of
// people, so that no mark there is a decimal one.
func TestCountsInGroups(t *testing.T) {
	m := mapping(t, filepath.Join(defectsDir, "villages.json"))
	m.Tables[0].File = "v.csv"
	text := "Village,Lon,Lat,People\nA,0.5,0.5,\"1,200\"\nB,0.5,0.6,1.200\nC,0.5,0.7,1 200\nD,0.5,0.8,12’345\nE,0.5,0.9,0\n"
	var bag intake.Memory
	if _, err := intake.Read(t.Context(), m, fstest.MapFS{"v.csv": {Data: []byte(text)}}, &bag, nil); err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, v := range bag.Villages {
		got = append(got, v.People.Or(-1))
	}
	if !slices.Equal(got, []int{1200, 1200, 1200, 12345, 0}) || len(bag.Issues) != 0 {
		t.Errorf("%v, %v", got, bag.Issues)
	}
}
