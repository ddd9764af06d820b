package demoland

import (
	"fmt"
	"math"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/google/uuid"
)

// Counts of what the offices hold.
const (
	villageCount = 120
	boreCount    = 400
)

// Records is everything that the region's offices know, written down cleanly: words,
// positions and depths as honest crews gave them, errors of reading and naming included.
type Records struct {
	Villages []geo.Village
	Bores    []geo.Bore
	Points   []geo.WaterPoint
	Boundary geo.Boundary
	Rivers   []geo.River
}

// Records writes the region's records. The same seed gives the same ones, identifiers
// included.
func (l *Land) Records() Records {
	names := newNamer(stream(l.seed, "names"))
	region := names.draw()
	var out Records
	out.Boundary = l.boundary(region)
	out.Rivers = l.riverRecords(names)
	out.Villages = l.villages(names)
	out.Bores = l.bores(out.Villages)
	out.Points = l.points(out.Villages, out.Bores)
	return out
}

// id is a permanent identifier that depends on the seed, the kind of record and its
// number alone (UUID version 5, RFC 9562).
func (l *Land) id(kind string, number int) string {
	return uuid.NewSHA1(uuid.NameSpaceOID, fmt.Appendf(nil, "demoland/%d/%s/%d", l.seed, kind, number)).String()
}

// position is a reading of a point by a hand-held receiver, to a hundred-thousandth of
// a degree.
func (l *Land) position(q pt) coord.Reading {
	p := l.lonLat(q)
	p.Lon, p.Lat = round(p.Lon, 1e-5), round(p.Lat, 1e-5)
	return coord.Reading{
		Pos: p, AsRead: fmt.Sprintf("%.5f %.5f", p.Lon, p.Lat), CRS: "WGS 84", PrecisionM: 0.6,
	}
}

func round(x, step float64) float64 {
	per := math.Round(1 / step)
	return math.Round(x*per) / per
}

func provenance(by string) geo.Provenance {
	return geo.Provenance{By: by, Licence: "CC0-1.0"}
}

func dateOf(t time.Time) geo.Opt[geo.Date] { return geo.Some(geo.DateOf(t)) }
