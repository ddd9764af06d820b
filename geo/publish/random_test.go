package publish_test

import (
	"time"

	"pgregory.net/rapid"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// draw makes records of anything that their rules allow.
type draw struct{ *rapid.T }

func one[V any](d draw, g *rapid.Generator[V], label string) V { return g.Draw(d.T, label) }

func (d draw) words() string {
	return one(d, rapid.OneOf(rapid.SampledFrom(awkward), rapid.String(), rapid.StringMatching(`[=+@'"-][\s,;"'=]{0,4}[a-z0-9]{0,3}`)), "words")
}

func (d draw) in(lo, hi float64) float64 { return one(d, rapid.Float64Range(lo, hi), "number") }

func (d draw) depth() float64 { return d.in(0, 5000) }

func (d draw) yes() bool { return one(d, rapid.Bool(), "yes") }

func maybe[V any](d draw, of func() V) geo.Opt[V] {
	if d.yes() {
		return geo.Some(of())
	}
	return geo.Opt[V]{}
}

func (d draw) maybeIn(lo, hi float64) geo.Opt[float64] {
	return maybe(d, func() float64 { return d.in(lo, hi) })
}

func (d draw) count() int { return one(d, rapid.IntRange(0, 1e9), "count") }

// id draws the id of a record of one kind.
func (d draw) id(kind int) string { return id(kind<<40 + one(d, rapid.IntRange(1, 1<<40-1), "id")) }

func (d draw) date() geo.Date {
	out := geo.Date{Year: one(d, rapid.IntRange(1800, 2200), "year"), Month: one(d, rapid.IntRange(0, 12), "month")}
	if out.Month > 0 {
		out.Day = one(d, rapid.IntRange(0, 28), "day")
	}
	return out
}

func pick[V any](d draw, list ...V) V { return one(d, rapid.SampledFrom(list), "choice") }

func several[V any](d draw, of func() V) []V {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) V { d.T = t; return of() }), 0, 3).Draw(d.T, "list")
}

func (d draw) interval() (top, base float64) {
	top = d.in(0, 4000)
	return top, top + d.in(0.001, 900)
}

func (d draw) reading() coord.Reading {
	return coord.Reading{
		Pos: coord.LonLat{Lon: d.in(-180, 180), Lat: d.in(-90, 90)}, AsRead: d.words(), CRS: d.words(), Operation: d.words(),
		PrecisionM: pick(d, 0, d.in(0, 1e7)),
	}
}

func (d draw) source() geo.Provenance {
	p := geo.Provenance{File: d.words(), Row: d.count(), By: d.words(), Licence: d.words()}
	if d.yes() {
		p.Fields = map[string]string{"depthM": d.words(), d.words(): "phone"}
	}
	return p
}

func (d draw) layer() geo.Layer {
	top, base := d.interval()
	return geo.Layer{
		TopM: top, BaseM: base, Words: d.words(), Class: soil.Class(one(d, rapid.IntRange(0, soil.Count), "class")),
		Grade: pick(d, soil.GradeUnknown, soil.Fine, soil.Medium, soil.Coarse), Clayey: d.yes(), Confidence: d.in(0, 1),
		Colour: d.words(), Hardness: d.words(), MinutesPerM: d.maybeIn(1e-9, 1e9),
	}
}

func (d draw) level() geo.Level {
	l := geo.Level{State: pick(d, geo.LevelRest, geo.LevelFlowing, geo.LevelDryTo), On: maybe(d, d.date), ReferenceM: d.maybeIn(-1000, 1000), Words: d.words()}
	switch l.State {
	case geo.LevelDryTo:
		l.DepthM = geo.Some(d.depth())
	case geo.LevelRest:
		l.DepthM = geo.Some(d.in(-100, 5000))
	default:
		l.DepthM = d.maybeIn(-100, 5000)
	}
	return l
}

func (d draw) pipe() geo.Pipe {
	top, base := d.interval()
	return geo.Pipe{Kind: pick(d, geo.Casing, geo.Screen, geo.Plug), TopM: top, BaseM: base, DiameterMM: d.maybeIn(0, 1e5), SlotMM: d.maybeIn(0, 1e5), Material: d.words()}
}

