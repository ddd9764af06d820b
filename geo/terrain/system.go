package terrain

import (
	"strconv"

	"waterstrike/geo/coord"
)

// System is what the coordinates of a grid mean. The zero System is degrees on WGS 84.
type System struct {
	Metric bool             // metres east and north; otherwise degrees
	Datum  coord.Datum      // of degrees
	Grid   coord.Projection // of metres; the zero Projection is a plane of unknown place
}

// PlaneMetres is a plane in metres that is nowhere on earth: a grid on it can be worked
// on by row and column, and answers no position.
var PlaneMetres = System{Metric: true}

// UTM returns the system of a UTM grid.
func UTM(grid coord.Projection) System { return System{Metric: true, Grid: grid} }

// Placed reports whether positions on earth are known.
func (s System) Placed() bool { return !s.Metric || s.Grid != coord.Projection{} }

// xy returns the coordinates of a position.
func (s System) xy(p coord.LonLat) (x, y float64, ok bool) {
	switch {
	case !s.Placed() || !p.Valid():
		return 0, 0, false
	case s.Metric:
		q, _, err := s.Grid.Project(p)
		return q.EastingM, q.NorthingM, err == nil
	case s.Datum != coord.WGS84:
		p = s.Datum.DefaultOperation().FromWGS84(p)
	}
	return p.Lon, p.Lat, true
}

// lonLat is the inverse of xy.
func (s System) lonLat(x, y float64) (coord.LonLat, bool) {
	if !s.Placed() {
		return coord.LonLat{}, false
	}
	if s.Metric {
		p, _, err := coord.Projected{CRS: s.Grid, EastingM: x, NorthingM: y}.LonLat()
		return p, err == nil && p.Valid()
	}
	p := coord.LonLat{Lon: x, Lat: y}
	if s.Datum != coord.WGS84 {
		p = s.Datum.DefaultOperation().ToWGS84(p)
	}
	return p, p.Valid()
}

// epsg returns the code of the system; ok is false for a plane without one.
func (s System) epsg() (code int, ok bool) {
	if s.Metric {
		return s.Grid.EPSG()
	}
	return s.Datum.EPSG(), true
}

// systemOf is the inverse of epsg.
func systemOf(code int) (System, bool) {
	name := "EPSG:" + strconv.Itoa(code)
	if d, err := coord.ParseDatum(name); err == nil {
		return System{Datum: d}, true
	}
	grid, err := coord.ParseProjection(name)
	return UTM(grid), err == nil
}
