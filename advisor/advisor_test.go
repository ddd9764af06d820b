package advisor_test

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"github.com/google/go-cmp/cmp"
)

func TestValleyAndUpland(t *testing.T) {
	a := newAdvisor(t, region(t, 200))
	west, east := advise(t, a, 0.1, 0.2), advise(t, a, 0.33, 0.2)
	if west.Verdict.Code != advisor.Go {
		t.Errorf("the valley's verdict is %s (%+v), want to go", west.Verdict.Code, west.Methods[0])
	}
	if east.Verdict.Code == advisor.Go || east.Methods[0].Chance > 0.3 {
		t.Errorf("the upland's verdict is %s with a chance of %.2f", east.Verdict.Code, east.Methods[0].Chance)
	}
	if got := west.Water.NormalLow.P50; got < 3 || got > 7 {
		t.Errorf("valley low %.1f m, want near 4 plus half the season", got)
	}
	for _, l := range west.Layers {
		if l.TopM <= 8 && 8 < l.BaseM && l.Class != soil.Sand {
			t.Errorf("the valley at 8 m is %v", l)
		}
	}
	if east.Plan != nil || west.Plan == nil {
		t.Errorf("plans: valley %v, upland %v", west.Plan, east.Plan)
	}
}

func TestReasonsAndChanceAddUp(t *testing.T) {
	a := newAdvisor(t, region(t, 120))
	for _, lon := range []float64{0.05, 0.2, 0.35, 3} {
		for _, m := range advise(t, a, lon, 0.2).Methods {
			sum := m.Chance
			for _, r := range m.Reasons {
				sum += r.Share
			}
			if math.Abs(sum-1) > 1e-9 { // rounding over 50,000 sums
				t.Errorf("lon %v, %s: chance and reasons add up to %v", lon, m.Method, sum)
			}
			if !(m.Lo <= m.Chance+1e-9 && m.Chance <= m.Hi+1e-9) {
				t.Errorf("lon %v, %s: chance %.2f outside its range %.2f-%.2f", lon, m.Method, m.Chance, m.Lo, m.Hi)
			}
		}
	}
}

func TestFarFromBoresIsNotEnough(t *testing.T) {
	a := newAdvisor(t, region(t, 120))
	out := advise(t, a, 8, 3)
	if out.Verdict.Code != advisor.NotEnough {
		t.Errorf("900 km away the verdict is %s", out.Verdict.Code)
	}
	if out.Plan != nil {
		t.Error("900 km away there is a plan")
	}
	if len(out.Verdict.Because) < 2 || out.Verdict.Because[0].Code != "evidence.very-far" || out.Verdict.Because[1].Code != "evidence.far" {
		t.Errorf("900 km away the verdict says why: %v", out.Verdict.Because)
	}
}

func TestWithoutLevelsOrLayers(t *testing.T) {
	noLevels, noLayers := region(t, 80), region(t, 80)
	for i := range noLevels.bores {
		noLevels.bores[i].Levels = nil
		noLayers.bores[i].Layers = nil
	}
	out := advise(t, newAdvisor(t, noLevels), 0.1, 0.2)
	if out.Water != nil || out.Layers == nil || out.Verdict.Code != advisor.NotEnough || len(out.Methods) != 0 {
		t.Errorf("without levels: water %v, %d layers, verdict %s", out.Water, len(out.Layers), out.Verdict.Code)
	}
	out = advise(t, newAdvisor(t, noLayers), 0.1, 0.2)
	if out.Water == nil || out.Layers != nil || out.Verdict.Code != advisor.NotEnough {
		t.Errorf("without layers: water %v, layers %v, verdict %s", out.Water, out.Layers, out.Verdict.Code)
	}
}

func TestNoBores(t *testing.T) {
	a := newAdvisor(t, &memory{})
	_, err := a.Advise(context.Background(), advisor.Question{})
	if geo.KindOf(err) != geo.NotFound {
		t.Errorf("error %v, want not found", err)
	}
}

