package main

import (
	"context"
	"math"
	"strconv"
	"strings"
	"sync"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// How many squares the advice over a region is told in at most, and on one page: a page
// is worked out within an answer's time.
const (
	mostSquares   = 4000
	squaresOnPage = 500
)

// lattice is the squares over a region. They belong to a fixed grid of the globe, so that
// a square stays what it is while the region grows within one width.
type lattice struct {
	step          float64 // width in degrees
	row, column   int     // of the south-westernmost
	rows, columns int
}

// latticeOver covers the box of the bores, as finely as the number of squares allows.
func latticeOver(box orb.Bound, there bool) lattice {
	if !there {
		return lattice{}
	}
	var l lattice
	for _, l.step = range []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20} {
		l.row, l.column = int(math.Floor(box.Min[1]/l.step)), int(math.Floor(box.Min[0]/l.step))
		l.rows, l.columns = int(math.Floor(box.Max[1]/l.step))-l.row+1, int(math.Floor(box.Max[0]/l.step))-l.column+1
		if l.rows*l.columns <= mostSquares {
			break
		}
	}
	return l
}

func (l lattice) box() (orb.Bound, bool) {
	if l.rows == 0 {
		return orb.Bound{}, false
	}
	return l.square(squareAt{l.row, l.column}).Union(l.square(squareAt{l.row + l.rows - 1, l.column + l.columns - 1})), true
}

// squareAt is a square by its row and column in the grid of the globe.
type squareAt struct{ row, column int }

func (at squareAt) id() string { return strconv.Itoa(at.row) + "." + strconv.Itoa(at.column) }

func (l lattice) square(at squareAt) orb.Bound {
	// A number of hundredths is written as short as it is; a multiple of a step may not be.
	edge := func(i int) float64 { return math.Round(float64(i)*l.step*100) / 100 }
	return orb.Bound{
		Min: orb.Point{edge(at.column), max(edge(at.row), -90)},
		Max: orb.Point{edge(at.column + 1), min(edge(at.row+1), 90)},
	}
}

// each yields the squares by rows from the south-west.
func (l lattice) each(yield func(squareAt) bool) {
	for i := range l.rows * l.columns {
		if !yield(squareAt{l.row + i/l.columns, l.column + i%l.columns}) {
			return
		}
	}
}

// squares keeps what was worked out for one state of the records.
type squares struct {
	mutex sync.Mutex
	of    string
	known map[squareAt]advisor.Spot
}

// adviceCollection describes the advice over the region.
func adviceCollection() features.Collection {
	c := features.Collection{Name: adviceFeatures, Title: "features.advice", Worked: true, Most: squaresOnPage}
	for _, column := range adviceColumns() {
		c.Properties = append(c.Properties, features.Property{Name: column.name, Type: column.kind})
	}
	return c
}

// adviceColumn is one property of a square.
type adviceColumn struct {
	name, kind string
	of         func(advisor.Spot) any
}

func adviceColumns() []adviceColumn {
	columns := []adviceColumn{{"method", "string", func(s advisor.Spot) any {
		if s.Method == "" {
			return nil
		}
		return string(s.Method)
	}}}
	spread := func(name, unit string, of func(advisor.Spot) geo.Opt[advisor.Spread]) {
		for _, part := range []struct {
			name string
			of   func(advisor.Spread) float64
		}{
			{"", func(s advisor.Spread) float64 { return s.Value }},
			{"_low", func(s advisor.Spread) float64 { return s.Lo }},
			{"_high", func(s advisor.Spread) float64 { return s.Hi }},
		} {
			columns = append(columns, adviceColumn{name + part.name + unit, "number", func(s advisor.Spot) any {
				if v, there := of(s).Get(); there {
					return math.Round(part.of(v)*1000) / 1000
				}
				return nil
			}})
		}
	}
	spread("chance", "", func(s advisor.Spot) geo.Opt[advisor.Spread] { return s.Chance })
	spread("level", "_m", func(s advisor.Spot) geo.Opt[advisor.Spread] { return s.DesignLowM })
	spread("refusal", "_m", func(s advisor.Spot) geo.Opt[advisor.Spread] { return s.RefusalM })
	return append(columns,
		adviceColumn{"bores", "integer", func(s advisor.Spot) any { return s.Bores.Effective() }},
		adviceColumn{"few", "boolean", func(s advisor.Spot) any { return s.Few }})
}

// lattice is the squares over the present bores.
func (f *featured) lattice(ctx context.Context) (lattice, error) {
	box, there, err := f.Extent(ctx, boreFeatures)
	return latticeOver(box, there), err
}

// selectAdvice reads squares that meet the box; those that are not known yet are worked out.
func (f *featured) selectAdvice(ctx context.Context, w features.Where, from, limit int) ([]features.Feature, int, error) {
	l, err := f.lattice(ctx)
	if err != nil {
		return nil, 0, err
	}
	var asked []squareAt
	total := 0
	for at := range l.each {
		if w.Box != nil && !features.Meets(w.Box, l.square(at)) {
			continue
		}
		if total >= from && len(asked) < limit {
			asked = append(asked, at)
		}
		total++
	}
	page, err := f.squares.features(ctx, f.adviser.Load(), l, asked)
	return page, total, err
}

// findAdvice reads one square.
func (f *featured) findAdvice(ctx context.Context, id string) (features.Feature, error) {
	l, err := f.lattice(ctx)
	if err != nil {
		return features.Feature{}, err
	}
	row, column, _ := strings.Cut(id, ".")
	at, e1, e2 := squareAt{}, error(nil), error(nil)
	at.row, e1 = strconv.Atoi(row)
	at.column, e2 = strconv.Atoi(column)
	y, x := at.row-l.row, at.column-l.column
	if e1 != nil || e2 != nil || at.id() != id || y < 0 || y >= l.rows || x < 0 || x >= l.columns {
		return features.Feature{}, noFeature(id)
	}
	page, err := f.squares.features(ctx, f.adviser.Load(), l, []squareAt{at})
	if err != nil {
		return features.Feature{}, err
	}
	return page[0], nil
}

// features are squares with what the advice says in their middles. One page is worked out
// at a time: it takes all processors.
func (s *squares) features(ctx context.Context, a *advisor.Advisor, l lattice, asked []squareAt) ([]features.Feature, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	state := a.ID() + "/" + strconv.FormatFloat(l.step, 'f', -1, 64)
	if s.of != state {
		s.of, s.known = state, map[squareAt]advisor.Spot{}
	}
	var missing []squareAt
	q := advisor.SurfaceQuestion{Seed: 1}
	for _, at := range asked {
		if _, there := s.known[at]; !there {
			middle := l.square(at).Center()
			missing, q.At = append(missing, at), append(q.At, coord.LonLat{Lon: middle[0], Lat: middle[1]})
		}
	}
	if len(missing) > 0 {
		spots, err := a.Surface(ctx, q, nil)
		if err != nil {
			return nil, err
		}
		for i, at := range missing {
			s.known[at] = spots[i]
		}
	}
	columns := adviceColumns()
	out := make([]features.Feature, len(asked))
	for i, at := range asked {
		out[i] = features.Feature{ID: at.id(), Place: l.square(at), Values: make([]any, len(columns))}
		for k, column := range columns {
			out[i].Values[k] = column.of(s.known[at])
		}
	}
	return out, nil
}
