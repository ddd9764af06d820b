package coverage

import (
	"cmp"
	"slices"
	"time"

	"waterstrike/geo"
)

// Functionality is how long points work until they are first found broken.
type Functionality struct {
	// Found dates a failure on the visit that found it, the latest it can have happened.
	Found *Curve `json:"-"`
	// Seen dates it on the last visit that found the point working, the earliest.
	Seen    *Curve    `json:"-"`
	Horizon []Lasting `json:"horizon"`
	Records []string  `json:"records,omitempty"` // points that were watched
	Lacking []string  `json:"lacking,omitempty"` // points without a day of building or a dated visit after it
}

// Lasting is the share that still works after some years, by both datings of a failure.
// Missing where nobody watched so long.
type Lasting struct {
	Years float64       `json:"years"`
	Found geo.Opt[Step] `json:"found,omitzero"`
	Seen  geo.Opt[Step] `json:"seen,omitzero"`
}

// Lasts tells what share of points works without a breakdown for so many years, from
// visits up to a day. A point that works at its last visit is censored there; one that
// was mended after a breakdown has failed all the same, at the first.
//
//   - Units: years of 365.25 days. A date without its day or month stands at its middle.
//   - Domain: visits find failures late, so two curves are given, with the failure at the
//     visit that found it and at the last visit before; what lies between is not known.
//   - Errors: [geo.TooFewData] where no point was watched.
//   - Source: [KaplanMeier].
//   - Checked by: TestLastsByHand.
func Lasts(points []Point, until geo.Date, years ...float64) (*Functionality, error) {
	f := &Functionality{}
	var found, seen []Span
	for i := range points {
		late, early, ok := points[i].spans(until)
		if !ok {
			f.Lacking = append(f.Lacking, points[i].ID)
			continue
		}
		f.Records = append(f.Records, points[i].ID)
		found, seen = append(found, late), append(seen, early)
	}
	var err error
	if f.Found, err = KaplanMeier(found); err != nil {
		return nil, err
	}
	if f.Seen, err = KaplanMeier(seen); err != nil {
		return nil, err
	}
	for _, y := range years {
		f.Horizon = append(f.Horizon, Lasting{y, f.Found.At(y), f.Seen.At(y)})
	}
	return f, nil
}

// spans returns how long a point was watched with its failure dated late and early.
func (p *Point) spans(until geo.Date) (late, early Span, ok bool) {
	built, known := p.Built.Get()
	visits := slices.DeleteFunc(slices.Clone(p.Visits), func(v Visit) bool {
		return v.On.Year == 0 || v.On.Compare(until) > 0 || years(built, v.On) < 0
	})
	if !known || built.Year == 0 || len(visits) == 0 {
		return late, early, false
	}
	slices.SortStableFunc(visits, func(a, b Visit) int { return cmp.Compare(years(built, a.On), years(built, b.On)) })
	late, early = Span{ID: p.ID}, Span{ID: p.ID}
	for _, v := range visits {
		late.Length = years(built, v.On)
		if !v.Works {
			late.Failed, early.Failed = true, true
			break
		}
		early.Length = late.Length
	}
	return late, early, true
}

// years is the time from one date to another.
func years(from, to geo.Date) float64 {
	return middle(to).Sub(middle(from)).Hours() / 24 / 365.25
}

// middle is the middle of the day, month or year that a date names.
func middle(d geo.Date) time.Time {
	first := time.Date(d.Year, time.Month(max(d.Month, 1)), max(d.Day, 1), 0, 0, 0, 0, time.UTC)
	after := first.AddDate(0, 0, 1)
	switch {
	case d.Month == 0:
		after = first.AddDate(1, 0, 0)
	case d.Day == 0:
		after = first.AddDate(0, 1, 0)
	}
	return first.Add(after.Sub(first) / 2)
}
