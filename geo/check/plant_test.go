package check_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
)

// spoiling is one kind of mistake, put into records that were clean.
type spoiling struct {
	name  string
	wants []geo.Code // any of these shows it
	least int        // of a hundred that must be found
	// spoil reports whether this bore can carry the mistake; it may add a bore.
	spoil func(r *region, b *geo.Bore) bool
}

// The shares wanted are nine in ten, but for what records alone cannot show each time: a
// wrong unit hides where neighbours differ among themselves by as much.
var spoilings = []spoiling{
	{"level below the hole", []geo.Code{check.LevelUnderBottom}, 90, func(_ *region, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.DepthM = geo.Some(b.DepthM.Or(0) + 2) })
	}},
	{"level ten times", []geo.Code{check.LevelUnderBottom, check.LevelOutlier, check.BoreInFeet}, 90, func(_ *region, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.DepthM = geo.Some(l.DepthM.Or(0) * 10) })
	}},
	{"depth ten times", []geo.Code{check.DepthOutlier, check.LayersEndEarly, check.DepthBeyondMethod}, 90, func(_ *region, b *geo.Bore) bool {
		b.DepthM = geo.Some(b.DepthM.Or(0) * 10)
		return true
	}},
	{"layers in feet", []geo.Code{check.LayersInFeet}, 90, func(_ *region, b *geo.Bore) bool {
		scale(b.Layers, 1/0.3048)
		return len(b.Layers) > 0
	}},
	{"everything in feet", []geo.Code{check.BoreInFeet, check.DepthOutlier, check.LevelOutlier, check.DepthBeyondMethod}, 15, inFeet},
	{"strike below the hole", []geo.Code{check.StrikeUnderBottom}, 90, func(_ *region, b *geo.Bore) bool {
		b.Strikes = []geo.Strike{{DepthM: b.DepthM.Or(0) + 3}}
		return true
	}},
	{"refusal below the hole", []geo.Code{check.RefusalUnderBottom}, 90, func(_ *region, b *geo.Bore) bool {
		b.RefusalM = geo.Some(b.DepthM.Or(0) + 3)
		return true
	}},
	{"layers overlap", []geo.Code{check.LayersOverlap, check.TwoLogs}, 90, func(_ *region, b *geo.Bore) bool {
		if len(b.Layers) > 1 {
			b.Layers[1].TopM -= 0.4 * (b.Layers[0].BaseM - b.Layers[0].TopM)
		}
		return len(b.Layers) > 1
	}},
	{"gap in the log", []geo.Code{check.LayersGap}, 90, func(_ *region, b *geo.Bore) bool {
		if len(b.Layers) > 2 {
			b.Layers = slices.Delete(slices.Clone(b.Layers), 1, 2)
		}
		return len(b.Layers) > 1
	}},
	{"two logs merged", []geo.Code{check.TwoLogs}, 90, func(r *region, b *geo.Bore) bool {
		other := r.Memory.Bores[0]
		b.Layers = slices.Concat(b.Layers, other.Layers)
		return len(other.Layers) > 1 && len(b.Layers) > len(other.Layers)+1 && b.ID != other.ID
	}},
	{"swapped", []geo.Code{check.PositionSwapped}, 90, func(_ *region, b *geo.Bore) bool {
		return moved(b, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lat, Lat: p.Lon} })
	}},
	{"south for north", []geo.Code{check.PositionSignLost}, 90, func(_ *region, b *geo.Bore) bool {
		return moved(b, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon, Lat: -p.Lat} })
	}},
	{"zero for unknown", []geo.Code{check.PositionZero}, 100, func(_ *region, b *geo.Bore) bool {
		return moved(b, func(coord.LonLat) coord.LonLat { return coord.LonLat{} })
	}},
	{"a degree off", []geo.Code{check.PositionFar}, 90, func(_ *region, b *geo.Bore) bool {
		return moved(b, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon, Lat: p.Lat + 1} })
	}},
	{"entered twice", []geo.Code{check.SameBore}, 90, func(r *region, b *geo.Bore) bool {
		twin := *b
		twin.ID, twin.Code = geo.NewBoreID(), "X-"+b.Code
		moved(&twin, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon + 1e-4, Lat: p.Lat - 1e-4} })
		r.Memory.Bores = append(r.Memory.Bores, twin)
		return true
	}},
	{"entered twice, once roughly", []geo.Code{check.SameBore}, 90, func(r *region, b *geo.Bore) bool {
		twin := *b
		twin.ID, twin.Code = geo.NewBoreID(), "X-"+b.Code
		moved(&twin, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon + 1e-3, Lat: p.Lat} })
		r.Memory.Bores = append(r.Memory.Bores, twin)
		return true
	}},
	{"ended before begun", []geo.Code{check.EndBeforeStart}, 90, func(_ *region, b *geo.Bore) bool {
		d := b.Completed.Or(geo.Date{})
		b.Started = geo.Some(geo.Date{Year: d.Year + 1, Month: d.Month, Day: 1})
		return d.Month != 0
	}},
	{"in the future", []geo.Code{check.DateInFuture}, 100, func(_ *region, b *geo.Bore) bool {
		b.Completed = geo.Some(geo.Date{Year: 2102, Month: 5, Day: 3})
		return true
	}},
	{"date of a spreadsheet", []geo.Code{check.DatePlaceholder}, 100, func(_ *region, b *geo.Bore) bool {
		b.Completed = geo.Some(geo.Date{Year: 1900, Month: 1, Day: 1})
		return true
	}},
	{"level before the hole", []geo.Code{check.LevelBeforeHole}, 90, func(_ *region, b *geo.Bore) bool {
		d := b.Completed.Or(geo.Date{})
		d.Year -= 2
		return withRest(b, func(l *geo.Level) { l.On = geo.Some(d) })
	}},
	{"casing not taken off", []geo.Code{check.LevelNotReduced}, 90, func(_ *region, b *geo.Bore) bool {
		ok := false
		withRest(b, func(l *geo.Level) {
			if h, known := l.ReferenceM.Get(); known {
				l.DepthM, ok = geo.Some(l.DepthM.Or(0)+h), true
			}
		})
		return ok
	}},
	{"litres a minute for a second", []geo.Code{check.YieldBeyondMethod}, 90, func(_ *region, b *geo.Bore) bool {
		y, known := b.YieldLPS.Get()
		b.YieldLPS = geo.Some(y * 60)
		return known && y*60 > 20
	}},
	{"dry with a yield", []geo.Code{check.DryWithWater}, 100, func(_ *region, b *geo.Bore) bool {
		b.Outcome = geo.Dry
		return b.YieldLPS.Or(0) > 0
	}},
}

