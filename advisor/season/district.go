package season

import (
	"cmp"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// DistrictKind is the kind of the boundaries that villages are counted by.
const DistrictKind = "district"

// districts are the outlines that places are counted by.
type districts []outline

type outline struct {
	name  string
	shape orb.MultiPolygon
	box   orb.Bound
}

func (r *Records) districts() (out districts) {
	for _, b := range r.Boundaries {
		if b.Kind == DistrictKind {
			out = append(out, outline{b.Name, b.Shape, b.Shape.Bound()})
		}
	}
	slices.SortStableFunc(out, func(a, b outline) int { return cmp.Compare(a.name, b.name) })
	return out
}

// of names the district that a place lies in, "" where none is known. Of districts that
// overlap the first by name counts.
func (d districts) of(at coord.LonLat) string {
	p := orb.Point{at.Lon, at.Lat}
	for _, x := range d {
		if x.box.Contains(p) && planar.MultiPolygonContains(x.shape, p) {
			return x.name
		}
	}
	return ""
}

// outlines are the districts; where there are none, every boundary.
func (r *Records) outlines() []geo.Boundary {
	var districts []geo.Boundary
	for _, b := range r.Boundaries {
		if b.Kind == DistrictKind {
			districts = append(districts, b)
		}
	}
	if len(districts) == 0 {
		return r.Boundaries
	}
	return districts
}

// Drilled is how many bores of the records lie in a district that has villages.
type Drilled struct {
	District string `json:"district"` // "" for villages in none
	Bores    int    `json:"bores"`
}

// drilled counts the bores of each district that has villages, by its name.
func drilled(villages []Village, bores []geo.Bore, d districts) (out []Drilled) {
	at := map[string]int{}
	for _, v := range villages {
		if _, there := at[v.District]; !there {
			at[v.District], out = len(out), append(out, Drilled{District: v.District})
		}
	}
	for i := range bores {
		if p, known := bores[i].Position.Get(); known {
			if k, there := at[d.of(p.Pos)]; there {
				out[k].Bores++
			}
		}
	}
	slices.SortFunc(out, func(a, b Drilled) int { return cmp.Compare(a.District, b.District) })
	return out
}
