package say_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"waterstrike/ui/say"
)

func catalogue(t testing.TB) *say.Catalogue {
	t.Helper()
	c, err := say.New()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// plain makes the unbreakable blanks of a text visible: ~ is U+00A0, _ is U+202F; and a range
// within which a line may end.
func plain(s string) string {
	return strings.NewReplacer("\u00a0", "~", "\u202f", "_", "–\u2060", "–", "– ", "– ", "–", "–(may break)").Replace(s)
}

// valued renders a single value through a one-placeholder catalogue.
func valued(t *testing.T, kind say.Kind, l say.Lang, v say.Value) (string, error) {
	t.Helper()
	s, err := single(t, kind).TrySay(l, say.Msg("x", say.With("v", v)))
	return plain(s), err
}

func TestValuesInEachLanguage(t *testing.T) {
	// Marks and orders: Unicode CLDR 44 for en, fr and pt-PT (from memory; the number
	// marks are also checked against golang.org/x/text below); "1er" is the French rule
	// for the first of a month. En dash for ranges and U+2212 are common practice.
	day := time.Date(2021, 3, 3, 23, 0, 0, 0, time.UTC)
	tests := []struct {
		name       string
		kind       say.Kind
		v          say.Value
		en, fr, pt string
	}{
		{"depth", say.KindMetres, say.Metres(12.36), "12.4~m", "12,4~m", "12,4~m"},
		{"depth range", say.KindMetres, say.MetresRange(3, 4.55), "3.0–4.5~m", "3,0–4,5~m", "3,0–4,5~m"},
		{"range of one reading", say.KindMetres, say.MetresRange(3.01, 3.04), "3.0~m", "3,0~m", "3,0~m"},
		{"range from above ground", say.KindMetres, say.MetresRange(-0.4, 1), "−0.4 to 1.0~m", "−0,4 à 1,0~m", "−0,4 a 1,0~m"},
		{"no minus zero", say.KindMetres, say.Metres(-0.04), "0.0~m", "0,0~m", "0,0~m"},
		{"near distance", say.KindDistance, say.Distance(850.4), "850~m", "850~m", "850~m"},
		{"distance at the turn", say.KindDistance, say.Distance(999.6), "1.0~km", "1,0~km", "1,0~km"},
		{"middle distance", say.KindDistance, say.Distance(4230), "4.2~km", "4,2~km", "4,2~km"},
		{"far distance", say.KindDistance, say.Distance(12345678), "12,346~km", "12_346~km", "12~346~km"},
		{"yield", say.KindYield, say.LitresPerSecond(0.25), "0.25~L/s (15~L/min)", "0,25~L/s (15~L/min)", "0,25~L/s (15~L/min)"},
		{"yield range", say.KindYield, say.LitresPerSecondRange(0.1, 12), "0.1–12.0~L/s (6–720~L/min)", "0,1–12,0~L/s (6–720~L/min)", "0,1–12,0~L/s (6–720~L/min)"},
		{"chance", say.KindChance, say.Chance(0.354), "35%", "35_%", "35%"},
		{"chance range", say.KindChance, say.ChanceRange(0.2, 0.45), "20–45%", "20–45_%", "20–45%"},
		{"chance range to the top", say.KindChance, say.ChanceRange(0.4, 0.995), "40% to~over~99%", "40_% à~plus de~99_%", "40% a~mais de~99%"},
		{"chance range from the bottom", say.KindChance, say.ChanceRange(0.004, 0.3), "<1–30%", "<1–30_%", "<1–30%"},
		{"chance range over all", say.KindChance, say.ChanceRange(0, 1), "<1% to~over~99%", "<1_% à~plus de~99_%", "<1% a~mais de~99%"},
		{"chance range within the top", say.KindChance, say.ChanceRange(0.992, 1), ">99%", ">99_%", ">99%"},
		{"chance range within the bottom", say.KindChance, say.ChanceRange(0, 0.002), "<1%", "<1_%", "<1%"},
		{"no chance is 0", say.KindChance, say.Chance(0), "<1%", "<1_%", "<1%"},
		{"just under 1 %", say.KindChance, say.Chance(0.0099), "<1%", "<1_%", "<1%"},
		{"no chance is 100", say.KindChance, say.Chance(1), ">99%", ">99_%", ">99%"},
		{"99 %", say.KindChance, say.Chance(0.99), "99%", "99_%", "99%"},
		{"share may be 0", say.KindShare, say.Share(0), "0%", "0_%", "0%"},
		{"count", say.KindCount, say.Count(1234567), "1,234,567", "1_234_567", "1~234~567"},
		{"four digits", say.KindCount, say.Count(1234), "1,234", "1_234", "1~234"},
		{"count range", say.KindCount, say.CountRange(2, 5), "2–5", "2–5", "2–5"},
		{"number range", say.KindNumber, say.NumberRange(1650, 2100, 0), "1,650–2,100", "1_650–2_100", "1~650–2~100"},
		{"range of one number", say.KindNumber, say.NumberRange(1919.7, 1920.2, 0), "1,920", "1_920", "1~920"},
		{"number", say.KindNumber, say.Number(-1.5, 2), "−1.50", "−1,50", "−1,50"},
		{"degrees", say.KindDegrees, say.Degrees(45.2), "45°", "45°", "45°"},
		{"position", say.KindPosition, say.Position(-0.5, -1.25), "0.50000°~S, 1.25000°~W", "0,50000°~S; 1,25000°~O", "0,50000°~S; 1,25000°~O"},
		{"money", say.KindMoney, say.Money(1250, "XOF"), "XOF~1,250", "1_250~XOF", "1~250~XOF"},
		{"small money", say.KindMoney, say.MoneyRange(2.5, 3, "USD"), "USD~2.50–3.00", "2,50–3,00~USD", "2,50–3,00~USD"},
		{"date", say.KindDate, say.Date(day), "3 March 2021", "3 mars 2021", "3 de março de 2021"},
		{"first of the month", say.KindDate, say.Date(day.AddDate(0, 4, -2)), "1 July 2021", "1er juillet 2021", "1 de julho de 2021"},
		{"date to the month", say.KindDate, say.DateOfMonth(2021, time.March), "March 2021", "mars 2021", "março de 2021"},
		{"date to the year", say.KindDate, say.DateOfMonth(2021, 0), "2021", "2021", "2021"},
		{"month", say.KindMonth, say.Month(time.August), "August", "août", "agosto"},
		{"text as given", say.KindText, say.Text("a {b} 1 m"), "a {b} 1 m", "a {b} 1 m", "a {b} 1 m"},
		{"exact depth", say.KindAny, say.Metres(12.345), "12.345~m", "12,345~m", "12,345~m"},
		{"depth with one decimal at least", say.KindAny, say.MetresRange(12, 13.72560000000001), "12.0–13.7256~m", "12,0–13,7256~m", "12,0–13,7256~m"},
		{"exact yield", say.KindAny, say.LitresPerSecond(0.253), "0.253~L/s", "0,253~L/s", "0,253~L/s"},
		{"exact number", say.KindAny, say.Number(1500, 1), "1,500", "1_500", "1~500"},
		{"any other kind", say.KindAny, say.Of("class.clay"), "clay", "argile", "argila"},
		{"nested", say.KindCode, say.Of("class.sand-coarse"), "coarse sand", "sable grossier", "areia grossa"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for l, want := range map[say.Lang]string{say.EN: tt.en, say.FR: tt.fr, say.PT: tt.pt} {
				got, err := valued(t, tt.kind, l, tt.v)
				if err != nil || got != want {
					t.Errorf("%v: got %q, %v; want %q", l, got, err, want)
				}
			}
		})
	}
}

