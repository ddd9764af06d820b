package season

import (
	"math"
	"strconv"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// Spot is one place about a village where a crew could drill.
type Spot struct {
	Name   string            `json:"name"` // within its village: the middle, then round it
	At     coord.LonLat      `json:"at"`
	WalkM  float64           `json:"walkM"`
	Left   geo.Opt[geo.Code] `json:"left,omitzero"` // why it is not looked at further
	Risk   geo.Opt[float64]  `json:"risk,omitzero"` // chance that salt or chemicals make the water unfit; missing where too few bores were tested
	Ways   []Way             `json:"ways,omitempty"`
	Unsure bool              `json:"unsure,omitempty"` // the advice there is "not enough evidence"
}

// Way is one method at a spot with what it takes.
type Way struct {
	Method geo.Method             `json:"method"`
	Chance float64                `json:"chance"`
	WellM  geo.Opt[advisor.Range] `json:"wellM,omitzero"` // depth of the wells that work
	Cost   float64                `json:"cost"`           // whatever comes of it
	Weeks  float64                `json:"weeks"`
	each   []float64              // the chance in every picture
}

// Why a spot is not looked at further.
const (
	BesideRiver geo.Code = "season.spot.beside-river" // of the records
	Floods      geo.Code = "season.spot.floods"       // hardly above the river, by the elevations
)

const (
	aroundSpots = 6
	aroundShare = 0.6  // of the way that people walk
	riverM      = 50.0 // a spot stays away from a river: common practice, no source
	aboveRiverM = 1.0  // and above it, where elevations are known: common practice, no source
	spotsKept   = 3    // of one village, that the programme chooses from
	waysKept    = 2    // of one spot
)

// candidates are the middle of a village and a ring of spots well within the way that
// people walk.
func candidates(at coord.LonLat, walkM float64) []Spot {
	plane := coord.NewPlane(at)
	out := []Spot{{Name: "0", At: at}}
	r := aroundShare * walkM
	for k := range aroundSpots {
		turn := 2 * math.Pi * float64(k) / aroundSpots
		p := plane.LonLat(coord.XY{X: r * math.Sin(turn), Y: r * math.Cos(turn)})
		out = append(out, Spot{Name: strconv.Itoa(k + 1), At: p, WalkM: coord.DistanceM(at, p)})
	}
	return out
}

// rivers are the rivers of the records, to tell how far one is.
type rivers []river

type river struct {
	line orb.LineString
	box  orb.Bound
}

func riversOf(all []geo.River) rivers {
	out := make(rivers, len(all))
	for i, r := range all {
		out[i] = river{r.Line, r.Line.Bound()}
	}
	return out
}

// beside reports that a river runs within a distance of a place.
func (r rivers) beside(at coord.LonLat, withinM float64) bool {
	plane := coord.NewPlane(at)
	degrees := 2 * withinM / 111_000
	for _, x := range r {
		if !x.box.Pad(degrees / max(math.Cos(at.Lat*math.Pi/180), 0.01)).Contains(orb.Point{at.Lon, at.Lat}) {
			continue
		}
		line := make(orb.LineString, len(x.line))
		for i, p := range x.line {
			q := plane.XY(coord.LonLat{Lon: p[0], Lat: p[1]})
			line[i] = orb.Point{q.X, q.Y}
		}
		if planar.DistanceFrom(line, orb.Point{}) < withinM {
			return true
		}
	}
	return false
}
