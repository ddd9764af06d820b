package coverage_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
	"waterstrike/geo/outside"
)

// table reads a file that testdata/reference/scripts/coverage.R made.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	return outside.ReadTable(t, outside.Reference(t, "coverage", name)).Rows
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// spansOf reads one set of spans.csv.
func spansOf(t testing.TB, set string) (out []coverage.Span) {
	t.Helper()
	for i, row := range table(t, "spans.csv") {
		if row["set"] == set {
			out = append(out, coverage.Span{ID: fmt.Sprint(i), Length: number(t, row["time"]), Failed: row["failed"] == "1"})
		}
	}
	return out
}

func curveOf(t testing.TB, spans []coverage.Span) *coverage.Curve {
	t.Helper()
	c, err := coverage.KaplanMeier(spans)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Remission under 6-mercaptopurine, Freireich et al. (1963): the curve and its median as
// every textbook prints them, to three places (from memory of Kalbfleisch and Prentice,
// and of Cox and Oakes).
func TestKaplanMeierTextbook(t *testing.T) {
	c := curveOf(t, spansOf(t, "6-mp"))
	for _, want := range []struct{ week, survival float64 }{
		{0, 1}, {5.9, 1}, {6, 0.857}, {7, 0.807}, {10, 0.753}, {13, 0.690}, {16, 0.627}, {22, 0.538}, {23, 0.448}, {35, 0.448},
	} {
		s, ok := c.At(want.week).Get()
		if !ok || math.Abs(s.Survival-want.survival) > 5e-4 { // three places
			t.Errorf("week %g: %.4f (%v), want %.3f", want.week, s.Survival, ok, want.survival)
		}
	}
	if m, ok := c.Median().Get(); !ok || m != 23 {
		t.Errorf("median %g, want 23 weeks", m)
	}
	if m, ok := curveOf(t, spansOf(t, "placebo")).Median().Get(); !ok || m != 8 {
		t.Errorf("median with placebo %g, want 8 weeks", m)
	}
	// Greenwood's error at ten weeks, as printed: 0.0963.
	if s, _ := c.At(10).Get(); math.Abs(s.Error.Or(0)-0.0963) > 5e-5 {
		t.Errorf("standard error at ten weeks %.5f", s.Error.Or(0))
	}
}

func TestKaplanMeierAgainstR(t *testing.T) {
	const tol = 1e-12 // 15 digits printed, products of up to 200 factors
	want := map[string][]map[string]string{}
	for _, row := range table(t, "curves.csv") {
		want[row["set"]] = append(want[row["set"]], row)
	}
	if len(want) != 3 {
		t.Fatalf("%d sets", len(want))
	}
	for set, rows := range want {
		c := curveOf(t, spansOf(t, set))
		if len(c.Steps) != len(rows) {
			t.Errorf("%s: %d steps, want %d", set, len(c.Steps), len(rows))
			continue
		}
		for i, row := range rows {
			s := c.Steps[i]
			counts := fmt.Sprintf("%g %d %d %d", s.At, s.AtRisk, s.Failed, s.Censored)
			if counts != fmt.Sprintf("%s %s %s %s", row["time"], row["at.risk"], row["failed"], row["censored"]) {
				t.Errorf("%s, step %d: %s, want %v", set, i, counts, row)
			}
			if math.Abs(s.Survival-number(t, row["survival"])) > tol {
				t.Errorf("%s at %g: survival %.15g, want %s", set, s.At, s.Survival, row["survival"])
			}
			if e, ok := s.Error.Get(); ok != (row["error"] != "") || ok && math.Abs(e-number(t, row["error"])) > tol {
				t.Errorf("%s at %g: error %.15g %v, want %s", set, s.At, e, ok, row["error"])
			}
			r, ok := s.Range.Get()
			if s.Survival < 1 && (ok != (row["lo"] != "") || ok && math.Abs(r.Lo-number(t, row["lo"]))+math.Abs(r.Hi-number(t, row["hi"])) > tol) {
				t.Errorf("%s at %g: range %v %v, want %s %s", set, s.At, r, ok, row["lo"], row["hi"])
			}
		}
	}
}

// Without censoring the curve is the plain share; it falls, stays in [0,1], and the order
// of the spans or the unit of time changes nothing.
func TestKaplanMeierLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for round := range 50 {
		spans := make([]coverage.Span, 1+rng.IntN(40))
		for i := range spans {
			spans[i] = coverage.Span{ID: fmt.Sprint(i), Length: float64(rng.IntN(12)), Failed: round%2 == 0 || rng.IntN(2) == 0}
		}
		c := curveOf(t, spans)
		last := 1.0
		for _, s := range c.Steps {
			within := s.Range.Or(coverage.Interval{Lo: s.Survival, Hi: s.Survival})
			if s.Survival > last || s.Survival < 0 || within.Lo > s.Survival || within.Hi < s.Survival || within.Lo < 0 || within.Hi > 1 {
				t.Fatalf("round %d: %+v after %g", round, s, last)
			}
			last = s.Survival
			outlast := 0
			for _, x := range spans {
				if x.Length > s.At {
					outlast++
				}
			}
			if plain := float64(outlast) / float64(len(spans)); round%2 == 0 && math.Abs(plain-s.Survival) > 1e-12 {
				t.Fatalf("round %d at %g: %g, want %g", round, s.At, s.Survival, plain)
			}
		}
		shuffled := slices.Clone(spans)
		rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		for i := range shuffled {
			shuffled[i].Length *= 4
		}
		again := curveOf(t, shuffled)
		for i := range c.Steps {
			if again.Steps[i].Survival != c.Steps[i].Survival || again.Steps[i].At != 4*c.Steps[i].At {
				t.Fatalf("round %d: %+v, want %+v", round, again.Steps[i], c.Steps[i])
			}
		}
		if !slices.Equal(c.Records(), again.Records()) || len(c.Records()) != len(spans) {
			t.Fatalf("round %d: records %v and %v", round, c.Records(), again.Records())
		}
	}
}

