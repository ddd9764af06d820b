package check

import (
	"math"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// fold is a name without what people write differently: case, accents, spaces. A text
// that cannot be folded stays as it is.
func fold(name string) string {
	t := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), cases.Fold(), norm.NFC)
	out, _, err := transform.String(t, name)
	if err != nil {
		out = name
	}
	return strings.Join(strings.Fields(out), " ")
}

// villages are the places that bores may be named after. Several may share a name.
type villages struct {
	byName map[string][]coord.LonLat
	byID   map[geo.VillageID]coord.LonLat
}

func (v *villages) add(village geo.Village) error {
	if v.byID == nil {
		v.byName, v.byID = map[string][]coord.LonLat{}, map[geo.VillageID]coord.LonLat{}
	}
	name := fold(village.Name)
	v.byName[name] = append(v.byName[name], village.Position.Pos)
	v.byID[village.ID] = village.Position.Pos
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
