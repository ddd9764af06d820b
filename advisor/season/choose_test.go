package season_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

var (
	landOnce    sync.Once
	landRecords season.Records
	landAdviser *advisor.Advisor
)

// land is some villages of an invented region in two districts, with its advisor.
func land(t *testing.T) (season.Records, *advisor.Advisor) {
	t.Helper()
	landOnce.Do(func() {
		all := demoland.New(11).Records()
		rules, err := advisor.DefaultRules()
		if err != nil {
			t.Fatal(err)
		}
		snapshot, err := evidence.Load(t.Context(), evidencetest.Bores(all.Bores))
		if err != nil {
			t.Fatal(err)
		}
		if landAdviser, err = advisor.New(t.Context(), snapshot, rules, "test"); err != nil {
			t.Fatal(err)
		}
		landRecords = season.Records{Villages: all.Villages[:8], Points: all.Points, Bores: all.Bores, Rivers: all.Rivers, Snapshot: snapshot.ID()}
	})
	if landAdviser == nil {
		t.Fatal("no advisor")
	}
	return landRecords, landAdviser
}

func sphere(t testing.TB) coverage.Standard {
	t.Helper()
	list, err := coverage.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	s, ok := coverage.Find(list, "sphere-2018")
	if !ok {
		t.Fatal("no standard")
	}
	return s
}

func wishes(t *testing.T) season.Wishes {
	t.Helper()
	w := season.DefaultWishes()
	w.Standard, w.On = sphere(t), geo.Date{Year: 2019, Month: 10, Day: 31}
	w.Budget, w.Windows = 5000, []programme.Window{{Name: "dry", Weeks: 12}}
	w.PerBore, w.PerMetre = geo.Some(300.0), geo.Some(40.0)
	return w
}

func quiet(int, int) {}

func TestChooseOnTheLand(t *testing.T) {
	records, adviser := land(t)
	s, err := season.Choose(t.Context(), &records, adviser, wishes(t), quiet)
	if err != nil {
		t.Fatal(err)
	}
	p := s.Programme
	if len(p.Picks) == 0 || p.Money > s.Wishes.Budget || !p.Proof.Settled {
		t.Fatalf("%d villages for %g, %+v", len(p.Picks), p.Money, p.Proof)
	}
	people, unserved := 0, 0
	for _, v := range s.Villages {
		people, unserved = people+v.People.Or(0), unserved+v.Unserved
		for _, x := range v.Spots {
			if x.WalkM > s.Wishes.Standard.WalkM || math.Abs(coord.DistanceM(v.At, x.At)-x.WalkM) > 1 {
				t.Errorf("%s, spot %s: %g m to walk", v.Name, x.Name, x.WalkM)
			}
			for _, y := range x.Ways {
				if y.Cost < 300 || y.Weeks <= 0 {
					t.Errorf("%s, spot %s, %s: %g money, %g weeks", v.Name, x.Name, y.Method, y.Cost, y.Weeks)
				}
			}
		}
		if v.Unserved == 0 && len(v.Spots) > 0 {
			t.Errorf("%s: nobody in need, and spots were looked for", v.Name)
		}
	}
	if people != s.Living || people-unserved != s.Served {
		t.Errorf("%d people, %d served; the villages have %d and %d", s.Living, s.Served, people, people-unserved)
	}
	if len(p.Why) != len(s.Villages) {
		t.Errorf("%d reasons for %d villages", len(p.Why), len(s.Villages))
	}
	if s.Other == nil || s.Other.People > p.People*(1+0.01) {
		t.Errorf("the careful programme serves %v, the plain one %g", s.Other, p.People)
	}
	if gain, ok := s.More.Get(); !ok || gain.Score < 0 || gain.AtMost < gain.Score {
		t.Errorf("more money: %+v", gain)
	}
	first, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	again, err := season.Choose(t.Context(), &records, adviser, wishes(t), quiet)
	if err != nil {
		t.Fatal(err)
	}
	if second, _ := json.Marshal(again); string(first) != string(second) {
		t.Error("the same wishes gave another answer")
	}
}

