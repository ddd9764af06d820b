package demoland

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

var portugueseMethods = map[geo.Method]string{
	"auger": "trado manual", "percussion": "percussão", "sludging": "sludging",
	"rotary-sludging": "sludging rotativo", "jetting": "jato de água", geo.MethodMachine: "sonda mecânica",
}

var portugueseOutcomes = map[geo.Outcome]string{
	geo.Producing: "produtivo", geo.Dry: "seco", geo.Refused: "recusa", geo.Collapsed: "desmoronado",
	geo.LowYield: "caudal fraco", geo.BadWater: "água salobra", geo.OutcomeUnknown: "",
}

const footM = 0.3048

func feet(d float64) string { return comma(d/footM, 1) }

// portugueseTables: degrees, minutes and seconds on the Minna datum, feet, litres per
// second, one row per layer with the bore's columns repeated, blanks for what is missing.
func (m *mess) portugueseTables() {
	t := &sheet{name: "sudoeste_furos.csv", comma: ';', header: []string{
		"Furo", "Aldeia", "Latitude (Minna)", "Longitude (Minna)", "Data", "Método", "Profundidade (pés)",
		"Nível estático (pés)", "Caudal (L/s)", "Resultado", "De (pés)", "Até (pés)", "Terreno",
	}}
	for _, b := range m.of(offices[2]) {
		m.portugueseRows(t, b)
	}
	m.write(t)
}

func (m *mess) portugueseRows(t *sheet, b *geo.Bore) {
	lat, lon := m.portuguesePosition(t, b)
	yield := ""
	if q, ok := b.YieldLPS.Get(); ok {
		yield = comma(q, 2)
	}
	head := []string{
		b.Code, b.Place, lat, lon, m.portugueseDate(t, b), portugueseMethods[b.Method], feet(b.DepthM.Or(0)),
		m.portugueseLevel(t, b), yield, portugueseOutcomes[b.Outcome],
	}
	for i, l := range b.Layers {
		words, base := l.Words, feet(l.BaseM)
		if m.chance(0.05) {
			if wrong := m.misspell(words); wrong != words {
				words = wrong
				m.wrong(t, Misspelt, b.ID)
			}
		}
		if i == len(b.Layers)-1 && m.chance(0.06) {
			base = ""
			m.wrong(t, BottomMissing, b.ID)
		}
		row := append(append([]string{}, head...), feet(l.TopM), base, words)
		t.add(row...)
		if m.chance(0.008) {
			m.wrong(t, Duplicate, b.ID)
			t.add(row...)
		}
	}
}

// portuguesePosition writes seconds to a tenth, which is 3 m.
func (m *mess) portuguesePosition(t *sheet, b *geo.Bore) (lat, lon string) {
	p := coord.Minna.DefaultOperation().FromWGS84(b.Position.Or(geoReading{}).Pos)
	lat, lon = dms(p.Lat, "N", "S"), dms(p.Lon, "E", "O")
	switch draw := m.r.Float64(); {
	case draw < 0.03:
		m.wrong(t, Swapped, b.ID)
		return lon[:len(lon)-1], lat[:len(lat)-1] // without letters nothing shows that they are swapped
	case draw < 0.07:
		m.wrong(t, SignLost, b.ID)
		return lat[:len(lat)-1], lon[:len(lon)-1]
	}
	return lat, lon
}

func dms(deg float64, positive, negative string) string {
	letter := positive
	if deg < 0 {
		letter = negative
	}
	tenths := int(math.Round(math.Abs(deg) * 36000))
	return fmt.Sprintf("%d°%02d'%02d,%d\"%s", tenths/36000, tenths/600%60, tenths/10%60, tenths%10, letter)
}

// serialEpoch is day 0 of spreadsheet dates.
var serialEpoch = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

func (m *mess) portugueseDate(t *sheet, b *geo.Bore) string {
	d := b.Completed.Or(geo.Date{})
	on := time.Date(d.Year, time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC)
	switch draw := m.r.Float64(); {
	case draw < 0.06:
		m.wrong(t, DateSerial, b.ID)
		return strconv.Itoa(int(on.Sub(serialEpoch).Hours() / 24))
	case draw < 0.09:
		m.wrong(t, DateMissing, b.ID)
		return ""
	}
	return on.Format("02-01-2006")
}

func (m *mess) portugueseLevel(t *sheet, b *geo.Bore) string {
	state, depth, ok := reading(b)
	switch {
	case !ok:
		m.wrong(t, LevelAbsent, b.ID)
		return ""
	case state == geo.LevelDryTo:
		return "seco"
	case state == geo.LevelFlowing:
		return "repuxo"
	}
	return feet(depth)
}