func (d draw) fill() geo.Fill {
	top, base := d.interval()
	return geo.Fill{Kind: pick(d, geo.Pack, geo.ClaySeal, geo.Grout, geo.Backfill), TopM: top, BaseM: base}
}

func (d draw) test() geo.PumpTest {
	return geo.PumpTest{
		Kind: pick(d, geo.ConstantRate, geo.StepTest, geo.Recovery, geo.BailerTest), On: maybe(d, d.date), RateLPS: d.maybeIn(0, 1e6), Hours: d.maybeIn(0, 1e6),
		RestM: d.maybeIn(-100, 5000), PumpingM: d.maybeIn(-100, 5000), Remarks: d.words(),
		BailL: d.maybeIn(0, 1e7), HalfMin: d.maybeIn(0, 1e7), ThreeQMin: d.maybeIn(0, 1e7),
		Readings: several(d, func() geo.TestReading {
			return geo.TestReading{Minutes: d.in(0, 1e7), DepthM: d.in(-100, 5000), RateLPS: d.maybeIn(0, 1e6)}
		}),
	}
}

func (d draw) sample() geo.Sample {
	return geo.Sample{
		Analyte: "a" + d.words(), Basis: d.words(), Unit: d.words(), Value: d.maybeIn(-1e15, 1e15), DetectionLimit: d.maybeIn(0, 1e15),
		On: maybe(d, d.date), Laboratory: d.words(),
	}
}

func (d draw) bore() geo.Bore {
	return geo.Bore{
		ID: geo.BoreID(d.id(1)), Code: d.words(), Name: d.words(), Place: d.words(), VillageID: geo.VillageID(pick(d, "", d.id(2))),
		Position: maybe(d, d.reading),
		Ground:   maybe(d, func() geo.Elevation { return geo.Elevation{M: d.in(-12000, 9000), Datum: d.words(), Source: d.words()} }),
		Started:  maybe(d, d.date), Completed: maybe(d, d.date), Method: pick(d, geo.MethodMachine, "sludging", geo.Method(d.words())), Outcome: pick(d, geo.Outcomes()...),
		DepthM: d.maybeIn(0, 5000), RefusalM: d.maybeIn(0, 5000), YieldLPS: d.maybeIn(0, 1000), Driller: d.words(), Remarks: d.words(),
		Cost:   maybe(d, func() geo.Money { return geo.Money{Amount: d.in(-1e15, 1e15), Currency: d.words()} }),
		Layers: several(d, d.layer), Strikes: several(d, func() geo.Strike { return geo.Strike{DepthM: d.depth(), Words: d.words()} }),
		Levels: several(d, d.level), Pipes: several(d, d.pipe), Fills: several(d, d.fill), Tests: several(d, d.test), Samples: several(d, d.sample),
		Source: d.source(),
	}
}

func (d draw) village() geo.Village {
	return geo.Village{ID: geo.VillageID(d.id(2)), Name: "V" + d.words(), Position: d.reading(), People: maybe(d, d.count), Source: d.source()}
}

func (d draw) waterPoint() geo.WaterPoint {
	return geo.WaterPoint{
		ID: geo.WaterPointID(d.id(3)), Name: d.words(), Kind: pick(d, geo.TubeWell, geo.DugWell, geo.Spring, geo.OpenWater, geo.PipedPoint, geo.PointUnknown),
		Position: d.reading(), DepthM: d.maybeIn(0, 5000), Works: maybe(d, d.yes), Users: maybe(d, d.count),
		DryMonths: maybe(d, func() geo.MonthSet { return geo.Months(time.Month(d.count()%14), time.Month(d.count()%14)) }),
		Visits: several(d, func() geo.Visit {
			return geo.Visit{On: pick(d, geo.Date{}, d.date()), Works: maybe(d, d.yes), LevelM: d.maybeIn(-100, 5000), Words: d.words()}
		}),
		Source: d.source(),
	}
}
