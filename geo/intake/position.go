package intake

import (
	"cmp"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// position reads where the record lies. A position outside the box of the data set is
// kept as read and doubted: nothing is swapped or given another sign.
func (c *cells) position(within []float64) geo.Opt[coord.Reading] {
	p := c.table.place
	if p == nil {
		return geo.Opt[coord.Reading]{}
	}
	first, second := c.coordinate(p, p.first), c.coordinate(p, p.second)
	name := c.placeName(p)
	if first == "" || second == "" && p.second >= 0 {
		c.report(geo.Doubt, MissingPosition, name, strings.TrimSpace(first+" "+second))
		return geo.Opt[coord.Reading]{}
	}
	at, err := c.readPosition(p, first, second)
	if err != nil {
		c.report(geo.Rejected, BadPosition, name, strings.TrimSpace(first+" "+second))
		return geo.Opt[coord.Reading]{}
	}
	at.PrecisionM = max(at.PrecisionM, c.leastPrecision(p))
	if len(within) == 4 && !inside(within, at.Pos) {
		c.report(geo.Doubt, OutsideBoundary, name, at.AsRead)
	}
	return geo.Some(at)
}

func (c *cells) placeName(p *place) string {
	if p.second < 0 {
		return c.table.header[p.first]
	}
	return c.table.header[p.first] + ", " + c.table.header[p.second]
}

func (c *cells) coordinate(p *place, at int) string {
	if at < 0 {
		return ""
	}
	text := c.valid(at)
	if slices.Contains(p.missing, text) {
		return ""
	}
	return text
}

func (c *cells) readPosition(p *place, first, second string) (coord.Reading, error) {
	switch p.Kind {
	case "projected":
		grid, err := coord.ParseProjection(c.gridName(p))
		if err != nil {
			return coord.Reading{}, err
		}
		return coord.ReadProjected(first, second, grid)
	case "pair":
		return coord.ReadPair(first, orders[p.Order])
	}
	datum := coord.WGS84
	if p.Datum != "" {
		var err error
		if datum, err = coord.ParseDatum(p.Datum); err != nil {
			return coord.Reading{}, err
		}
	}
	return coord.ReadLonLatOn(datum, first, second)
}

var orders = map[string]coord.Order{"": coord.UnknownOrder, "lon-lat": coord.LonLatOrder, "lat-lon": coord.LatLonOrder}

// gridName puts the row's own texts into the name of its grid.
func (c *cells) gridName(p *place) string {
	name := ""
	for _, part := range p.crs {
		if part.at < 0 {
			name += part.text
		} else {
			name += c.valid(part.at)
		}
	}
	return name
}

// atBestM is how close a hand-held receiver comes to the truth under open sky, metres
// (common practice, no source). A receiver writes more digits than it knows.
const atBestM = 5

// leastPrecision returns how far off a position may be whatever its digits say: what its
// own column says, or else what receivers reach.
func (c *cells) leastPrecision(p *place) float64 {
	if f := p.precision; f != nil {
		if text := c.cell(f); text != "" {
			if v, ok := c.quantity(f, text, lengthUnits); ok && v >= 0 {
				return v
			}
		}
	}
	return cmp.Or(p.AtBestM, atBestM)
}

func inside(box []float64, p coord.LonLat) bool {
	return p.Lon >= box[0] && p.Lon <= box[2] && p.Lat >= box[1] && p.Lat <= box[3]
}
