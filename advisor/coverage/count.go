package coverage

import (
	"cmp"
	"maps"
	"slices"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// People is a number of people with the records it rests on, in order of ID.
type People struct {
	N        int      `json:"n"`
	Villages []string `json:"villages,omitempty"`
	Points   []string `json:"points,omitempty"`
}

// Take is the people of one village that one point serves.
type Take struct {
	Point     string  `json:"point"`
	People    int     `json:"people"`
	DistanceM float64 `json:"distanceM"`
}

// Why the people of a village, or some of them, are without.
const (
	NoneNear   geo.Code = "coverage.none-near"   // no point within walking distance
	NoneCounts geo.Code = "coverage.none-counts" // points stand near, and none of them counts
	Full       geo.Code = "coverage.full"        // those that count are full
)

// VillageCount is how one village stands.
type VillageCount struct {
	ID       string       `json:"id"`
	District string       `json:"district,omitempty"`
	People   geo.Opt[int] `json:"people,omitzero"`
	Served   int          `json:"served"`
	Unserved int          `json:"unserved"`
	From     []Take       `json:"from,omitempty"` // nearest first
	Why      geo.Code     `json:"why,omitempty"`  // of the unserved
}

// PointCount is how one point stands.
type PointCount struct {
	ID       string       `json:"id"`
	Out      geo.Code     `json:"out,omitempty"`     // why it does not count
	Capacity geo.Opt[int] `json:"capacity,omitzero"` // missing: no limit, or it does not count
	Served   int          `json:"served"`
}

// Out is the points that do not count for one reason.
type Out struct {
	Why    geo.Code `json:"why"`
	Points []string `json:"points"`
}

// District is how one district stands; the one without a name gathers the rest.
type District struct {
	Name   string `json:"name"`
	Living People `json:"living"`
	Served People `json:"served"`
}

// Count is the answer to one [Ask].
type Count struct {
	Standard      string         `json:"standard"`
	On            geo.Date       `json:"on"`
	Living        People         `json:"living"` // in villages whose people are known
	Served        People         `json:"served"`
	Districts     []District     `json:"districts"` // by name
	Villages      []VillageCount `json:"villages"`  // by ID
	Points        []PointCount   `json:"points"`    // by ID
	Out           []Out          `json:"out,omitempty"`
	PeopleUnknown []string       `json:"peopleUnknown,omitempty"` // villages
	DryUnknown    []string       `json:"dryUnknown,omitempty"`    // points that count and of which nobody wrote dry months
}

// Share is the part of the people that is served; missing where nobody lives.
func Share(served, living People) geo.Opt[float64] {
	if living.N == 0 {
		return geo.Opt[float64]{}
	}
	return geo.Some(float64(served.N) / float64(living.N))
}

// Count tells who is served by the standard on the day.
//
//   - Domain: a standard that reaches no farther than the land was prepared for.
//   - Errors: [geo.Invalid] for a standard that reaches farther or is not whole.
//   - Source: the rule of sharing is explained at the head of the package.
//   - Checked by: TestCountAgainstBruteForce, TestSharingLaws, TestNearestFirstByHand,
//     TestSurveyedPoints, BenchmarkCount.
func (l *Land) Count(a Ask) (*Count, error) {
	if err := a.Standard.check(rule.Fault{File: rule.Named(FileName), Entry: a.Standard.Code}); err != nil {
		return nil, geo.Fail(geo.Invalid, "coverage.Count", geo.Message{}, err)
	}
	if a.Standard.WalkM > l.farthestM {
		return nil, geo.Fail(geo.Invalid, "coverage.Count", geo.Say("coverage.too-far",
			geo.With("distance", geo.DistanceM(a.Standard.WalkM))), nil)
	}
	c := &Count{Standard: a.Standard.Code, On: a.On}
	l.countPoints(a, c)
	l.countVillages(c)
	l.share(a.Standard.WalkM, c)
	c.sum()
	return c, nil
}

// Series tells how coverage stood under several questions, such as one a year.
//
//   - Errors: as [Land.Count].
func (l *Land) Series(asks []Ask) ([]*Count, error) {
	out := make([]*Count, len(asks))
	for i, a := range asks {
		c, err := l.Count(a)
		if err != nil {
			return nil, err
		}
		out[i] = c
	}
	return out, nil
}

// countPoints says of each point whether it counts.
func (l *Land) countPoints(a Ask, c *Count) {
	c.Points = make([]PointCount, len(l.points))
	outs := map[geo.Code][]string{}
	for i := range l.points {
		p := &l.points[i]
		why, most := a.out(p)
		c.Points[i] = PointCount{ID: p.ID, Out: why}
		switch {
		case why != "":
			outs[why] = append(outs[why], p.ID)
			continue
		case most < unlimited:
			c.Points[i].Capacity = geo.Some(most)
		}
		if !p.DryMonths.Known() {
			c.DryUnknown = append(c.DryUnknown, p.ID)
		}
	}
	for _, why := range outReasons() {
		if len(outs[why]) > 0 {
			c.Out = append(c.Out, Out{why, outs[why]})
		}
	}
}

func (l *Land) countVillages(c *Count) {
	c.Villages = make([]VillageCount, len(l.villages))
	for i, v := range l.villages {
		c.Villages[i] = VillageCount{ID: v.ID, District: v.District, People: v.People, Unserved: v.People.Or(0), Why: NoneNear}
		if !v.People.Known() {
			c.PeopleUnknown = append(c.PeopleUnknown, v.ID)
		}
	}
}

// share takes the ways in order, the shortest first.
func (l *Land) share(walkM float64, c *Count) {
	for _, w := range l.ways {
		if w.distanceM > walkM {
			break
		}
		v, p := &c.Villages[w.village], &c.Points[w.point]
		if p.Out != "" {
			if v.Why == NoneNear {
				v.Why = NoneCounts
			}
			continue
		}
		v.Why = Full
		n := min(v.Unserved, p.Capacity.Or(unlimited)-p.Served)
		if n <= 0 {
			continue
		}
		v.Served, v.Unserved, p.Served = v.Served+n, v.Unserved-n, p.Served+n
		v.From = append(v.From, Take{p.ID, n, w.distanceM})
	}
	for i := range c.Villages {
		if c.Villages[i].Unserved == 0 {
			c.Villages[i].Why = ""
		}
	}
}

// sum adds up the districts and the whole.
func (c *Count) sum() {
	rows := map[string]*District{}
	points := map[string][]string{}
	for i := range c.Villages {
		v := &c.Villages[i]
		people, known := v.People.Get()
		if !known {
			continue
		}
		d := rows[v.District]
		if d == nil {
			d = &District{Name: v.District}
			rows[v.District] = d
		}
		for _, total := range []*People{&c.Living, &d.Living} {
			total.add(people, v.ID)
		}
		if v.Served > 0 {
			c.Served.add(v.Served, v.ID)
			d.Served.add(v.Served, v.ID)
			for _, t := range v.From {
				points[v.District] = append(points[v.District], t.Point)
			}
		}
	}
	for _, name := range sortedKeys(rows) {
		d := rows[name]
		slices.Sort(points[name])
		d.Served.Points = slices.Compact(points[name])
		c.Districts = append(c.Districts, *d)
	}
	for _, p := range c.Points {
		if p.Served > 0 {
			c.Served.Points = append(c.Served.Points, p.ID)
		}
	}
}

func (p *People) add(n int, village string) {
	p.N += n
	p.Villages = append(p.Villages, village)
}

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }
