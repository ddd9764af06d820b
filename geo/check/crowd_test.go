package check_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"

	"github.com/paulmach/orb"
)

// crowd is a hundred sound bores of two offices, one or two kilometres apart, around one
// village each.
func crowd() *region {
	r := &region{}
	for i := range 100 {
		lon, lat := 10.0013+0.01*float64(i%10), 20+0.01*float64(i/10)
		b := geo.Bore{
			ID: geo.BoreID(fmt.Sprintf("00000000-0000-4000-8000-%012d", i)), Code: fmt.Sprint("C-", i), Place: fmt.Sprint("Village ", i),
			Position: at(lon, lat), Ground: geo.Some(geo.Elevation{M: 300 + float64(i%3)}), Completed: date(2010, 1+i%12, 1+i%28),
			Outcome: geo.Producing, Method: "auger", DepthM: geo.Some(12 + 0.3*float64(i%7)),
			Levels: []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(5 + 0.2*float64(i%5))}},
			Source: geo.Provenance{By: fmt.Sprint("Office ", i%2), File: fmt.Sprint(i%2, ".csv"), Row: 1 + i/2},
		}
		b.Layers = []geo.Layer{{BaseM: 4, Class: soil.Clay}, {TopM: 4, BaseM: b.DepthM.Or(0), Class: soil.Sand, Words: fmt.Sprint("sand ", i)}}
		r.Memory.Bores = append(r.Memory.Bores, b)
		r.Memory.Villages = append(r.Memory.Villages, geo.Village{
			ID: geo.VillageID(fmt.Sprint("village ", i)), Name: fmt.Sprint("village  ", i), Position: b.Position.Or(coord.Reading{}),
		})
	}
	return r
}

// square is the outline around the crowd.
func square() []geo.Boundary {
	return []geo.Boundary{{Shape: orb.MultiPolygon{{{{9.9, 19.9}, {10.2, 19.9}, {10.2, 20.2}, {9.9, 20.2}, {9.9, 19.9}}}}}}
}

// eachOf changes the bores of one office.
func eachOf(r *region, office int, change func(*geo.Bore)) {
	for i := office; i < len(r.Memory.Bores); i += 2 {
		change(&r.Memory.Bores[i])
	}
}

func setLevel(b *geo.Bore, m float64) {
	b.Levels = []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(m)}}
}

// crowds shows each rule across records: what to change in the crowd so that it speaks,
// of the 42nd bore unless it is about a source.
var crowds = []struct {
	name    string
	wants   geo.Code
	spoil   func(r *region, b *geo.Bore)
	source  bool
	terrain check.Terrain
}{
	{"swapped, by the village", check.PositionSwapped, func(_ *region, b *geo.Bore) { b.Position = at(20.04, 10.01) }, false, nil},
	{"west for east, by the village", check.PositionSignLost, func(_ *region, b *geo.Bore) { b.Position = at(-10.01, 20.04) }, false, nil},
	{"swapped, by the boundary", check.PositionSwapped, func(r *region, b *geo.Bore) {
		r.boundaries, b.Place, b.Position = square(), "", at(20.04, 10.01)
	}, false, nil},
	{"south for north, by the source alone", check.PositionSignLost, func(_ *region, b *geo.Bore) { b.Place, b.Position = "", at(10.01, -20.04) }, false, nil},
	{"swapped, by other bores of the place", check.PositionSwapped, func(r *region, b *geo.Bore) {
		r.Memory.Villages = nil
		for i := 40; i < 46; i++ {
			r.Memory.Bores[i].Place = "Hamlet"
		}
		b.Position = at(20.04, 10.01)
	}, false, nil},
	{"half a degree from its village", check.PositionFar, func(_ *region, b *geo.Bore) { b.Position = at(10.5, 20.04) }, false, nil},
	{"outside the boundary", check.PositionOutside, func(r *region, b *geo.Bore) {
		r.boundaries, b.Place, b.Position = square(), "", at(10.7, 20.04)
	}, false, nil},
	{"in another country", check.PositionAlone, func(_ *region, b *geo.Bore) { b.Place, b.Position = "", at(17, 24) }, false, nil},
	{"four bores at the village", check.PositionShared, func(r *region, b *geo.Bore) {
		for i := range 4 {
			r.Memory.Bores[40+i].Position = b.Position
		}
	}, false, nil},
	{"one bore twice", check.SameBore, func(r *region, b *geo.Bore) {
		twin := *b
		twin.ID, twin.Code = "00000000-0000-4000-8000-999999999999", "other"
		r.Memory.Bores = append(r.Memory.Bores, twin)
	}, false, nil},
	{"one bore in two places", check.SameBore, func(r *region, b *geo.Bore) {
		twin := *b
		twin.ID, twin.Position, twin.Place = "00000000-0000-4000-8000-999999999999", at(10.07, 20.08), ""
		r.Memory.Bores = append(r.Memory.Bores, twin)
	}, false, nil},
	{"one bore twice, once without a position", check.SameBoreUnplaced, func(r *region, b *geo.Bore) {
		twin := *b
		twin.ID, twin.Position = "00000000-0000-4000-8000-999999999999", geo.Opt[coord.Reading]{}
		r.Memory.Bores = append(r.Memory.Bores, twin)
	}, false, nil},
	{"level of a hill in the plain", check.LevelOutlier, func(_ *region, b *geo.Bore) { setLevel(b, 30) }, false, nil},
	{"a decimal point too far left", check.LevelTenth, func(_ *region, b *geo.Bore) {
		setLevel(b, 0.6)
		b.Strikes = []geo.Strike{{DepthM: 6}}
	}, false, nil},
	{"0.0 where water is deep", check.LevelZero, func(_ *region, b *geo.Bore) { setLevel(b, 0) }, false, nil},
	{"ten times the depth", check.DepthOutlier, func(_ *region, b *geo.Bore) { b.DepthM = geo.Some(125.0) }, false, nil},
	{"on a mountain", check.GroundOutlier, func(_ *region, b *geo.Bore) { b.Ground = geo.Some(geo.Elevation{M: 900}) }, false, nil},
	{
		"off the terrain", check.GroundOffTerrain, func(_ *region, b *geo.Bore) { b.Ground = geo.Some(geo.Elevation{M: 370}) }, false,
		func(coord.LonLat) (float64, float64, bool) { return 301, 6, true },
	},
	{"one bore in feet", check.BoreInFeet, func(_ *region, b *geo.Bore) { b.DepthM = geo.Some(42.0); setLevel(b, 17.5) }, false, nil},
	{"layers that meet at feet", check.BoreRoundInFeet, func(_ *region, b *geo.Bore) {
		b.Layers = []geo.Layer{{BaseM: 3.3}, {TopM: 3.3, BaseM: 8.2}, {TopM: 8.2, BaseM: 11.5}, {TopM: 11.5, BaseM: b.DepthM.Or(0)}}
	}, false, nil},
	{"on whole hundredths", check.PositionRounded, func(_ *region, b *geo.Bore) { b.Position = at(10.02, 20.04) }, false, nil},
	{"the name of another village", check.VillageOther, func(r *region, b *geo.Bore) {
		b.Place, b.VillageID = "Village 7", r.Memory.Villages[41].ID
	}, false, nil},
	{"the log of another bore", check.SameLog, func(r *region, b *geo.Bore) {
		b.Layers = []geo.Layer{{BaseM: 2, Words: "soil"}, {TopM: 2, BaseM: 5, Words: "clay"}, {TopM: 5, BaseM: b.DepthM.Or(0), Words: "sand"}}
		r.Memory.Bores[90].Layers = b.Layers
	}, false, nil},
	{"decades before the others", check.DateAlone, func(_ *region, b *geo.Bore) { b.Completed = date(1985, 4, 2) }, false, nil},
	{"half a year of work", check.WorkTooLong, func(r *region, b *geo.Bore) {
		for i := range r.Memory.Bores {
			r.Memory.Bores[i].Started = r.Memory.Bores[i].Completed
		}
		b.Started, b.Completed = date(2010, 2, 1), date(2010, 8, 1)
	}, false, nil},
	{"ten times the yield of any", check.YieldOutlier, func(r *region, b *geo.Bore) {
		for i := range r.Memory.Bores {
			r.Memory.Bores[i].YieldLPS = geo.Some(0.2 + 0.01*float64(i%20))
		}
		b.YieldLPS = geo.Some(4.0)
	}, false, nil},
	{"a log lost", check.LogAbsent, func(_ *region, b *geo.Bore) { b.Layers = nil }, false, nil},
	{"a level lost", check.LevelAbsent, func(_ *region, b *geo.Bore) { b.Levels = nil }, false, nil},
	{"only the year", check.MonthAbsent, func(_ *region, b *geo.Bore) { b.Completed = date(2010, 0, 0) }, false, nil},
	{"every year on its first day", check.JanuaryFirst, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { b.Completed = date(2011, 1, 1) })
	}, true, nil},
	{"depths by eye", check.DepthsHeaped, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { b.DepthM = geo.Some(15.0) })
	}, true, nil},
	{"an office in feet", check.SourceInFeet, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { b.DepthM = geo.Some(b.DepthM.Or(0) / 0.3048) })
	}, true, nil},
	{"an office whose layers meet at feet", check.SourceInFeet, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) {
			b.Layers = []geo.Layer{{BaseM: 1.6}, {TopM: 1.6, BaseM: 4.9}, {TopM: 4.9, BaseM: b.DepthM.Or(0), Words: b.Code}}
		})
	}, true, nil},
	{"an office far away in feet", check.SourceInFeet, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) {
			p := b.Position.Or(coord.Reading{}).Pos
			b.Position, b.Place = at(p.Lon+1, p.Lat), ""
			setLevel(b, 16+b.DepthM.Or(0)/100)
			b.DepthM = geo.Some(b.DepthM.Or(0) / 0.3048)
		})
	}, true, nil},
	{"an office that counted in feet", check.SourceFromFeet, func(r *region, _ *geo.Bore) {
		n := 0
		eachOf(r, 1, func(b *geo.Bore) { n++; b.DepthM = geo.Some(0.3048 * (38 + float64(n%8))) })
	}, true, nil},
	{"an office on whole hundredths", check.SourceRounded, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) {
			p := b.Position.Or(coord.Reading{}).Pos
			b.Position = at(math.Round(p.Lon*100)/100, math.Round(p.Lat*100)/100)
		})
	}, true, nil},
	{"an office's bores all on one day", check.SourceSameDay, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { b.Completed = date(2011, 6, 9) })
	}, true, nil},
	{"an office in litres a minute", check.SourceYield, func(r *region, _ *geo.Bore) {
		eachOf(r, 0, func(b *geo.Bore) { b.YieldLPS = geo.Some(0.3) })
		eachOf(r, 1, func(b *geo.Bore) { b.YieldLPS = geo.Some(6.0) })
	}, true, nil},
	{"an office whose levels lie under its strikes", check.SourceOffset, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { b.Strikes = []geo.Strike{{DepthM: b.Levels[0].DepthM.Or(0) - 0.4}} })
	}, true, nil},
	{"an office that reads from the casing", check.SourceOffset, func(r *region, _ *geo.Bore) {
		eachOf(r, 1, func(b *geo.Bore) { setLevel(b, b.Levels[0].DepthM.Or(0)+0.6) })
	}, true, nil},
}

