package programme_test

import (
	"math"
	"testing"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func TestSolveRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*programme.Problem)
		kind geo.Kind
		says string
	}{
		{"budget 0", func(p *programme.Problem) { p.Budget = 0 }, geo.Invalid, "programme.no-budget sum=0"},
		{"budget negative", func(p *programme.Problem) { p.Budget = -5 }, geo.Invalid, "programme.no-budget sum=-5"},
		{"budget no number", func(p *programme.Problem) { p.Budget = math.NaN() }, geo.Invalid, "programme.no-budget"},
		{"village twice", func(p *programme.Problem) { p.Villages[1].ID = "near" }, geo.Invalid, "programme.village-twice id=near"},
		{"village without ID", func(p *programme.Problem) { p.Villages[1].ID = "" }, geo.Invalid, "programme.no-id"},
		{"people negative", func(p *programme.Problem) { p.Villages[0].Unserved = -3 }, geo.Invalid, "programme.people-negative id=near hand=-3"},
		{"no villages", func(p *programme.Problem) { p.Villages = nil }, geo.TooFewData, "programme.no-villages"},
		{"round unknown", func(p *programme.Problem) { p.Villages[0].Round = "x" }, geo.Invalid, "programme.round-unknown id=near value=x"},
		{"round twice", func(p *programme.Problem) { p.Rounds = append(p.Rounds, p.Rounds[0]) }, geo.Invalid, "programme.bad-round value=r"},
		{"round pays back", func(p *programme.Problem) { p.Rounds[0].Cost = -1 }, geo.Invalid, "programme.bad-round value=r"},
		{"no weeks", func(p *programme.Problem) { p.Windows[0].Weeks = 0 }, geo.Invalid, "programme.no-weeks"},
		{"no windows", func(p *programme.Problem) { p.Windows = nil }, geo.Invalid, "programme.no-weeks"},
		{"weeks negative", func(p *programme.Problem) { p.Windows[0].Weeks = -1 }, geo.Invalid, "programme.bad-window value=dry"},
		{"windows", func(p *programme.Problem) { p.Windows = make([]programme.Window, 7); p.Windows[0].Weeks = 1 }, geo.Invalid, "programme.too-many-windows n=7 total=6"},
		{"chance above 1", func(p *programme.Problem) { p.Villages[0].Options[0].Chances[0] = 1.2 }, geo.Invalid, "programme.bad-option id=near value=s auger"},
		{"no chance", func(p *programme.Problem) { p.Villages[0].Options[0].Chances = nil }, geo.Invalid, "programme.bad-option id=near"},
		{"cost no number", func(p *programme.Problem) { p.Villages[0].Options[0].Cost = math.NaN() }, geo.Invalid, "programme.bad-option id=near"},
		{"window of nobody", func(p *programme.Problem) { p.Villages[0].Options[0].Windows = []int{1} }, geo.Invalid, "programme.bad-option id=near"},
		{"too many options", func(p *programme.Problem) {
			for range 30 {
				p.Villages[0].Options = append(p.Villages[0].Options, p.Villages[0].Options[0])
			}
		}, geo.Invalid, "programme.too-many-options id=near n=31"},
		{"scenarios differ", func(p *programme.Problem) {
			p.Villages[0].Options[0].Chances, p.Villages[1].Options[0].Chances = make([]float64, 20), make([]float64, 30)
		}, geo.Invalid, "programme.scenarios-differ id=far n=30 total=20"},
		{"caution without scenarios", func(p *programme.Problem) { p.Rules.Caution = 0.5 }, geo.Invalid, "programme.few-scenarios n=1 total=20"},
		{"rule", func(p *programme.Problem) { p.Rules.LeastChance = 2 }, geo.Invalid, "programme.bad-rule field=least-chance"},
		{"floor below 0", func(p *programme.Problem) { p.Floors = []programme.Floor{{District: "d-far", Villages: -1}} }, geo.Invalid, "programme.bad-floor district=d-far"},
		{"floor twice", func(p *programme.Problem) { p.Floors = []programme.Floor{{District: "d-far"}, {District: "d-far"}} }, geo.Invalid, "programme.bad-floor district=d-far"},
		{"floor nowhere", func(p *programme.Problem) { p.Floors = []programme.Floor{{District: "x", Villages: 1}} }, geo.Invalid, "programme.floor-nowhere district=x"},
		{"must unknown", func(p *programme.Problem) { p.Must = []string{"x"} }, geo.NotFound, "programme.listed-unknown id=x"},
		{"never unknown", func(p *programme.Problem) { p.Never = []string{"x"} }, geo.NotFound, "programme.listed-unknown id=x"},
		{"must and never", func(p *programme.Problem) { p.Must, p.Never = []string{"far"}, []string{"far"} }, geo.Invalid, "programme.must-and-never id=far"},
	} {
		p := two()
		c.edit(&p)
		_, err := programme.Solve(p)
		refused(t, c.name, err, c.kind, c.says)
		_, err = programme.Simple(p, programme.Nearest)
		refused(t, c.name+", by a simple rule", err, c.kind, c.says)
	}
}

