package sheet_test

import (
	"testing"

	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// TestMessageKeepsTypes says one message of the catalogue for each type of argument.
func TestMessageKeepsTypes(t *testing.T) {
	tests := []struct {
		name string
		m    geo.Message
		want string
	}{
		{"metres", geo.Say("plan.target", geo.With("depth", geo.Metres(13))), "Plan to drill to 13.0\u00a0m."},
		{"range of metres", geo.Say("value.depth", geo.With("depth", geo.MetresRange{Lo: 2, Hi: 5})), "2.0–\u20605.0\u00a0m"},
		{"distance", geo.Say("value.distance", geo.With("distance", geo.DistanceM(1480))), "1.5\u00a0km"},
		{"yield", geo.Say("plan.yield", geo.With("yield", geo.LPS(0.25))), "Expected yield: 0.25\u00a0L/s (15\u00a0L/min)"},
		{"chance", geo.Say("value.chance", geo.With("chance", geo.Chance(0.62))), "62%"},
		{"range of chances", geo.Say("value.chance-range", geo.With("chance-range", geo.ChanceRange{Lo: 0.4, Hi: 0.7})), "40–\u206070%"},
		{"count", geo.Say("screen.bores-known", geo.With("n", geo.Count(2))), "2 bores known"},
		{"number", geo.Say("value.number", geo.With("effective", geo.Number(6.44))), "6.4"},
		{"text", geo.Say("advice.asked-at-village", geo.With("village", geo.Text("Anse"))), "Village asked about: Anse"},
		{"another code", geo.Say("sheet.reasons-of", geo.With("method", geo.Ref("method.auger"))), "With this method: hand auger"},
		{"month", geo.Say("chance.by-month", geo.With("month", geo.Month(3)), geo.With("chance", geo.Chance(0.5))), "If drilled in March: 50%"},
		{"day", geo.Say("value.date", geo.With("date", geo.Date{Year: 2021, Month: 3, Day: 9})), "9 March 2021"},
		{"month of a year", geo.Say("value.date", geo.With("date", geo.Date{Year: 2021, Month: 3})), "March 2021"},
		{"year", geo.Say("value.date", geo.With("date", geo.Date{Year: 2021})), "2021"},
	}
	c := catalogue(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := c.TrySay(say.EN, sheet.Message(tt.m))
			if err != nil || got != tt.want {
				t.Errorf("got %q, %v; want %q", got, err, tt.want)
			}
		})
	}
}

// Several codes are named one after another, in every language.
func TestSeveralCodes(t *testing.T) {
	c := catalogue(t)
	for l, want := range map[say.Lang]string{
		say.EN: "The water was not tested for: E. coli, nitrate, fluoride. Test before anyone drinks.",
		say.PT: "A água não foi analisada quanto a: E. coli, nitrato, fluoreto. Analisar antes que alguém beba.",
	} {
		m := geo.Say("asbuilt.not-analysed", geo.With("reason", geo.Refs{"analyte.e-coli", "analyte.nitrate", "analyte.fluoride"}))
		if got := c.Say(l, sheet.Message(m)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