func across(t *testing.T, r *region) (found []geo.Issue) {
	t.Helper()
	return acrossWith(t, r, nil)
}

func acrossWith(t *testing.T, r *region, terrain check.Terrain) (found []geo.Issue) {
	t.Helper()
	options := check.DefaultOptions()
	options.Terrain = terrain
	err := check.Across(context.Background(), r, options, func(i geo.Issue) error { found = append(found, i); return nil })
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestEachRuleAcrossRecords(t *testing.T) {
	if found := across(t, crowd()); len(found) > 0 {
		t.Errorf("the sound crowd: %v", found)
	}
	bounded := crowd()
	bounded.boundaries = square()
	if found := across(t, bounded); len(found) > 0 {
		t.Errorf("the sound crowd in its boundary: %v", found)
	}
	for _, c := range crowds {
		t.Run(c.name, func(t *testing.T) {
			r := crowd()
			b := &r.Memory.Bores[41]
			id := string(b.ID)
			c.spoil(r, b)
			if c.source {
				id = ""
			}
			found := acrossWith(t, r, c.terrain)
			for _, i := range found {
				if i.Message.Code == c.wants && i.Record == id && i.File == "1.csv" && (i.Row == 21) == (id != "") {
					return
				}
			}
			t.Errorf("found %v", found)
		})
	}
}
