package coord

import "math"

// Reading is a position as it was written and as it was understood.
type Reading struct {
	Pos        LonLat  `json:"pos"`
	AsRead     string  `json:"asRead,omitempty"`    // the text, longitude or easting first where there were two
	CRS        string  `json:"crs,omitempty"`       // the reference system it was read in, by its EPSG name
	Operation  string  `json:"operation,omitempty"` // the datum operation used, "" where none was needed
	PrecisionM float64 `json:"precisionM,omitzero"` // 0 where it is not known
}

// The grid coordinates that people write. A UTM zone is at most 668 km wide around an
// easting of 500 km, and people use a zone a little beyond its edge; what lies outside
// has lost or gained a digit.
const (
	leastEastingM = 100_000
	mostEastingM  = 900_000
	mostNorthingM = 10_000_000
)

// metresPerDegree is one degree of the equator, enough for a precision.
const metresPerDegree = 111320

// ReadLonLat reads a longitude and a latitude on WGS 84, in that order, as
// [ReadAngle] reads each.
//
//   - Units: PrecisionM is half a unit of the last digit written, the larger of
//     the two directions, in metres.
//   - Errors: [ReadError] naming the coordinate.
//   - Checked by: TestReadLonLat.
func ReadLonLat(lonText, latText string) (Reading, error) {
	return ReadLonLatOn(WGS84, lonText, latText)
}

// ReadLonLatOn reads a longitude and a latitude on a datum and moves them to
// WGS 84 by the datum's default operation, whose stated accuracy is added to
// PrecisionM.
//
//   - Units, Errors: as [ReadLonLat].
//   - Checked by: TestReadLonLat.
func ReadLonLatOn(d Datum, lonText, latText string) (Reading, error) {
	if !d.known() {
		return Reading{}, &ReadError{Part: PartDatum, Text: d.String(), Code: Unsupported}
	}
	lon, lonHalf, err := ReadAngle(lonText, Longitude)
	if err != nil {
		return Reading{}, err
	}
	lat, latHalf, err := ReadAngle(latText, Latitude)
	if err != nil {
		return Reading{}, err
	}
	op := d.DefaultOperation()
	_, cosLat := sincosDeg(lat)
	return Reading{
		Pos:        op.ToWGS84(LonLat{Lon: lon, Lat: lat}),
		AsRead:     lonText + " " + latText,
		CRS:        d.String(),
		Operation:  op.String(),
		PrecisionM: metresPerDegree*math.Max(latHalf, lonHalf*cosLat) + op.AccuracyM,
	}, nil
}

// ReadProjected reads an easting and a northing in metres on a grid and moves
// them to WGS 84 by the operation the grid names, or the default.
//
//   - Units: PrecisionM as in [ReadLonLatOn].
//   - Domain: within 30 degrees of the meridian.
//   - Errors: [ReadError] naming the coordinate. A lone group of three digits
//     after a dot or comma (777,230) may be thousands or decimals: Ambiguous.
//   - Checked by: TestReadProjected, FuzzReadProjected.
func ReadProjected(eastText, northText string, crs Projection) (Reading, error) {
	east, eastHalf, err := readMetres(eastText, PartEasting)
	if err != nil {
		return Reading{}, err
	}
	north, northHalf, err := readMetres(northText, PartNorthing)
	if err != nil {
		return Reading{}, err
	}
	if east < leastEastingM || east > mostEastingM {
		return Reading{}, &ReadError{Part: PartEasting, Text: clip(eastText), Code: OutOfRange}
	}
	if north < 0 || north > mostNorthingM {
		return Reading{}, &ReadError{Part: PartNorthing, Text: clip(northText), Code: OutOfRange}
	}
	pos, op, err := Projected{CRS: crs, EastingM: east, NorthingM: north}.LonLat()
	if err != nil {
		return Reading{}, &ReadError{Part: PartPair, Text: clip(eastText + " " + northText), Code: OutOfRange}
	}
	return Reading{
		Pos:        pos,
		AsRead:     eastText + " " + northText,
		CRS:        crs.String(),
		Operation:  op.String(),
		PrecisionM: math.Max(eastHalf, northHalf) + op.AccuracyM,
	}, nil
}