func TestRefusedValues(t *testing.T) {
	tests := []struct {
		name string
		kind say.Kind
		v    say.Value
	}{
		{"not a number", say.KindMetres, say.Metres(math.NaN())},
		{"infinite", say.KindYield, say.LitresPerSecond(math.Inf(1))},
		{"chance above 1", say.KindChance, say.Chance(35)},
		{"range upside down", say.KindMetres, say.MetresRange(4, 3)},
		{"negative distance", say.KindDistance, say.Distance(-1)},
		{"month 13", say.KindMonth, say.Month(13)},
		{"pole passed", say.KindPosition, say.Position(91, 0)},
		{"date not set", say.KindDate, say.Date(time.Time{})},
		{"thirteenth month", say.KindDate, say.DateOfMonth(2021, 13)},
		{"empty value", say.KindMetres, say.Value{}},
		{"wrong kind", say.KindMetres, say.Chance(0.5)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := valued(t, tt.kind, say.EN, tt.v)
			if err == nil || got != "⟨v⟩" {
				t.Errorf("got %q, %v; want ⟨v⟩ and an error", got, err)
			}
		})
	}
}

func TestWhatCannotBeSaidStaysVisible(t *testing.T) {
	c := catalogue(t)
	tests := []struct {
		name    string
		m       say.Message
		want    string
		missing bool
	}{
		{"unknown code", say.Msg("reason.moon"), "⟨reason.moon⟩", true},
		{"absent argument", say.Msg("plan.carry"), "Load pipe and rods for ⟨depth⟩, what stands above the ground included.", true},
		{"unknown nested code", say.Msg("plan.tool-row", say.With("from", say.Metres(0)), say.With("to", say.Metres(2)),
			say.With("tool", say.Of("tool.spoon"))), "0.0~m to 2.0~m: ⟨tool.spoon⟩", true},
		{"misspelt argument", say.Msg("plan.carry", say.With("deph", say.Metres(1))), "Load pipe and rods for ⟨depth⟩, what stands above the ground included.", true},
		{"wrong kind", say.Msg("plan.carry", say.With("depth", say.Text("9"))), "Load pipe and rods for ⟨depth⟩, what stands above the ground included.", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := c.TrySay(say.EN, tt.m)
			if plain(got) != tt.want || err == nil || errors.Is(err, say.ErrMissing) != tt.missing {
				t.Errorf("got %q, %v; want %q, missing %v", got, err, tt.want, tt.missing)
			}
			if s := c.Say(say.EN, tt.m); s != got {
				t.Errorf("Say gives %q, TrySay %q", s, got)
			}
		})
	}
	if s, err := c.TrySay(say.EN, say.Msg("class.clay", say.With("depth", say.Metres(1)))); s != "clay" || err != nil {
		t.Errorf("an argument that is not used spoilt the text: %q, %v", s, err)
	}
	if _, err := c.TrySay(say.Lang(9), say.Msg("class.clay")); err == nil {
		t.Error("an unknown language was accepted")
	}
}
