package season

import (
	"cmp"
	"slices"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
	"waterstrike/geo/index"
)

// Records are what a season is planned from and accounted for.
type Records struct {
	Villages   []geo.Village
	Points     []geo.WaterPoint
	Bores      []geo.Bore
	Boundaries []geo.Boundary
	Rivers     []geo.River
	Snapshot   string // names their state
}

// villages are the villages as coverage counts them, by ID.
func (r *Records) villages() []coverage.Village {
	out, in := make([]coverage.Village, len(r.Villages)), r.districts()
	for i, v := range r.Villages {
		out[i] = coverage.Village{ID: string(v.ID), District: in.of(v.Position.Pos), At: v.Position.Pos, People: v.People}
	}
	slices.SortFunc(out, func(a, b coverage.Village) int { return cmp.Compare(a.ID, b.ID) })
	return out
}

// reach refuses a day before the first dated record: nothing that is told of it would rest on
// anything. Where nothing is dated, every day is as good.
func (r *Records) reach(on geo.Date) error {
	var first geo.Date
	note := func(d geo.Date) {
		if d.Year > 0 && (first.Year == 0 || d.Compare(first) < 0) {
			first = d
		}
	}
	for i := range r.Bores {
		note(r.Bores[i].Completed.Or(geo.Date{}))
	}
	for i := range r.Points {
		for _, v := range r.Points[i].Visits {
			note(v.On)
		}
	}
	if on.Compare(first) < 0 {
		return fail(geo.Invalid, "season.before-records", geo.With("value", geo.Text(on.String())), geo.With("date", first))
	}
	return nil
}

// sameM is how far a water point may stand from the bore that it was made of: twice the
// error of a hand-held receiver, and some steps. Common practice, no source.
const sameM = 30

// Points returns the places where people take water: the records' own, and the bores that
// produced where none of those stands. of names the bore of each point that has one.
func (r *Records) points() (out []coverage.Point, of map[string]*geo.Bore, err error) {
	entries := make([]index.Entry, 0, len(r.Points))
	at := map[string]int{}
	for i, w := range r.Points {
		p := coverage.Point{ID: string(w.ID), Kind: w.Kind, At: w.Position.Pos, DryMonths: w.DryMonths, Visits: visits(w)}
		out = append(out, p)
		if w.Kind == geo.TubeWell || w.Kind == geo.PointUnknown {
			entries, at[p.ID] = append(entries, index.Entry{ID: p.ID, Pos: p.At}), i
		}
	}
	near, err := index.New(entries)
	if err != nil {
		return nil, nil, err
	}
	of = map[string]*geo.Bore{}
	for i := range r.Bores {
		b := &r.Bores[i]
		where, known := b.Position.Get()
		if b.Outcome != geo.Producing || !known {
			continue
		}
		k := len(out)
		if found := near.Nearest(where.Pos, 1, nil); len(found) == 1 && found[0].DistanceM <= sameM && of[found[0].ID] == nil {
			k = at[found[0].ID]
		} else {
			out = append(out, coverage.Point{ID: string(b.ID), Kind: geo.TubeWell, At: where.Pos})
		}
		of[out[k].ID] = b
		bored(&out[k], b)
	}
	return out, of, nil
}

// bored adds what a bore tells of the point that it became.
func bored(p *coverage.Point, b *geo.Bore) {
	p.Built, p.YieldLPS, p.Tests = b.Completed, b.YieldLPS, tests(b.Samples)
	if on, known := b.Completed.Get(); known {
		p.Visits = append([]coverage.Visit{{On: on, Works: true}}, p.Visits...)
	} else if len(p.Visits) == 0 {
		p.Visits = []coverage.Visit{{Works: true}}
	}
}

// visits are what was found at a point. What the point says of its last visit counts as
// before every dated one.
func visits(w geo.WaterPoint) (out []coverage.Visit) {
	if works, known := w.Works.Get(); known {
		out = append(out, coverage.Visit{Works: works})
	}
	for _, v := range w.Visits {
		if works, known := v.Works.Get(); known {
			out = append(out, coverage.Visit{On: v.On, Works: works})
		}
	}
	return out
}