// What cannot hold is named: a village, the villages together, a floor alone with what can
// be reached, the floors that contradict each other and no others.
func TestImpossibleFloors(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*programme.Problem)
		says string
	}{
		{"must without a spot", func(p *programme.Problem) { p.Must, p.Villages[0].Options = []string{"near"}, nil }, "programme.must-without-spot id=near"},
		{"must beyond the budget", func(p *programme.Problem) { p.Must, p.Budget = []string{"far", "near"}, 1200 }, "programme.must-too-many n=2 known=1"},
		{"more villages than there are", func(p *programme.Problem) { p.Floors = []programme.Floor{{District: "d-far", Villages: 2}} }, "programme.floor-villages district=d-far need=2 most=1"},
		{"more people than drink", func(p *programme.Problem) {
			p.Floors = []programme.Floor{{District: "d-near", People: 60}, {District: "d-far", People: 20}}
		}, "programme.floor-people district=d-near need=60 most=50"},
		{"no bores in the district", func(p *programme.Problem) {
			p.Villages[0].Options = nil
			p.Floors = []programme.Floor{{District: "d-near", Villages: 1}}
		}, "programme.floor-villages district=d-near need=1 most=0"},
		{"both, but not together", func(p *programme.Problem) {
			p.Floors = []programme.Floor{{District: "d-near", Villages: 1}, {District: "d-far", People: 100}}
		}, "programme.floors-together n=2 value=d-near, d-far"},
		{"two of three contradict", func(p *programme.Problem) {
			third := p.Villages[0]
			third.ID, third.District = "free", "d-free"
			third.Options = []programme.Option{{Spot: "s", Chances: []float64{0.9}, People: 10}}
			p.Villages = append(p.Villages, third)
			p.Floors = []programme.Floor{{District: "d-free", Villages: 1}, {District: "d-near", Villages: 1}, {District: "d-far", People: 100}}
		}, "programme.floors-together n=2 value=d-near, d-far"},
	} {
		p := two()
		c.edit(&p)
		_, err := programme.Solve(p)
		refused(t, c.name, err, geo.Unsolvable, c.says)
	}
	p := two()
	p.Budget = 1700
	p.Floors = []programme.Floor{{District: "d-near", Villages: 1, People: 50}, {District: "d-far", People: 200}}
	if got := solved(t, p); villages(got) != "far near" {
		t.Errorf("floors that just hold: %s", villages(got))
	}
}

// Why each village is in or out, one case each.
func TestWhy(t *testing.T) {
	far := func(o *programme.Option) { o.WalkM = 2000 }
	for _, c := range []struct {
		name, village string
		edit          func(*programme.Problem)
		in            bool
		says          string
	}{
		{"pays", "far", func(*programme.Problem) {}, true, "programme.in.money gives=200 price="},
		{"no room", "near", func(p *programme.Problem) { p.Budget = 1699 }, false, "programme.out.no-room need=500 sum=499"},
		{"pays less", "poor", func(p *programme.Problem) {
			poor := p.Villages[0]
			poor.ID = "poor"
			poor.Options = []programme.Option{{Spot: "s", Method: "auger", Chances: []float64{0.3}, People: 100, Cost: 500, Weeks: 1}}
			p.Villages = append(p.Villages, poor)
		}, false, "programme.out.money gives=60 price="},
		{"must", "near", func(p *programme.Problem) { p.Must = []string{"near"} }, true, "programme.in.must"},
		{"floor", "near", func(p *programme.Problem) { p.Floors = []programme.Floor{{District: "d-near", Villages: 1}} }, true, "programme.in.floor district=d-near"},
		{"enough for all", "near", func(p *programme.Problem) { p.Budget = 9000 }, true, "programme.in.enough"},
		{"never", "far", func(p *programme.Problem) { p.Never = []string{"far"} }, false, "programme.out.never"},
		{"no need", "far", func(p *programme.Problem) { p.Villages[1].Unserved = 0 }, false, "programme.out.no-need"},
		{"no spot", "far", func(p *programme.Problem) { p.Villages[1].Options = nil }, false, "programme.out.no-spot"},
		{"spots too far", "far", func(p *programme.Problem) { far(&p.Villages[1].Options[0]) }, false, "programme.out.options n=1 reason=programme.option.too-far"},
		{"chance", "far", func(p *programme.Problem) { p.Rules.LeastChance = 0.9 }, false, "programme.out.options n=1 reason=programme.option.low-chance"},
		{"risk", "far", func(p *programme.Problem) {
			p.Rules.MostRisk, p.Villages[1].Options[0].Risk = geo.Some(0.1), geo.Some(0.2)
		}, false, "programme.out.options n=1 reason=programme.option.too-risky"},
		{"serves nobody", "far", func(p *programme.Problem) { p.Villages[1].Options[0].People = 0 }, false, "programme.out.options n=1 reason=programme.option.serves-none"},
		{"too dear", "far", func(p *programme.Problem) { p.Budget = 600 }, false, "programme.out.too-dear sum=600"},
		{"no window", "far", func(p *programme.Problem) { p.Villages[1].Options[0].Weeks = 11 }, false, "programme.out.no-window"},
		{"weeks", "near", func(p *programme.Problem) { p.Budget, p.Windows[0].Weeks = 1e6, 1.5 }, false, "programme.out.weeks gives=50 price="},
		{"weeks, in", "far", func(p *programme.Problem) { p.Budget, p.Windows[0].Weeks = 1e6, 1.5 }, true, "programme.in.weeks gives=200 price="},
	} {
		p := two()
		c.edit(&p)
		got := solved(t, p)
		for _, r := range got.Why {
			if text := r.Message.String(); r.Village == c.village && (r.In != c.in || len(text) < len(c.says) || text[:len(c.says)] != c.says) {
				t.Errorf("%s: in %v, %s, want %s", c.name, r.In, text, c.says)
			}
		}
		if len(got.Why) != len(p.Villages) {
			t.Errorf("%s: %d reasons", c.name, len(got.Why))
		}
	}
}