func TestChooseRefuses(t *testing.T) {
	records, adviser := land(t)
	north := func(r *season.Records, w *season.Wishes) {
		w.Floors = []programme.Floor{{District: "", Villages: 99}}
	}
	for _, c := range []struct {
		name   string
		change func(*season.Records, *season.Wishes)
		kind   geo.Kind
		says   string
	}{
		{"no budget", func(_ *season.Records, w *season.Wishes) { w.Budget = 0 }, geo.Invalid, "programme.no-budget"},
		{"a day before the records", func(_ *season.Records, w *season.Wishes) { w.On = geo.Date{Year: 1890} }, geo.Invalid, "season.before-records value=1890"},
		{"no weeks", func(_ *season.Records, w *season.Wishes) { w.Windows = nil }, geo.Invalid, "programme.no-weeks"},
		{"no prices", func(_ *season.Records, w *season.Wishes) {
			w.PerBore, w.PerMetre = geo.Opt[float64]{}, geo.Opt[float64]{}
		}, geo.Invalid, "season.no-prices"},
		{"a price below nothing", func(_ *season.Records, w *season.Wishes) { w.PerMetre = geo.Some(-1.0) }, geo.Invalid, "season.bad-price"},
		{"more care than there is", func(_ *season.Records, w *season.Wishes) { w.Caution = 3 }, geo.Invalid, "season.bad-care value=3"},
		{"must be in, by its name, without the weeks", func(r *season.Records, w *season.Wishes) {
			r.Villages = slices.Clone(r.Villages)
			r.Villages[0].People = geo.Some(100_000)
			w.Must, w.Windows = []string{r.Villages[0].Name}, []programme.Window{{Weeks: 0.01}}
		}, geo.Unsolvable, "programme.must-without-spot id=" + records.Villages[0].Name},
		{"a week of nine days", func(_ *season.Records, w *season.Wishes) { w.WeekDays = 9 }, geo.Invalid, "season.bad-week"},
		{"no villages", func(r *season.Records, _ *season.Wishes) { r.Villages = nil }, geo.TooFewData, "programme.no-villages"},
		{"a village twice", func(r *season.Records, _ *season.Wishes) {
			r.Villages = append([]geo.Village{r.Villages[0]}, r.Villages...)
		}, geo.Invalid, "coverage.village-twice"},
		{"people below 0", func(r *season.Records, _ *season.Wishes) {
			r.Villages = append([]geo.Village{}, r.Villages...)
			r.Villages[0].People = geo.Some(-5)
		}, geo.Invalid, "coverage.people-negative"},
		{"an unknown village", func(_ *season.Records, w *season.Wishes) { w.Must = []string{"Nowhere"} }, geo.NotFound, "season.unknown-village value=Nowhere"},
		{"a name nearly right", func(r *season.Records, w *season.Wishes) {
			w.Must = []string{r.Villages[0].Name[:len(r.Villages[0].Name)-1] + "x"}
		}, geo.NotFound, "listed-text=" + records.Villages[0].Name},
		{"a name that two have", func(r *season.Records, w *season.Wishes) {
			r.Villages = slices.Clone(r.Villages)
			r.Villages[1].Name = strings.ToUpper(r.Villages[0].Name)
			w.Must = []string{r.Villages[0].Name}
		}, geo.Conflict, "season.several-villages-there n=2"},
		{"must be in, and nobody is in need", func(r *season.Records, w *season.Wishes) {
			r.Villages = slices.Clone(r.Villages)
			r.Villages[0].People = geo.Some(0)
			w.Must = []string{r.Villages[0].Name}
		}, geo.Invalid, "season.must-no-need"},
		{"must be in, and nobody counted", func(r *season.Records, w *season.Wishes) {
			r.Villages = slices.Clone(r.Villages)
			r.Villages[0].People = geo.Opt[int]{}
			w.Must = []string{r.Villages[0].Name}
		}, geo.Invalid, "season.must-uncounted"},
		{"must and never", func(r *season.Records, w *season.Wishes) {
			w.Must, w.Never = []string{r.Villages[0].Name}, []string{string(r.Villages[0].ID)}
		}, geo.Invalid, "programme.must-and-never id=" + string(records.Villages[0].ID)},
		{"a floor that cannot hold", north, geo.Unsolvable, "programme.floor-villages"},
		{"a floor nowhere", func(_ *season.Records, w *season.Wishes) {
			w.Floors = []programme.Floor{{District: "Far", Villages: 1}}
		}, geo.Invalid, "season.floor-no-districts district=Far"},
		{"a district that is none", func(r *season.Records, w *season.Wishes) {
			r.Boundaries = demoland.New(11).Districts()
			w.Floors = []programme.Floor{{District: "Far", Villages: 1}}
		}, geo.Invalid, "season.floor-nowhere district=Far value="},
	} {
		r, w := records, wishes(t)
		r.Villages = r.Villages[:3]
		c.change(&r, &w)
		_, err := season.Choose(t.Context(), &r, adviser, w, quiet)
		if err == nil || geo.KindOf(err) != c.kind || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %v and %s", c.name, err, c.kind, c.says)
		}
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := season.Choose(ctx, &records, adviser, wishes(t), quiet); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// Where no bore is near there is nothing to say, and nobody is sent.
func TestChooseWithoutBores(t *testing.T) {
	records, _ := land(t)
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	snapshot, err := evidence.Load(t.Context(), evidencetest.Bores(records.Bores[:1]))
	if err != nil {
		t.Fatal(err)
	}
	a, err := advisor.New(t.Context(), snapshot, rules, "test")
	if err != nil {
		t.Fatal(err)
	}
	s, err := season.Choose(t.Context(), &records, a, wishes(t), quiet)
	if err != nil {
		t.Fatal(err)
	}
	for _, why := range s.Programme.Why {
		if why.In || (why.Message.Code != "programme.out.no-spot" && why.Message.Code != "programme.out.no-need") {
			t.Errorf("%s: %s", why.Village, why.Message)
		}
	}
}
