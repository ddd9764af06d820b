package check_test

import (
	"math"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
)

var astray = []geo.Code{
	check.PositionFar, check.PositionOutside, check.PositionAlone, check.PositionSwapped, check.PositionSignLost,
}

// to is a mistake that moves the bore.
func to(move func(m *maker, p coord.LonLat) coord.LonLat) func(*maker, *geo.Bore) bool {
	return func(m *maker, b *geo.Bore) bool {
		was := b.Position
		moved(b, func(p coord.LonLat) coord.LonLat { return move(m, p) })
		return coord.DistanceM(was.Or(coord.Reading{}).Pos, b.Position.Or(coord.Reading{}).Pos) > 100
	}
}

// A position that is moved by less than bores of the same village lie apart is none the
// wrong for it; that is what least allows for.
var placeMistakes = []mistake{
	{"swapped", []geo.Code{check.PositionSwapped}, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lat, Lat: p.Lon} })},
	{"south for north", []geo.Code{check.PositionSignLost}, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon, Lat: -p.Lat} })},
	{"sign of the longitude lost", []geo.Code{check.PositionSignLost}, 80, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lon, Lat: p.Lat} })},
	{"both signs lost", []geo.Code{check.PositionSignLost, check.PositionSwapped}, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: -p.Lon, Lat: -p.Lat} })},
	{"zero for unknown", []geo.Code{check.PositionZero}, 100, to(func(*maker, coord.LonLat) coord.LonLat { return coord.LonLat{} })},
	{"one coordinate zero", []geo.Code{check.PositionZero}, 100, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lat: p.Lat} })},
	{"a degree off", astray, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon, Lat: p.Lat + 1} })},
	{"another UTM zone", astray, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon + 6, Lat: p.Lat} })},
	{"rounded to whole degrees", append(astray, check.PositionZero), 90, to(func(_ *maker, p coord.LonLat) coord.LonLat {
		return coord.LonLat{Lon: math.Round(p.Lon), Lat: math.Round(p.Lat)}
	})},
	{"rounded to hundredths of a degree", append(astray, check.PositionRounded), 90, to(func(_ *maker, p coord.LonLat) coord.LonLat {
		return coord.LonLat{Lon: math.Round(p.Lon*100) / 100, Lat: math.Round(p.Lat*100) / 100}
	})},
	{"rounded to tenths of a degree", append(astray, check.PositionRounded), 90, to(func(_ *maker, p coord.LonLat) coord.LonLat {
		return coord.LonLat{Lon: math.Round(p.Lon*10) / 10, Lat: math.Round(p.Lat*10) / 10}
	})},
	{"minutes read as hundredths", astray, 90, to(func(_ *maker, p coord.LonLat) coord.LonLat {
		return coord.LonLat{Lon: p.Lon, Lat: math.Trunc(p.Lat) + 0.6*(p.Lat-math.Trunc(p.Lat))}
	})},
	{"first two decimals transposed", astray, 90, to(func(m *maker, p coord.LonLat) coord.LonLat { return transposed(m, p, 10) })},
	{"next two decimals transposed", astray, 45, to(func(m *maker, p coord.LonLat) coord.LonLat { return transposed(m, p, 100) })},
	{"a decimal mistyped", astray, 90, to(func(m *maker, p coord.LonLat) coord.LonLat {
		return coord.LonLat{Lon: p.Lon, Lat: p.Lat + 0.1*float64(1+m.draw.IntN(5))}
	})},
	{"position of another bore", astray, 90, to(func(m *maker, _ coord.LonLat) coord.LonLat { return m.one().Position.Or(coord.Reading{}).Pos })},
	{"name of another village", astray, 90, func(m *maker, b *geo.Bore) bool {
		v := m.Memory.Villages[m.draw.IntN(len(m.Memory.Villages))]
		b.Place, b.VillageID = v.Name, v.ID
		return coord.DistanceM(v.Position.Pos, b.Position.Or(coord.Reading{}).Pos) > 6000
	}},
	{"name of another village, linked before", append(astray, check.VillageOther), 90, func(m *maker, b *geo.Bore) bool {
		v := m.Memory.Villages[m.draw.IntN(len(m.Memory.Villages))]
		b.Place = v.Name
		return coord.DistanceM(v.Position.Pos, b.Position.Or(coord.Reading{}).Pos) > 6000
	}},
	{"elevation a hundred off", elevated, 90, ground(func(_ *maker, _ *geo.Bore, m float64) float64 { return m + 100 })},
	{"elevation in feet", elevated, 75, ground(func(_ *maker, _ *geo.Bore, m float64) float64 { return m / 0.3048 })},
	{"elevation ten times", elevated, 80, ground(func(_ *maker, _ *geo.Bore, m float64) float64 { return m * 10 })},
	{"elevation of another bore", elevated, 60, ground(func(m *maker, _ *geo.Bore, _ float64) float64 { return m.one().Ground.Or(geo.Elevation{}).M })},
	{"level in the elevation's place", elevated, 60, ground(func(_ *maker, b *geo.Bore, _ float64) float64 {
		return b.Levels[0].DepthM.Or(0)
	})},
}

var elevated = []geo.Code{check.GroundOutlier, check.GroundOffTerrain}

// ground is a mistake in the elevation that matters: by more than its own error.
func ground(wrong func(m *maker, b *geo.Bore, was float64) float64) func(*maker, *geo.Bore) bool {
	return func(m *maker, b *geo.Bore) bool {
		e, known := b.Ground.Get()
		if !known || len(b.Levels) == 0 {
			return false
		}
		was := e.M
		e.M = math.Round(wrong(m, b, was))
		b.Ground = geo.Some(e)
		return math.Abs(e.M-was) > 30
	}
}

// transposed swaps two decimals that follow each other, of the latitude.
func transposed(_ *maker, p coord.LonLat, from float64) coord.LonLat {
	whole := math.Floor(p.Lat*from*10 + 1e-6)
	a, b := math.Mod(math.Floor(whole/10), 10), math.Mod(whole, 10)
	return coord.LonLat{Lon: p.Lon, Lat: p.Lat + (9*b-9*a)/(from*10)}
}

// Where a grid of the terrain is at hand, an elevation that is off by more than the grid
// and a receiver err together is found anywhere.
func TestElevationsAgainstTerrain(t *testing.T) {
	planted, named, alarms, clean := 0, 0, 0, 0
	for _, seed := range seeds() {
		for _, kind := range placeMistakes {
			if len(kind.wants) != len(elevated) || kind.wants[0] != elevated[0] {
				continue
			}
			m := asDrilled(seed).afresh(seed)
			spoilt := map[string]bool{}
			for i := range m.Memory.Bores {
				if m.draw.IntN(15) == 0 {
					id, ok := m.spoilOne(i, kind)
					spoilt[id] = ok
				}
			}
			found := acrossWith(t, m.region, heights(m.land))
			off := shown(found, func(i geo.Issue) bool { return i.Message.Code == check.GroundOffTerrain })
			for _, b := range m.Memory.Bores {
				switch id := string(b.ID); {
				case spoilt[id] && off[id]:
					planted, named = planted+1, named+1
				case spoilt[id]:
					planted++
				case off[id]:
					alarms, clean = alarms+1, clean+1
				default:
					clean++
				}
			}
		}
	}
	t.Logf("%d of %d elevations named, %d of %d clean ones", named, planted, alarms, clean)
	if named*100 < planted*95 || alarms*100 > clean {
		t.Errorf("%d of %d named, %d of %d clean ones", named, planted, alarms, clean)
	}
}