func TestImpossiblePositionsAreRefused(t *testing.T) {
	a := newAdvisor(t, region(t, 20))
	for _, at := range []coord.LonLat{{Lon: math.NaN()}, {Lat: 91}, {Lon: -181}, {Lat: math.Inf(1)}} {
		out, err := a.Advise(t.Context(), advisor.Question{At: at})
		if geo.KindOf(err) != geo.Invalid || out.Verdict.Code != "" {
			t.Errorf("%v: error %v, verdict %q", at, err, out.Verdict.Code)
		}
	}
}

func TestRulesWithoutMethodsAreRefused(t *testing.T) {
	snapshot, err := evidence.Load(t.Context(), region(t, 20))
	if err != nil {
		t.Fatal(err)
	}
	if a, err := advisor.New(t.Context(), snapshot, advisor.Rules{}, "test"); geo.KindOf(err) != geo.Invalid || a != nil {
		t.Errorf("advisor %v, error %v, want an invalid one", a, err)
	}
}

// Where levels follow no pattern in space, every bore of the region is evidence, and none
// of another.
func TestRegionWithoutPattern(t *testing.T) {
	src := region(t, 200)
	for seed := range uint64(4) { // chance shows a pattern in some of them
		rng := rand.New(rand.NewPCG(seed, 72))
		for i := range src.bores {
			valley(&src.bores[i], rng)
			src.bores[i].Levels[0] = geo.Level{
				State: geo.LevelRest, DepthM: geo.Some(4 * math.Exp(0.3*rng.NormFloat64())),
				On: geo.Some(geo.Date{Year: 2015, Month: 5}),
			}
		}
		a := newAdvisor(t, src)
		if out := advise(t, a, 0.2, 0.2); out.Evidence.ForWater < 3 {
			t.Errorf("seed %d: %d bores for water in the middle of 200", seed, out.Evidence.ForWater)
		}
		if out := advise(t, a, 2, 2); out.Evidence.ForWater > 0 {
			t.Errorf("seed %d: %d bores for water 200 km away", seed, out.Evidence.ForWater)
		}
	}
}

// A log that describes only ground below the model's depth is no evidence of layers.
func TestDeepLogsAreNoEvidence(t *testing.T) {
	src := region(t, 60)
	for i := range src.bores {
		src.bores[i].Levels = nil
		if i >= 6 {
			src.bores[i].Layers = []geo.Layer{{TopM: 45, BaseM: 60, Class: soil.Rock, Confidence: 1}}
		}
	}
	e := advise(t, newAdvisor(t, src), 0.1, 0.2).Evidence
	for _, b := range e.Bores {
		if b.Weight == 0 {
			t.Errorf("%s is named as evidence and weighs nothing", b.Label)
		}
	}
	if e.ForLayers > 6 || len(e.Bores) == 0 || len(e.Bores) > 6 {
		t.Errorf("%d bores for the layers, %d named; 6 have logs above 40 m", e.ForLayers, len(e.Bores))
	}
}

// The same snapshot, question and seed must give the same bytes, whatever was asked
// before.
func TestSameQuestionSameBytes(t *testing.T) {
	first := newAdvisor(t, region(t, 120))
	second := newAdvisor(t, region(t, 120))
	advise(t, second, 0.3, 0.3)
	want, _ := json.Marshal(advise(t, first, 0.1, 0.2))
	got, _ := json.Marshal(advise(t, second, 0.1, 0.2))
	if string(got) != string(want) {
		t.Error("two advisors over the same records answer differently")
	}
}

func TestPlanKeepsTheSealRules(t *testing.T) {
	a := newAdvisor(t, region(t, 200))
	p := advise(t, a, 0.1, 0.2).Plan
	if p == nil {
		t.Fatal("no plan")
	}
	checkPlan(t, *p)
	if len(p.Forecast.Loads) == 0 || p.Forecast.CrewH.P80 <= 0 || len(p.Building.Steps) == 0 {
		t.Errorf("nothing to load or to do: %+v", p.Forecast)
	}
	for _, s := range p.Building.Sources {
		if s.Mark == "mark." {
			t.Errorf("%v has no mark", s.Says)
		}
	}
}

