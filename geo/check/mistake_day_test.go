package check_test

import (
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

const tightClass = soil.Clay

// on is a mistake in the day of completion.
func on(wrong func(d geo.Date) geo.Date) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		was := b.Completed
		b.Completed = geo.Some(wrong(was.Or(geo.Date{})))
		return was != b.Completed
	}
}

// all the days of a record.
func days(wrong func(d geo.Date) geo.Date) func(*maker, *geo.Bore) bool {
	return func(_ *maker, b *geo.Bore) bool {
		was := b.Completed
		b.Started, b.Completed = geo.Some(wrong(b.Started.Or(geo.Date{}))), geo.Some(wrong(was.Or(geo.Date{})))
		for i := range b.Levels {
			b.Levels[i].On = geo.Some(wrong(b.Levels[i].On.Or(geo.Date{})))
		}
		return was != b.Completed
	}
}

func years(by int) func(geo.Date) geo.Date {
	return func(d geo.Date) geo.Date { return geo.Date{Year: d.Year + by, Month: d.Month, Day: min(d.Day, 28)} }
}

func turned(d geo.Date) geo.Date {
	if d.Day > 12 {
		return d
	}
	return geo.Date{Year: d.Year, Month: d.Day, Day: d.Month}
}

var order = []geo.Code{check.EndBeforeStart, check.WorkTooLong, check.LevelBeforeHole, check.DateInFuture, check.DateAlone, check.SampleBeforeHole}

var dayMistakes = []mistake{
	{"ended before begun", []geo.Code{check.EndBeforeStart}, 100, func(_ *maker, b *geo.Bore) bool {
		b.Started = geo.Some(years(1)(b.Completed.Or(geo.Date{})))
		return true
	}},
	{"in the future", []geo.Code{check.DateInFuture}, 100, days(years(90))},
	{"before the programme", []geo.Code{check.DateAlone}, 90, days(years(-40))},
	{"a century early", []geo.Code{check.DateAlone}, 100, days(years(-100))},
	{"year of completion one late", order, 90, on(years(1))},
	{"year of completion one early", order, 90, on(years(-1))},
	{"day for month in the completion", order, 80, on(turned)},
	// Where every day of the record is turned alike, only the future or a day of a sample
	// could tell.
	{"day for month in the whole record", order, 0, days(turned)},
	{"date of a spreadsheet", []geo.Code{check.DatePlaceholder}, 100, on(func(geo.Date) geo.Date { return geo.Date{Year: 1900, Month: 1, Day: 1} })},
	{"date of a clock", []geo.Code{check.DatePlaceholder}, 100, on(func(geo.Date) geo.Date { return geo.Date{Year: 1970, Month: 1, Day: 1} })},
	{"first day of the century", []geo.Code{check.DatePlaceholder}, 100, on(func(geo.Date) geo.Date { return geo.Date{Year: 2000, Month: 1, Day: 1} })},
	{"level before the hole", []geo.Code{check.LevelBeforeHole}, 90, func(_ *maker, b *geo.Bore) bool {
		return withRest(b, func(l *geo.Level) { l.On = geo.Some(years(-2)(b.Completed.Or(geo.Date{}))) })
	}},
}

var twice = []geo.Code{check.SameBore, check.SameBoreUnplaced, check.SameLog}

// twin is a second record of the bore, changed a little.
func twin(change func(m *maker, b *geo.Bore)) func(*maker, *geo.Bore) bool {
	return func(m *maker, b *geo.Bore) bool {
		t := m.copyOf(*b)
		t.Layers, t.Levels = slices.Clone(t.Layers), slices.Clone(t.Levels)
		change(m, &t)
		m.add(t)
		return true
	}
}

func shifted(b *geo.Bore, deg float64) {
	moved(b, func(p coord.LonLat) coord.LonLat { return coord.LonLat{Lon: p.Lon + deg, Lat: p.Lat - deg} })
}

var copyMistakes = []mistake{
	{"entered twice", twice, 100, twin(func(_ *maker, b *geo.Bore) { shifted(b, 1e-4) })},
	{"entered twice, once roughly", twice, 90, twin(func(_ *maker, b *geo.Bore) { shifted(b, 7e-4) })},
	{"copied, another date", twice, 90, twin(func(m *maker, b *geo.Bore) { days(years(1))(m, b) })},
	{"copied, another depth", twice, 90, twin(func(_ *maker, b *geo.Bore) {
		b.DepthM = geo.Some(b.DepthM.Or(0) + 1)
		b.Layers[len(b.Layers)-1].BaseM++
	})},
	{"same spot and date, nothing else", twice, 90, twin(func(_ *maker, b *geo.Bore) { bare(b); b.DepthM, b.Levels = geo.Opt[float64]{}, nil })},
	{"same layers, another name and place", twice, 60, func(m *maker, b *geo.Bore) bool {
		other := m.one()
		m.same[string(other.ID)] = true
		b.Layers, b.DepthM = slices.Clone(other.Layers), other.DepthM
		return other.ID != b.ID && len(b.Layers) > 2
	}},
	{"copied to another village", twice, 90, func(m *maker, b *geo.Bore) bool {
		other := m.one()
		t := m.copyOf(*b)
		t.Position, t.Place, t.VillageID, t.Code = other.Position, other.Place, other.VillageID, "Y-"+b.Code
		m.add(t)
		return other.VillageID != b.VillageID && len(b.Layers) > 2
	}},
	{"copied to another village and date", twice, 80, func(m *maker, b *geo.Bore) bool {
		other := m.one()
		t := m.copyOf(*b)
		t.Position, t.Place, t.VillageID, t.Code = other.Position, other.Place, other.VillageID, "Y-"+b.Code
		days(years(1))(m, &t)
		m.add(t)
		return other.VillageID != b.VillageID && len(b.Layers) > 2
	}},
}