// What nobody watched is not known; what has all failed stays failed.
func TestCurveBeyondItsEnds(t *testing.T) {
	open := curveOf(t, []coverage.Span{{ID: "a", Length: 1, Failed: true}, {ID: "b", Length: 2}})
	shut := curveOf(t, []coverage.Span{{ID: "a", Length: 1, Failed: true}})
	for _, c := range []struct {
		name  string
		curve *coverage.Curve
		at    float64
		want  string
	}{
		{"before all", open, 0.5, "1"},
		{"at the failure", open, 1, "0.5"},
		{"at the last", open, 2, "0.5"},
		{"beyond the last", open, 2.1, "unknown"},
		{"below 0", open, -1, "unknown"},
		{"all failed", shut, 9, "0"},
	} {
		got := "unknown"
		if s, ok := c.curve.At(c.at).Get(); ok {
			got = fmt.Sprint(s.Survival)
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	if m, ok := curveOf(t, []coverage.Span{{ID: "a", Length: 3}}).Median().Get(); ok {
		t.Errorf("median %g of a thing that never failed", m)
	}
}

func TestKaplanMeierRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		spans []coverage.Span
		kind  geo.Kind
		says  string
	}{
		{"nothing", nil, geo.TooFewData, "coverage.no-spans"},
		{"negative", []coverage.Span{{ID: "w-1", Length: -1}}, geo.Invalid, "coverage.bad-span id=w-1"},
		{"no number", []coverage.Span{{ID: "w-2", Length: math.NaN()}}, geo.Invalid, "coverage.bad-span id=w-2"},
		{"endless", []coverage.Span{{ID: "w-3", Length: math.Inf(1)}}, geo.Invalid, "coverage.bad-span id=w-3"},
	} {
		_, err := coverage.KaplanMeier(c.spans)
		refused(t, c.name, err, c.kind, c.says)
	}
}

// refused checks an error's kind and what its message says.
func refused(t *testing.T, name string, err error, kind geo.Kind, says string) {
	t.Helper()
	if err == nil || geo.KindOf(err) != kind || !strings.Contains(err.Error(), says) {
		t.Errorf("%s: %v, want %v and %q", name, err, kind, says)
	}
}

func TestWilsonAgainstR(t *testing.T) {
	const tol = 1e-12 // 15 digits printed
	for _, row := range table(t, "wilson.csv") {
		got := coverage.Wilson(int(number(t, row["k"])), int(number(t, row["n"])))
		if math.Abs(got.Lo-number(t, row["lo"])) > tol || math.Abs(got.Hi-number(t, row["hi"])) > tol {
			t.Errorf("%s of %s: %v, want %s to %s", row["k"], row["n"], got, row["lo"], row["hi"])
		}
	}
	if got := coverage.Wilson(0, 0); got != (coverage.Interval{Lo: 0, Hi: 1}) {
		t.Errorf("nothing seen: %v", got)
	}
}