// TestUnsafeWhereNoSealFits asks for a seal that no well has room for: the verdict gives
// way to the rule, with its reason.
func TestUnsafeWhereNoSealFits(t *testing.T) {
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	rules.Well.Seal.Least.Value = 30
	out := advise(t, advisorOf(t, region(t, 200), rules), 0.1, 0.2)
	if out.Verdict.Code != advisor.Unsafe || out.Plan != nil || len(out.Verdict.Because) == 0 {
		t.Errorf("verdict %+v, plan %v", out.Verdict, out.Plan)
	}
}

// TestLoggedPacesSetTheHours has a crew log a pace a tenth of the list's: the hours of the
// plan grow.
func TestLoggedPacesSetTheHours(t *testing.T) {
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	listed := advise(t, advisorOf(t, region(t, 200), rules), 0.1, 0.2)
	rules.Timed = map[geo.Method][]method.Timed{}
	for i := range 40 {
		rules.Timed[listed.Verdict.Method] = append(rules.Timed[listed.Verdict.Method], method.Timed{
			Bore: geo.BoreID(strconv.Itoa(i)), Crew: strconv.Itoa(i % 4), Class: soil.Clay, TopM: 0, BaseM: 4, MinutesPerM: 400,
		})
	}
	logged := advise(t, advisorOf(t, region(t, 200), rules), 0.1, 0.2)
	if a, b := listed.Plan.Forecast.DrillH.P50, logged.Plan.Forecast.DrillH.P50; !(b > a+5) {
		t.Errorf("drilling takes %v h by the list and %v h where clay takes 400 min a metre", a, b)
	}
}

func TestNewBoresMoveTheAdvice(t *testing.T) {
	src := region(t, 200)
	all := src.bores
	src.bores, src.seq = all[:20], 20
	snapshot, err := evidence.Load(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	a := newAdvisor(t, src)
	src.bores, src.seq = all, 200
	next, err := snapshot.Advance(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	moved := a.Advance(next)
	if a.Stale() || !moved.Stale() {
		t.Fatal("180 new bores of 200 leave the fits standing")
	}
	later, err := moved.Refit(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	before, after := advise(t, a, 0.1, 0.2), advise(t, later, 0.1, 0.2)
	if after.Evidence.Logs != 200 || before.Evidence.Logs != 20 {
		t.Errorf("logs known: %d before, %d after 180 new bores", before.Evidence.Logs, after.Evidence.Logs)
	}
}

// BenchmarkAdvise asks at 500 scattered points and reports the times that the design
// sets figures for: at 10,000 bores p50 20 ms and p99 80 ms, at 1,000,000 (long run) 60
// and 200 ms.
func BenchmarkAdvise(b *testing.B) {
	sizes := []int{10000}
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		sizes = append(sizes, 1000000)
	}
	for _, n := range sizes {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			a := newAdvisor(b, region(b, n))
			rng := rand.New(rand.NewPCG(21, 22))
			for b.Loop() {
				times := make([]time.Duration, 500)
				for i := range times {
					start := time.Now()
					advise(b, a, rng.Float64()*0.4, rng.Float64()*0.4)
					times[i] = time.Since(start)
				}
				slices.Sort(times)
				b.ReportMetric(times[len(times)/2].Seconds()*1000, "p50-ms")
				b.ReportMetric(times[len(times)*99/100].Seconds()*1000, "p99-ms")
			}
		})
	}
}

// With one method at hand its chance is what it is among all of them, and the verdict is
// about it.
func TestOneMethodAtHand(t *testing.T) {
	a := newAdvisor(t, region(t, 120))
	at := coord.LonLat{Lon: 0.1, Lat: 0.2}
	for _, among := range advise(t, a, at.Lon, at.Lat).Methods {
		alone, err := a.Advise(t.Context(), advisor.Question{At: at, Method: among.Method, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]advisor.MethodChance{among}, alone.Methods); diff != "" {
			t.Errorf("%s alone (-among all +alone):\n%s", among.Method, diff)
		}
		if alone.Verdict.Code == advisor.Go && alone.Plan.Method != among.Method {
			t.Errorf("the plan for %s is by %s", among.Method, alone.Plan.Method)
		}
	}
	if _, err := a.Advise(t.Context(), advisor.Question{At: at, Method: "spoon"}); geo.KindOf(err) != geo.Invalid {
		t.Errorf("a method that is not in the rules: %v", err)
	}
}
