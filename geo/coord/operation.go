package coord

import (
	"fmt"
	"math"
	"slices"
)

// Helmert holds the parameters of a datum shift in the position-vector
// convention: translations in metres, rotations in arc seconds, scale in parts
// per million.
type Helmert struct {
	DXM, DYM, DZM       float64
	RXSec, RYSec, RZSec float64
	ScalePPM            float64
}

// Operation is one published way from a local datum to WGS 84. Several exist
// for one datum and differ by metres to tens of metres, so the one used is kept
// with each converted position. The zero Operation is none at all: WGS 84 as read.
type Operation struct {
	EPSG      int
	Name      string
	Area      string // where it is meant to be used, as EPSG words it
	Datum     Datum
	AccuracyM float64 // as EPSG states it
	Shift     Helmert
}

// operations lists what can be chosen. Source: EPSG dataset v10.076 as shipped
// with PROJ 9.1.1 (name, parameters, accuracy, area).
var operations = []Operation{
	{1113, "Arc 1950 to WGS 84 (1)", "Botswana; Eswatini; Lesotho; Malawi; Zambia; Zimbabwe", Arc1950, 44, Helmert{DXM: -143, DYM: -90, DZM: -294}},
	{1114, "Arc 1950 to WGS 84 (2)", "Botswana", Arc1950, 7, Helmert{DXM: -138, DYM: -105, DZM: -289}},
	{1117, "Arc 1950 to WGS 84 (5)", "Malawi", Arc1950, 27, Helmert{DXM: -161, DYM: -73, DZM: -317}},
	{1120, "Arc 1950 to WGS 84 (8)", "Zambia", Arc1950, 41, Helmert{DXM: -147, DYM: -74, DZM: -283}},
	{6906, "Arc 1950 to WGS 84 (10)", "Zimbabwe", Arc1950, 17, Helmert{DXM: -145, DYM: -97, DZM: -292}},
	{6904, "Arc 1950 to WGS 84 (11)", "Malawi", Arc1950, 29, Helmert{DXM: -179, DYM: -81, DZM: -314}},
	{1122, "Arc 1960 to WGS 84 (1)", "Kenya; Tanzania", Arc1960, 35, Helmert{DXM: -160, DYM: -6, DZM: -302}},
	{1284, "Arc 1960 to WGS 84 (2)", "Kenya - onshore", Arc1960, 6, Helmert{DXM: -157, DYM: -2, DZM: -299}},
	{1285, "Arc 1960 to WGS 84 (3)", "Tanzania - onshore", Arc1960, 15, Helmert{DXM: -175, DYM: -23, DZM: -303}},
	{1100, "Adindan to WGS 84 (1)", "Eritrea; Ethiopia; South Sudan; Sudan", Adindan, 9, Helmert{DXM: -166, DYM: -15, DZM: 204}},
	{1103, "Adindan to WGS 84 (4)", "Ethiopia", Adindan, 6, Helmert{DXM: -165, DYM: -11, DZM: 206}},
	{1106, "Adindan to WGS 84 (7)", "South Sudan; Sudan - onshore", Adindan, 7, Helmert{DXM: -161, DYM: -14, DZM: 205}},
	{1168, "Minna to WGS 84 (2)", "Nigeria - onshore and offshore", Minna, 15, Helmert{DXM: -92, DYM: -93, DZM: 122}},
	{1754, "Minna to WGS 84 (3)", "Nigeria - onshore south", Minna, 5, Helmert{
		DXM: -111.92, DYM: -87.85, DZM: 114.5, RXSec: 1.875, RYSec: 0.202, RZSec: 0.219, ScalePPM: 0.032,
	}},
	{1167, "Minna to WGS 84 (1)", "Cameroon - onshore", Minna, 44, Helmert{DXM: -81, DYM: -84, DZM: 115}},
}

// OperationByCode returns the operation with that EPSG code.
func OperationByCode(epsg int) (Operation, error) {
	i := slices.IndexFunc(operations, func(o Operation) bool { return o.EPSG == epsg })
	if i < 0 {
		return Operation{}, fmt.Errorf("coord: no datum operation EPSG:%d; choose one of Datum.Operations", epsg)
	}
	return operations[i], nil
}

// Operations returns the datum's operations in a fixed order, the default first.
// WGS 84 has none.
func (d Datum) Operations() []Operation {
	var out []Operation
	for _, o := range operations {
		if o.Datum == d {
			out = append(out, o)
		}
	}
	return out
}

// DefaultOperation returns the operation used when none is named: the one with
// the widest area of use, which is seldom the most accurate. Arc 1950 EPSG:1113,
// Arc 1960 EPSG:1122, Adindan EPSG:1100, Minna EPSG:1168. For WGS 84 it is the
// zero Operation.
func (d Datum) DefaultOperation() Operation {
	if ops := d.Operations(); len(ops) > 0 {
		return ops[0]
	}
	return Operation{}
}

// String returns the code and name, or "" for the zero Operation.
func (o Operation) String() string {
	if o.EPSG == 0 {
		return ""
	}
	return fmt.Sprintf("EPSG:%d %s", o.EPSG, o.Name)
}

// ToWGS84 moves a position on the operation's datum to WGS 84. Ground height is
// taken as 0, which costs under 1 mm per 100 m of height.
//
//   - Units: degrees.
//   - Domain: any valid position; the zero Operation leaves it as it is.
//   - Errors: none.
//   - Source: EPSG Guidance Note 7-2, methods 9603 and 9606, with geocentric
//     conversion both ways.
//   - Checked by: TestDatumReference.
func (o Operation) ToWGS84(local LonLat) LonLat {
	if o.EPSG == 0 {
		return local
	}
	return wgs84.geodetic(o.Shift.apply(datums[o.Datum].figure.cartesian(local)))
}

// FromWGS84 is the inverse of ToWGS84.
//
//   - Units: degrees.
//   - Checked by: TestDatumRoundTrip.
func (o Operation) FromWGS84(p LonLat) LonLat {
	local := p
	for range 4 { // each round shrinks the error by the shift over the earth's radius
		back := o.ToWGS84(local)
		local.Lon = wrapDeg(local.Lon + wrapDeg(p.Lon-back.Lon))
		local.Lat = max(-90, min(90, local.Lat+p.Lat-back.Lat))
	}
	return local
}

func (h Helmert) apply(v vec) vec {
	const second = math.Pi / 180 / 3600
	rx, ry, rz := h.RXSec*second, h.RYSec*second, h.RZSec*second
	m := 1 + h.ScalePPM*1e-6
	return vec{
		h.DXM + m*(v.x-rz*v.y+ry*v.z),
		h.DYM + m*(rz*v.x+v.y-rx*v.z),
		h.DZM + m*(-ry*v.x+rx*v.y+v.z),
	}
}