// Four villages on a line 1 km apart and one far off: the second and third have two
// others within 1.1 km, the second comes first by ID and takes the first three.
func TestGroupByHand(t *testing.T) {
	km := 360 / (2 * math.Pi * 6378.137) // degrees along the equator
	var places []programme.Place
	for i, id := range []string{"a", "b", "c", "d"} {
		places = append(places, programme.Place{ID: id, At: coord.LonLat{Lon: float64(i) * km}})
	}
	places = append(places, programme.Place{ID: "e", At: coord.LonLat{Lon: 30 * km}})
	travel := programme.Travel{ReachM: 1100, PerKM: 0.5, KMAWeek: 200, Detour: 1.4}
	rounds, of, err := programme.Group(places, travel)
	if err != nil {
		t.Fatal(err)
	}
	if of["a"] != "b" || of["b"] != "b" || of["c"] != "b" || of["d"] != "d" || of["e"] != "e" || len(rounds) != 3 {
		t.Errorf("%v in %v", of, rounds)
	}
	// There and back 2 x 1 km x 1.4 = 2.8 km: 1.40 of money, 0.014 weeks.
	if r := rounds[0]; r.ID != "b" || math.Abs(r.Cost-1.4) > 1e-9 || math.Abs(r.Weeks-0.014) > 1e-9 {
		t.Errorf("%+v", r)
	}
	_, _, err = programme.Group(append(places, places[0]), travel)
	refused(t, "village twice", err, geo.Invalid, "programme.village-twice id=a")
	travel.ReachM = 0
	_, _, err = programme.Group(places, travel)
	refused(t, "no reach", err, geo.Invalid, "programme.bad-travel")
}

// What is in gives at least what its money and weeks give elsewhere, what is out gives less:
// no reason says the opposite of the choice, also where money and weeks are scarce at once.
func TestWhyAgrees(t *testing.T) {
	counts := map[string]int{}
	for seed := uint64(1); seed <= 6; seed++ {
		p := made{villages: 20, options: 3, rounds: 5, windows: 2, share: 0.3}.problem(seed)
		p.Rules.Effort = 20
		if seed%3 == 0 {
			p.Budget *= 3 // weeks alone are scarce
		}
		for _, r := range solved(t, p).Why {
			rates := map[string]float64{}
			for _, a := range r.Message.Args {
				if x, ok := a.Value.(geo.Number); ok {
					rates[a.Name] = float64(x)
				}
			}
			counts[string(r.Message.Code)]++
			gives, rated := rates["gives"]
			if rated && (r.In && gives < rates["price"] || !r.In && gives >= rates["price"]) {
				t.Errorf("seed %d, %s: in %v, %s", seed, r.Village, r.In, r.Message)
			}
		}
	}
	for _, code := range []string{"programme.in.both", "programme.out.both", "programme.in.weeks", "programme.out.weeks", "programme.in.left-over"} {
		if counts[code] == 0 {
			t.Errorf("no reason is %s: %v", code, counts)
		}
	}
}
