package say_test

import (
	"strings"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"waterstrike/ui/say"
)

func TestParseLang(t *testing.T) {
	tests := []struct {
		in   string
		want say.Lang
		ok   bool
	}{
		{"en", say.EN, true},
		{"fr-SN", say.FR, true},
		{"pt_MZ", say.PT, true},
		{"PT-BR", say.PT, true},
		{"sw-TZ", say.EN, false},
		{"", say.EN, false},
		{"not a tag", say.EN, false},
	}
	for _, tt := range tests {
		got, err := say.ParseLang(tt.in)
		if got != tt.want || (err == nil) != tt.ok {
			t.Errorf("%q: got %v, %v; want %v, ok %v", tt.in, got, err, tt.want, tt.ok)
		}
	}
}

func TestNegotiate(t *testing.T) {
	tests := []struct {
		name, header string
		want         say.Lang
	}{
		{"example of RFC 9110 section 12.5.4", "da, en-gb;q=0.8, en;q=0.7", say.EN},
		{"weights decide", "en;q=0.3, pt-AO;q=0.9", say.PT},
		{"region ignored", "fr-CI", say.FR},
		{"none of ours", "ja", say.FR},
		{"empty", "", say.FR},
		{"unreadable", ";;q=x", say.FR},
	}
	for _, tt := range tests {
		if got := say.Negotiate(tt.header, say.FR); got != tt.want {
			t.Errorf("%s: got %v, want %v", tt.name, got, tt.want)
		}
	}
}

// The x/text module carries the CLDR number tables (version 32, in which the French
// group mark was still U+00A0): its marks are the outside check of ours.
func TestNumbersAgreeWithCLDR(t *testing.T) {
	tags := map[say.Lang]language.Tag{
		say.EN: language.BritishEnglish, say.FR: language.French, say.PT: language.EuropeanPortuguese,
	}
	blanks := strings.NewReplacer("\u202f", "\u00a0", "−", "-")
	for l, tag := range tags {
		p := message.NewPrinter(tag)
		for _, v := range []float64{0, 7.5, 1234.5, 12345.678, -1234567.891, 99999.999} {
			want := p.Sprint(number.Decimal(v, number.Scale(2)))
			got, err := single(t, say.KindNumber).TrySay(l, say.Msg("x", say.With("v", say.Number(v, 2))))
			if err != nil || blanks.Replace(got) != blanks.Replace(want) {
				t.Errorf("%v %v: got %q, %v; CLDR gives %q", l, v, got, err, want)
			}
		}
	}
}

func TestPluralForms(t *testing.T) {
	c := mustLoad(t, `{"n": "count"}`, `{"x": {
		"en": "{n, one: bore, other: bores}",
		"fr": "{n, one: forage, many: de forages, other: forages}",
		"pt": "{n, zero: nenhum, one: furo, other: furos}"}}`)
	// CLDR cardinal rules: en one: 1; fr one: 0, 1; pt one: 0, 1. The zero form is ours.
	tests := []struct {
		n          int
		en, fr, pt string
	}{
		{0, "bores", "forage", "nenhum"},
		{1, "bore", "forage", "furo"},
		{2, "bores", "forages", "furos"},
		{11, "bores", "forages", "furos"},
		{101, "bores", "forages", "furos"},
	}
	for _, tt := range tests {
		for l, want := range map[say.Lang]string{say.EN: tt.en, say.FR: tt.fr, say.PT: tt.pt} {
			got, err := c.TrySay(l, say.Msg("x", say.With("n", say.Count(tt.n))))
			if err != nil || got != want {
				t.Errorf("%v %d: got %q, %v; want %q", l, tt.n, got, err, want)
			}
		}
	}
}

func TestZeroFormIsOptional(t *testing.T) {
	c := mustLoad(t, `{"n": "count"}`, entryOf("{n, one: furo, other: furos}"))
	// CLDR pt: 0 takes the form one.
	if got := c.Say(say.PT, say.Msg("x", say.With("n", say.Count(0)))); got != "furo" {
		t.Errorf("got %q", got)
	}
}

func TestFrenchSpacing(t *testing.T) {
	c := mustLoad(t, `{}`, entryOf("Dire : « quoi » ? Non ; 3 m, 5 %."))
	// Spacing of double marks: common practice of French typography.
	const want = "Dire~: «~quoi~»_? Non_; 3~m, 5~%."
	if got := plain(c.Say(say.FR, say.Msg("x"))); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
