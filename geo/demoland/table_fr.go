package demoland

import (
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// geoReading is a position as read.
type geoReading = coord.Reading

var frenchMethods = map[geo.Method]string{
	"auger": "tarière à main", "percussion": "percussion", "sludging": "sludging",
	"rotary-sludging": "sludging rotatif", "jetting": "lançage à l'eau", geo.MethodMachine: "sondeuse",
}

var frenchOutcomes = map[geo.Outcome]string{
	geo.Producing: "positif", geo.Dry: "sec", geo.Refused: "refus", geo.Collapsed: "éboulé",
	geo.LowYield: "débit faible", geo.BadWater: "eau salée", geo.OutcomeUnknown: "",
}

// frenchTables: UTM in two zones, semicolons, decimal commas, d/m/y, cubic metres per
// hour, "-" for what is missing; the layer table in Windows-1252.
func (m *mess) frenchTables() {
	t := &sheet{name: "est_forages.csv", comma: ';', header: []string{
		"N° forage", "Village", "X (m)", "Y (m)", "Fuseau", "Date de fin", "Méthode", "Profondeur (m)",
		"Niveau statique (m/sol)", "Débit (m3/h)", "Résultat", "Observations",
	}}
	layers := &sheet{name: "est_coupes.csv", comma: ';', header: []string{"N° forage", "De (m)", "À (m)", "Nature du terrain"}}
	for _, b := range m.of(offices[1]) {
		row := m.frenchRow(t, b)
		t.add(row...)
		if m.chance(0.02) {
			m.wrong(t, Duplicate, b.ID)
			t.add(row...)
		}
		m.layerRows(layers, b, func(d float64) string { return comma(d, 1) }, "-")
	}
	m.write(t)
	m.write(layers)
	last := &m.Files[len(m.Files)-1]
	last.Data = windows1252(string(last.Data))
}

func (m *mess) frenchRow(t *sheet, b *geo.Bore) []string {
	x, y, zone := m.frenchPosition(t, b)
	day := b.Completed.Or(geo.Date{})
	date := slashed(day)
	if m.chance(0.03) {
		date = "-"
		m.wrong(t, DateMissing, b.ID)
	}
	yield := "-"
	if q, ok := b.YieldLPS.Get(); ok {
		yield = comma(q*3.6, 2)
		if m.chance(0.04) {
			yield = comma(q, 2) + " l/s"
			m.wrong(t, YieldUnit, b.ID)
		}
	}
	return []string{
		b.Code, b.Place, x, y, zone, date, frenchMethods[b.Method], comma(b.DepthM.Or(0), 1),
		m.frenchLevel(t, b), yield, frenchOutcomes[b.Outcome], remarks(b),
	}
}

func slashed(d geo.Date) string {
	two := func(n int) string { return strconv.Itoa(n/10) + strconv.Itoa(n%10) }
	return two(d.Day) + "/" + two(d.Month) + "/" + strconv.Itoa(d.Year)
}

func (m *mess) frenchPosition(t *sheet, b *geo.Bore) (x, y, zone string) {
	p := b.Position.Or(geoReading{}).Pos
	grid := coord.UTM(p)
	at, _, err := grid.Project(p)
	if err != nil {
		return "-", "-", "-" // cannot be: the region lies well inside both zones
	}
	zone = strconv.Itoa(grid.Zone) + "N"
	if grid.South {
		zone = strconv.Itoa(grid.Zone) + "S"
	}
	x, y = comma(at.EastingM, 0), comma(at.NorthingM, 0)
	switch draw := m.r.Float64(); {
	case draw < 0.03:
		m.wrong(t, Swapped, b.ID)
		return y, x, zone
	case draw < 0.08:
		m.wrong(t, ZoneMissing, b.ID)
		return x, y, ""
	}
	return x, y, zone
}

func (m *mess) frenchLevel(t *sheet, b *geo.Bore) string {
	state, depth, ok := reading(b)
	switch {
	case !ok:
		m.wrong(t, LevelAbsent, b.ID)
		return "-"
	case state == geo.LevelDryTo:
		return "sec"
	case state == geo.LevelFlowing:
		return "jaillissant"
	}
	return comma(depth, 1)
}

// windows1252 writes text in that code page; every letter used here is the same in
// Latin-1.
func windows1252(text string) []byte {
	out := make([]byte, 0, len(text))
	for _, r := range text {
		if r > 0xff {
			r = '?'
		}
		out = append(out, byte(r))
	}
	return out
}