func scale(layers []geo.Layer, by float64) {
	for i := range layers {
		layers[i].TopM *= by
		layers[i].BaseM *= by
	}
}

func inFeet(_ *region, b *geo.Bore) bool {
	scale(b.Layers, 1/0.3048)
	b.DepthM = geo.Some(b.DepthM.Or(0) / 0.3048)
	return withRest(b, func(l *geo.Level) { l.DepthM = geo.Some(l.DepthM.Or(0) / 0.3048) })
}

// withRest changes the first rest level that lies at least a metre deep.
func withRest(b *geo.Bore, change func(*geo.Level)) bool {
	for i := range b.Levels {
		if l := &b.Levels[i]; l.State == geo.LevelRest && l.DepthM.Or(0) >= 1 {
			change(l)
			return true
		}
	}
	return false
}

func moved(b *geo.Bore, to func(coord.LonLat) coord.LonLat) bool {
	at, known := b.Position.Get()
	at.Pos = to(at.Pos)
	b.Position = geo.Some(at)
	return known
}

// Mistakes of other kinds than the offices make, one bore in fifteen of a region at a time:
// the rule that must show each does.
func TestPlantedMistakes(t *testing.T) {
	var clean []*region
	for seed := uint64(1); seed <= 2; seed++ {
		r, _, _ := bringIn(t, seed)
		clean = append(clean, r)
	}
	for _, kind := range spoilings {
		t.Run(kind.name, func(t *testing.T) {
			const fewest = 5
			planted, found := 0, 0
			for seed, r := range clean {
				n, seen := plant(t, *r, uint64(seed), kind)
				planted, found = planted+n, found+seen
			}
			t.Logf("%d of %d found", found, planted)
			if planted < fewest || found*100 < planted*kind.least {
				t.Errorf("%d of %d found, want %d in a hundred", found, planted, kind.least)
			}
		})
	}
}

// plant spoils some bores of a region and counts those that are shown, apart from bores
// that were shown before.
func plant(t *testing.T, r region, seed uint64, kind spoiling) (planted, found int) {
	t.Helper()
	before := shown(all(t, &r), kind.wants)
	draw := rand.New(rand.NewPCG(seed, 7))
	r.Memory.Bores = slices.Clone(r.Memory.Bores)
	var spoilt []string
	for i := range r.Memory.Bores {
		b := r.Memory.Bores[i]
		b.Layers, b.Levels = slices.Clone(b.Layers), slices.Clone(b.Levels)
		if before[string(b.ID)] || !b.Position.Known() || draw.IntN(15) != 0 || !kind.spoil(&r, &b) {
			continue
		}
		r.Memory.Bores[i] = b
		spoilt = append(spoilt, string(b.ID))
	}
	after := shown(all(t, &r), kind.wants)
	for _, id := range spoilt {
		if after[id] {
			found++
		}
	}
	return len(spoilt), found
}

// shown are the records that any of some rules speaks of.
func shown(issues []geo.Issue, by []geo.Code) map[string]bool {
	out := map[string]bool{}
	for _, i := range issues {
		if slices.Contains(by, i.Message.Code) {
			out[i.Record] = true
		}
	}
	return out
}
