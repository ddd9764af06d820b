package coord

// epsgRange is a run of EPSG codes for the zones of one UTM family: the code of
// zone z is base + z.
type epsgRange struct {
	datum       Datum
	south       bool
	base        int
	first, last int // zones that EPSG defines
}

// Source: EPSG dataset v10.076.
var epsgRanges = []epsgRange{
	{WGS84, false, 32600, 1, 60},
	{WGS84, true, 32700, 1, 60},
	{Arc1950, true, 20900, 34, 36},
	{Arc1960, true, 21000, 35, 37},
	{Arc1960, false, 21060, 35, 37},
	{Adindan, false, 20100, 35, 38},
	{Minna, false, 26300, 31, 32},
}

func (r epsgRange) holds(zone int) bool { return zone >= r.first && zone <= r.last }

// EPSG returns the grid's code; ok is false where EPSG defines none.
func (c Projection) EPSG() (code int, ok bool) {
	for _, r := range epsgRanges {
		if r.datum == c.Datum && r.south == c.South && r.holds(c.Zone) {
			return r.base + c.Zone, true
		}
	}
	return 0, false
}

func projectionByEPSG(code int) (Projection, bool) {
	for _, r := range epsgRanges {
		if zone := code - r.base; r.holds(zone) {
			return Projection{Datum: r.datum, Zone: zone, South: r.south}, true
		}
	}
	return Projection{}, false
}
