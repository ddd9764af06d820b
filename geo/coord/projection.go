package coord

import (
	"fmt"
	"math"
)

// Projection names a UTM grid: datum, zone 1-60, hemisphere, and the EPSG code
// of the datum operation to reach WGS 84 by (0: the datum's default).
type Projection struct {
	Datum     Datum
	Zone      int
	South     bool
	Operation int
}

// Projected is a position on a grid, in metres. It is a type of its own so that
// it cannot be taken for degrees.
type Projected struct {
	CRS                 Projection
	EastingM, NorthingM float64
}

// Factors describe a grid at a point: convergence is the azimuth of grid north
// measured from true north, degrees clockwise; scale is grid length over
// ellipsoid length.
type Factors struct{ ConvergenceDeg, Scale float64 }

// Source of the UTM constants: EPSG dataset, projection method 9807 with the
// parameters of conversions 16001-16060 and 16101-16160.
const (
	utmScale          = 0.9996
	utmFalseEastingM  = 500000
	utmFalseNorthingM = 10000000 // south only
	utmReachDeg       = 30       // from the meridian; the series keeps 1 mm well beyond
	utmLatLimit       = 84.5     // a margin over the nominal 84 north and 80 south
	utmReachM         = 3.5e6    // about utmReachDeg on the equator
	utmNorthM         = 9.4e6    // about utmLatLimit
)

// UTM returns the WGS 84 UTM grid of a position's regular six-degree zone.
// The widened zones around Norway and Svalbard are not observed.
func UTM(p LonLat) Projection {
	zone := int(math.Floor((p.Lon+180)/6)) + 1
	return Projection{Datum: WGS84, Zone: min(zone, 60), South: p.Lat < 0}
}

// WithOperation returns the projection using the datum operation of that EPSG code.
func (c Projection) WithOperation(epsg int) (Projection, error) {
	op, err := OperationByCode(epsg)
	if err == nil && op.Datum != c.Datum {
		err = fmt.Errorf("coord: operation %v is not for %v", op, c.Datum)
	}
	if err != nil {
		return Projection{}, err
	}
	c.Operation = epsg
	return c, nil
}

// String returns the EPSG style of name, such as "Arc 1950 / UTM zone 36S".
func (c Projection) String() string {
	letter := "N"
	if c.South {
		letter = "S"
	}
	return fmt.Sprintf("%v / UTM zone %d%s", c.Datum, c.Zone, letter)
}

// Project returns a WGS 84 position on the grid, with the grid's factors there.
//
//   - Units: degrees in, metres out.
//   - Domain: within 30 degrees of the zone's meridian, latitude within ±84.5.
//   - Errors: [ErrPosition] outside the domain; an unknown datum, zone or operation.
//   - Source: Krüger series of order 6, Karney (2011).
//   - Checked by: TestUTMReference, TestUTMFactors, TestUTMRoundTrip.
func (c Projection) Project(p LonLat) (Projected, Factors, error) {
	op, err := c.operation()
	if err != nil {
		return Projected{}, Factors{}, err
	}
	local := op.FromWGS84(p)
	lon := wrapDeg(local.Lon - c.meridianDeg())
	if !p.Valid() || math.Abs(lon) > utmReachDeg || math.Abs(local.Lat) > utmLatLimit {
		return Projected{}, Factors{}, fmt.Errorf("%w: %v is not on %v", ErrPosition, p, c)
	}
	x, y, f := datums[c.Datum].projection.forward(lon, local.Lat)
	f.Scale *= utmScale
	return Projected{CRS: c, EastingM: utmFalseEastingM + utmScale*x, NorthingM: c.falseNorthingM() + utmScale*y}, f, nil
}

// LonLat returns the grid position on WGS 84 and the datum operation used.
//
//   - Units: metres in, degrees out.
//   - Domain: as Project.
//   - Errors: as Project.
//   - Source: as Project.
//   - Checked by: TestLocalGridReference, TestUTMRoundTrip.
func (q Projected) LonLat() (LonLat, Operation, error) {
	op, err := q.CRS.operation()
	if err != nil {
		return LonLat{}, Operation{}, err
	}
	x := (q.EastingM - utmFalseEastingM) / utmScale
	y := (q.NorthingM - q.CRS.falseNorthingM()) / utmScale
	if !(math.Abs(x) <= utmReachM && math.Abs(y) <= utmNorthM) {
		return LonLat{}, Operation{}, fmt.Errorf("%w: %v, %v is not on %v", ErrPosition, q.EastingM, q.NorthingM, q.CRS)
	}
	lon, lat := datums[q.CRS.Datum].projection.inverse(x, y)
	return op.ToWGS84(LonLat{Lon: wrapDeg(lon + q.CRS.meridianDeg()), Lat: lat}), op, nil
}

func (c Projection) meridianDeg() float64 { return float64(c.Zone*6 - 183) }

func (c Projection) falseNorthingM() float64 {
	if c.South {
		return utmFalseNorthingM
	}
	return 0
}

// operation checks the projection and returns the operation it uses.
func (c Projection) operation() (Operation, error) {
	if !c.Datum.known() || c.Zone < 1 || c.Zone > 60 {
		return Operation{}, fmt.Errorf("coord: no such grid: %v", c)
	}
	if c.Operation == 0 {
		return c.Datum.DefaultOperation(), nil
	}
	checked, err := c.WithOperation(c.Operation)
	if err != nil {
		return Operation{}, err
	}
	return OperationByCode(checked.Operation)
}
