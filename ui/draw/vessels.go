package draw

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Vessel is a group of people at a place, and the share of them that has something. It is
// drawn as a round vessel, filled from below.
type Vessel struct {
	At     Point
	Amount float64 // at least 0
	Share  float64 // 0 to 1
}

// VesselMap is what lies in the mapped area, in metres of one projected plane, X east and
// Y north.
type VesselMap struct {
	Vessels []Vessel
	Outline [][]Point // closed rings
	Names   []MapVillage
}

// Radii of the vessels: the largest by area, and the least that can still be seen.
const (
	mostVesselMM  = 2.8
	leastVesselMM = 0.7
)

const vesselFill = "#1769aa"

// Vessels draws a map of vessels whose areas go by their amounts and whose filled parts go
// by their shares, with a scale bar and a legend. The words are "vessel.full",
// "vessel.half", "vessel.empty", "vessel.largest" and "boundary".
//
//   - Units: coordinates in m, sizes in mm; one scale in both directions.
//   - Errors: nothing to draw, amounts and shares out of range, no room.
//   - Checked by: TestVesselsAreFilledByArea.
func Vessels(d VesselMap, o MapOptions) (Scene, error) {
	if len(d.Vessels) == 0 {
		return Scene{}, errors.New("draw: a map without vessels")
	}
	most := 0.0
	for _, v := range d.Vessels {
		if !(v.Amount >= 0) || !(v.Share >= 0 && v.Share <= 1) || !finite(v.Amount) {
			return Scene{}, fmt.Errorf("draw: a vessel of %v filled to %v", v.Amount, v.Share)
		}
		most = max(most, v.Amount)
	}
	area := noExtent()
	for _, v := range d.Vessels {
		area = area.with(v.At)
	}
	for _, ring := range d.Outline {
		area = area.with(ring...)
	}
	if err := area.check(); err != nil {
		return Scene{}, err
	}
	entries := vesselEntries(o.Words, len(d.Outline) > 0)
	return northUp(area.grown(0.12, 0.12, 50), entries, o, func(f frame) []Item { return vesselGround(f, d, most) })
}

// vesselGround draws the outlines, then the vessels, the largest first, and names over them.
func vesselGround(f frame, d VesselMap, most float64) (items []Item) {
	for _, ring := range d.Outline {
		items = append(items, Path{Points: f.points(ring), Closed: true, Stroke: boundaryLine})
	}
	order := slices.Clone(d.Vessels)
	slices.SortStableFunc(order, func(a, b Vessel) int { return cmp.Compare(b.Amount, a.Amount) })
	for _, v := range order {
		r := leastVesselMM
		if most > 0 {
			r = max(r, mostVesselMM*math.Sqrt(v.Amount/most))
		}
		items = append(items, vessel(f.point(v.At.X, v.At.Y), r, v.Share)...)
	}
	for _, n := range d.Names {
		at := f.point(n.At.X, n.At.Y)
		items = append(items, Text{At: at, Words: n.Name, SizeMM: textMM, Anchor: Middle, Halo: true})
	}
	return items
}

// vessel draws a disc whose lower part, by area, is full.
func vessel(at Point, r, share float64) []Item {
	edge := line(ink, 0.2)
	fill := "#ffffff"
	if share >= 1 {
		fill = vesselFill
	}
	items := []Item{Circle{Center: at, RadiusMM: r, Fill: Fill{Color: fill}, Stroke: edge}}
	if share <= 0 || share >= 1 {
		return items
	}
	half := halfAngle(share) * 180 / math.Pi
	const corners = 24
	part := around(at, r, corners, 90-half, 2*half*corners/(corners-1))
	return append(items, Path{Points: part, Closed: true, Fill: Fill{Color: vesselFill}})
}

// halfAngle is half the angle, in radians, of the segment that has a share of a disc.
func halfAngle(share float64) float64 {
	lo, hi := 0.0, math.Pi
	for range 50 {
		if mid := (lo + hi) / 2; mid-math.Sin(mid)*math.Cos(mid) < share*math.Pi {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

func vesselEntries(words map[string]string, outlined bool) (out []entry) {
	for _, e := range []struct {
		key   string
		r     float64
		share float64
	}{{"vessel.full", 1.5, 1}, {"vessel.half", 1.5, 0.5}, {"vessel.empty", 1.5, 0}, {"vessel.largest", mostVesselMM, 0}} {
		out = append(out, entry{named(e.key, words), func(at Rect) []Item { return vessel(at.center(), e.r, e.share) }})
	}
	if outlined {
		out = append(out, lineEntry(named("boundary", words), boundaryLine))
	}
	return out
}
