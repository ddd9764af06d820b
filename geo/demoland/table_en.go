package demoland

import (
	"strings"

	"waterstrike/geo"
)

var englishMethods = map[geo.Method]string{
	"auger": "hand auger", "percussion": "percussion", "sludging": "sludging",
	"rotary-sludging": "rotary sludging", "jetting": "jetting", geo.MethodMachine: "machine rig",
}

var englishOutcomes = map[geo.Outcome]string{
	geo.Producing: "successful", geo.Dry: "dry", geo.Refused: "refusal", geo.Collapsed: "collapsed",
	geo.LowYield: "low yield", geo.BadWater: "salty", geo.OutcomeUnknown: "",
}

// englishTables: decimal degrees, metres, litres per minute, levels below the top of the
// casing, ISO dates, "NA" for what is missing.
func (m *mess) englishTables() {
	t := &sheet{name: "northwest_bores.csv", comma: ',', header: []string{
		"Bore no", "Village", "Latitude", "Longitude", "Date completed", "Method", "Total depth (m)",
		"Casing height (m)", "Water level below top of casing (m)", "Yield (L/min)", "Result", "Remarks",
	}}
	layers := &sheet{name: "northwest_layers.csv", comma: ',', header: []string{"Bore no", "From (m)", "To (m)", "Description"}}
	for _, b := range m.of(offices[0]) {
		row := m.englishRow(t, b)
		t.add(row...)
		if m.chance(0.02) {
			m.wrong(t, Duplicate, b.ID)
			t.add(row...)
		}
		m.layerRows(layers, b, func(d float64) string { return number(d, 1) }, "NA")
	}
	m.write(t)
	m.write(layers)
}

func (m *mess) englishRow(t *sheet, b *geo.Bore) []string {
	lat, lon := m.englishPosition(t, b)
	height, level := m.englishLevel(t, b)
	yield := "NA"
	if y, ok := b.YieldLPS.Get(); ok {
		yield = number(y*60, 0)
		if m.chance(0.04) {
			yield = number(y, 2) + " L/s"
			m.wrong(t, YieldUnit, b.ID)
		}
	}
	day := b.Completed.Or(geo.Date{})
	date := day.String()
	if m.chance(0.04) {
		date = geo.Date{Year: day.Year}.String()
		m.wrong(t, DateYear, b.ID)
	}
	return []string{
		b.Code, b.Place, lat, lon, date, englishMethods[b.Method], number(b.DepthM.Or(0), 1),
		height, level, yield, englishOutcomes[b.Outcome], remarks(b),
	}
}

func (m *mess) englishPosition(t *sheet, b *geo.Bore) (lat, lon string) {
	p := b.Position.Or(geoReading{}).Pos
	lat, lon = number(p.Lat, 5), number(p.Lon, 5)
	switch draw := m.r.Float64(); {
	case draw < 0.03:
		m.wrong(t, Swapped, b.ID)
		return lon, lat
	case draw < 0.07 && p.Lon < 0:
		m.wrong(t, SignLost, b.ID)
		return lat, strings.TrimPrefix(lon, "-")
	}
	return lat, lon
}

// englishLevel gives the height of the casing and the level below its top.
func (m *mess) englishLevel(t *sheet, b *geo.Bore) (height, level string) {
	state, depth, ok := reading(b)
	switch {
	case !ok:
		m.wrong(t, LevelAbsent, b.ID)
		return "NA", "NA"
	case state == geo.LevelDryTo:
		return "NA", "dry"
	case state == geo.LevelFlowing:
		return "NA", "flowing"
	}
	casing := round(between(m.r, 0.3, 0.6), 0.1)
	if m.chance(0.03) {
		m.wrong(t, LevelZero, b.ID)
		return number(casing, 1), "0"
	}
	return number(casing, 1), number(depth+casing, 1)
}

// remarks is what an office adds of water that did not last.
func remarks(b *geo.Bore) string {
	for _, s := range b.Strikes {
		if s.Words != "" {
			return s.Words + " " + number(s.DepthM, 1) + " m"
		}
	}
	return b.Remarks
}
