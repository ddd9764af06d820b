package check

import (
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// villages are the places that bores may be named after. Several may share a name.
type villages struct {
	byName map[string][]coord.LonLat
	byID   map[geo.VillageID]coord.LonLat
	names  map[geo.VillageID]string
}

func (v *villages) add(village geo.Village) error {
	if v.byID == nil {
		v.byName, v.byID = map[string][]coord.LonLat{}, map[geo.VillageID]coord.LonLat{}
		v.names = map[geo.VillageID]string{}
	}
	name := geo.FoldName(village.Name)
	v.byName[name] = append(v.byName[name], village.Position.Pos)
	v.byID[village.ID] = village.Position.Pos
	v.names[village.ID] = village.Name
	return nil
}

// of lists where the village of a bore may be; none where it is not known.
func (v *villages) of(h *hole) []coord.LonLat {
	if at, known := v.byID[h.village]; known && h.village != "" {
		return []coord.LonLat{at}
	}
	if h.place == "" {
		return nil
	}
	return v.byName[h.place]
}

// settleFar finds how far from its village a bore may lie: twice what nine in ten do, so
// that a base of neat villages shows more than one of scattered farms.
func (s *survey) settleFar() {
	const leastM = 1000.0
	s.farM = s.FarM
	var away []float64
	for i := range s.holes {
		if h := &s.holes[i]; h.placed {
			if named := s.villages.of(h); len(named) > 0 {
				away = append(away, nearestM(h.at, named))
			}
		}
	}
	if slices.Sort(away); len(away) >= fewestUsual {
		s.farM = min(s.FarM, max(leastM, 2*quantile(away, 0.9)))
	}
}

// otherVillage reports a bore that is linked to one village and bears the name of another.
func (s *survey) otherVillage(h *hole) {
	linked, known := s.villages.byID[h.village]
	named := s.villages.byName[h.place]
	if !known || h.village == "" || len(named) == 0 {
		return
	}
	if apart := nearestM(linked, named); apart > 0 {
		h.say(VillageOther, geo.With("village", geo.Text(s.villages.names[h.village])), geo.With("distance", geo.DistanceM(apart)))
	}
}

// standIn lets the bores of a place that is no known village stand for it, where most of
// them lie together: a slip of writing then shows.
func (s *survey) standIn() {
	const fewest = 5
	s.standIns = map[string]coord.LonLat{}
	byPlace := map[string][]coord.LonLat{}
	for i := range s.holes {
		h := &s.holes[i]
		if h.placed && h.place != "" && len(s.villages.of(h)) == 0 {
			byPlace[h.place] = append(byPlace[h.place], h.at)
		}
	}
	for place, spots := range byPlace {
		if len(spots) < fewest {
			continue
		}
		if middle, together := s.middle(spots); together {
			s.standIns[place] = middle
		}
	}
}

// middle is the median position of some spots, and whether four in five lie around it.
func (s *survey) middle(spots []coord.LonLat) (middle coord.LonLat, together bool) {
	var lons, lats []float64
	for _, p := range spots {
		lons, lats = append(lons, p.Lon), append(lats, p.Lat)
	}
	middle, near := coord.LonLat{Lon: median(lons), Lat: median(lats)}, 0
	for _, p := range spots {
		if coord.DistanceM(middle, p) < s.NearM {
			near++
		}
	}
	return middle, near*5 >= len(spots)*4
}

// nearestM is the distance to the nearest of some places, +Inf to none.
func nearestM(p coord.LonLat, places []coord.LonLat) float64 {
	least := math.Inf(1)
	for _, at := range places {
		least = min(least, coord.DistanceM(p, at))
	}
	return least
}
