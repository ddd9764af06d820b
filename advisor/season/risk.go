package season

import (
	"maps"
	"math"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// How tests of water tell of a place.
const (
	riskRangeM   = 3000 // at which a test of water tells a third as much: common practice, no source
	riskOfOthers = 2.0  // weight of the region beside the tests near, in tests at the spot: by the score of six invented regions
	riskLeast    = 3    // bores that must have been tested for a thing: common practice, no source
)

// Bacteria are what bottles of the region's bores had of them: it tells of wells and how they
// are kept, not of the ground, so that no spot has a risk of it.
type Bacteria struct {
	Bores int `json:"bores"` // looked at for them
	Found int `json:"found"` // that had them in a bottle
}

// waters is what the ground gave to the water of bores that were looked at.
type waters struct {
	analytes []string
	shares   []float64 // of the bores tested for it that were out of the limit, by the rule of succession
	bores    []looked
	bacteria Bacteria
	enough   bool // the needed ones were tested in so many bores that something can be said
}

// looked is one bore: by analyte nothing where it was not tested, else whether it was out of
// its limit.
type looked struct {
	at   coord.LonLat
	over []geo.Opt[bool]
}

// watersOf reads the samples of bores. A bore whose crew called its water bad counts as salty
// where nobody tested that.
func watersOf(bores []geo.Bore) (w waters) {
	found := make([]map[string]bool, len(bores))
	tested := map[string]int{}
	for i := range bores {
		found[i] = w.read(&bores[i])
		for code := range found[i] {
			tested[code]++
		}
	}
	w.enough = true
	for _, code := range geo.NeededAnalytes() {
		w.enough = w.enough && (ofWells(code) || tested[code] >= riskLeast)
	}
	for _, code := range slices.Sorted(maps.Keys(tested)) {
		if tested[code] >= riskLeast {
			w.analytes = append(w.analytes, code)
		}
	}
	for i := range bores {
		if at, known := bores[i].Position.Get(); known && len(found[i]) > 0 {
			w.add(at.Pos, found[i])
		}
	}
	w.share()
	return w
}

// read says of each analyte of a bore whether any of its results was out of the limit.
func (w *waters) read(b *geo.Bore) map[string]bool {
	out := map[string]bool{}
	bacteria, dirty := false, false
	for code, results := range byAnalyte(b.Samples) {
		kind := geo.HealthLimit
		if code == "ec" {
			kind = geo.AcceptLimit
		}
		for _, s := range results {
			v, _ := geo.JudgeAs(kind, s)
			switch {
			case v == geo.NotKnown:
			case ofWells(code):
				bacteria, dirty = true, dirty || v == geo.Above
			default:
				out[code] = out[code] || v != geo.Within
			}
		}
	}
	if _, tasted := out["ec"]; !tasted && b.Outcome == geo.BadWater {
		out["ec"] = true
	}
	if bacteria {
		w.bacteria.Bores++
	}
	if dirty {
		w.bacteria.Found++
	}
	return out
}

// ofWells are analytes that tell of a well more than of the ground.
func ofWells(code string) bool { return code == "e-coli" || code == "thermotolerant-coliforms" }

func (w *waters) add(at coord.LonLat, found map[string]bool) {
	x := looked{at: at, over: make([]geo.Opt[bool], len(w.analytes))}
	for a, code := range w.analytes {
		if over, tested := found[code]; tested {
			x.over[a] = geo.Some(over)
		}
	}
	w.bores = append(w.bores, x)
}

// share counts over the region: two tests more, one of them failed, shared by all analytes.
func (w *waters) share() {
	w.shares = make([]float64, len(w.analytes))
	part := 1 / float64(max(1, len(w.analytes)))
	for a := range w.analytes {
		over, all := part, 2*part
		for _, b := range w.bores {
			if bad, tested := b.over[a].Get(); tested {
				all++
				if bad {
					over++
				}
			}
		}
		w.shares[a] = over / all
	}
}

// risk is the chance that what the ground gives makes the water of a place unfit,
//
//	1 - Π_a (1 - r_a),  r_a = (Σ wᵢ uᵢₐ + 2 s_a) / (Σ wᵢ + 2),  wᵢ = exp(-dᵢ / 3 km),
//
// over the analytes a, with u whether a bore was out of the limit for health, of salt out of
// what people accept, and s the share of all bores tested for it. Bacteria are left out.
//
//   - Domain: missing where salt, nitrate, arsenic or fluoride was not tested in three bores.
//   - Source: none; the analytes are taken to come by themselves.
//   - Checked by: TestRiskAgainstTheLand, TestRiskByHand.
func (w *waters) risk(at coord.LonLat) geo.Opt[float64] {
	if !w.enough {
		return geo.Opt[float64]{}
	}
	over, sum := make([]float64, len(w.analytes)), make([]float64, len(w.analytes))
	for i := range w.bores {
		b := &w.bores[i]
		weight := math.Exp(-coord.DistanceM(at, b.at) / riskRangeM)
		for a := range w.analytes {
			if bad, tested := b.over[a].Get(); tested {
				sum[a] += weight
				if bad {
					over[a] += weight
				}
			}
		}
	}
	fit := 1.0
	for a, share := range w.shares {
		fit *= 1 - (over[a]+riskOfOthers*share)/(sum[a]+riskOfOthers)
	}
	return geo.Some(1 - fit)
}
