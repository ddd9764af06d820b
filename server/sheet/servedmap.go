package sheet

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// mostVessels is how many villages are drawn one by one; of more, those of one square of
// the map are drawn as one.
const mostVessels = 1500

// drawServed maps who has water: a vessel for each village, filled to the share of its
// people; false where no village with people has a place.
func (s speaker) drawServed(a *season.Account) (scene draw.Scene, there bool, err error) {
	places, people := located(a)
	if len(places) == 0 {
		return scene, false, nil
	}
	plane := coord.NewPlane(places[0])
	var d draw.VesselMap
	largest := 0.0
	for i, at := range places {
		xy := plane.XY(at)
		d.Vessels = append(d.Vessels, draw.Vessel{At: draw.Point{X: xy.X, Y: xy.Y}, Amount: people[i].living, Share: people[i].served / people[i].living})
	}
	if len(d.Vessels) > mostVessels {
		d.Vessels = bySquares(d.Vessels)
	}
	for _, v := range d.Vessels {
		largest = max(largest, v.Amount)
	}
	d.Outline, d.Names = outlines(plane, a.Boundaries)
	title := s.Say("plot.served-map.title")
	scene, err = draw.Vessels(d, draw.MapOptions{
		WidthMM: plotMM, HeightMM: plotMM, ID: "served-map-", Title: title, Desc: s.Say("plot.served-map.desc"), North: s.Say("drawing.north"), Distance: s.distance,
		Words: map[string]string{
			"vessel.full": s.Say("plot.vessel.full"), "vessel.half": s.Say("plot.vessel.half"), "vessel.empty": s.Say("plot.vessel.empty"),
			"vessel.largest": s.Say("plot.vessel.largest", say.With("n", say.Count(int(math.Round(largest))))), "boundary": s.Say("drawing.boundary"),
		},
	})
	return scene, err == nil, err
}

type counted struct{ living, served float64 }

// located lists the villages whose people and place are known.
func located(a *season.Account) (places []coord.LonLat, people []counted) {
	for _, v := range a.Now.Villages {
		at, placed := a.Places[v.ID].Get()
		n := v.People.Or(0)
		if placed && n > 0 {
			places = append(places, coord.LonLat{Lon: at.Lon, Lat: at.Lat})
			people = append(people, counted{float64(n), float64(v.Served)})
		}
	}
	return places, people
}

// outlines projects boundaries, with a name in the middle of each where there are several.
func outlines(plane coord.Plane, all []geo.Boundary) (rings [][]draw.Point, names []draw.MapVillage) {
	for _, b := range all {
		if len(all) > 1 && len(b.Shape) > 0 {
			middle, _ := planar.CentroidArea(b.Shape)
			xy := plane.XY(coord.LonLat{Lon: middle[0], Lat: middle[1]})
			names = append(names, draw.MapVillage{At: draw.Point{X: xy.X, Y: xy.Y}, Name: b.Name})
		}
		for _, polygon := range b.Shape {
			for _, ring := range polygon {
				rings = append(rings, onPlane(plane, ring))
			}
		}
	}
	return rings, names
}

// onPlane projects a ring, without corners that no drawing shows.
func onPlane(plane coord.Plane, ring orb.Ring) (out []draw.Point) {
	step := max(1, len(ring)/400)
	for i := 0; i < len(ring); i += step {
		xy := plane.XY(coord.LonLat{Lon: ring[i][0], Lat: ring[i][1]})
		out = append(out, draw.Point{X: xy.X, Y: xy.Y})
	}
	return out
}

// bySquares gathers vessels by the squares of a grid, 30 along the longer side; each lies in
// the middle of its people.
func bySquares(all []draw.Vessel) []draw.Vessel {
	low, high := all[0].At, all[0].At
	for _, v := range all {
		low = draw.Point{X: min(low.X, v.At.X), Y: min(low.Y, v.At.Y)}
		high = draw.Point{X: max(high.X, v.At.X), Y: max(high.Y, v.At.Y)}
	}
	side := max(high.X-low.X, high.Y-low.Y, 1) / 30
	type square struct{ x, y int }
	sums := map[square]*draw.Vessel{}
	for _, v := range all {
		at := square{int((v.At.X - low.X) / side), int((v.At.Y - low.Y) / side)}
		if sums[at] == nil {
			sums[at] = new(draw.Vessel)
		}
		s := sums[at]
		s.At.X, s.At.Y = s.At.X+v.Amount*v.At.X, s.At.Y+v.Amount*v.At.Y
		s.Amount, s.Share = s.Amount+v.Amount, s.Share+v.Amount*v.Share
	}
	var out []draw.Vessel
	for _, s := range sums {
		out = append(out, draw.Vessel{At: draw.Point{X: s.At.X / s.Amount, Y: s.At.Y / s.Amount}, Amount: s.Amount, Share: min(s.Share/s.Amount, 1)})
	}
	slices.SortFunc(out, func(a, b draw.Vessel) int { return cmp.Or(cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y)) })
	return out
}
