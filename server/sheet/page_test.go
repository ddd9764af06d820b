package sheet_test

import (
	"strings"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

func TestPageDrawsWhatIsKnown(t *testing.T) {
	c := catalogue(t)
	for _, l := range say.Langs() {
		p, err := sheet.NewPage(c, l, full(), ground())
		if err != nil {
			t.Fatal(err)
		}
		for name, want := range map[string][2]string{
			"column":  {string(p.Column.SVG), c.Say(l, say.Msg("class.sand"))},
			"locator": {string(p.Locator.SVG), "Anse Verte"},
			"legend":  {string(p.Legend.SVG), c.Say(l, say.Msg("drawing.this-point"))},
		} {
			if !strings.HasPrefix(want[0], "<svg") || !strings.Contains(want[0], want[1]) {
				t.Errorf("%v: the %s lacks %q", l, name, want[1])
			}
			if strings.Contains(want[0], "⟨") || strings.Contains(want[0], "style=") {
				t.Errorf("%v: the %s has a gap or an inline style", l, name)
			}
		}
	}
}

func TestPageWithoutEvidenceHasNoDrawings(t *testing.T) {
	p, err := sheet.NewPage(catalogue(t), say.EN, bare(), sheet.Ground{})
	if err != nil {
		t.Fatal(err)
	}
	if p.Column.SVG != "" || p.Locator.SVG != "" || p.Legend.SVG != "" {
		t.Error("something was drawn without evidence")
	}
}

func TestPageEscapesNames(t *testing.T) {
	g := ground()
	g.Villages[0].Name = `<script>alert("x")</script>`
	p, err := sheet.NewPage(catalogue(t), say.EN, full(), g)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(p.Locator.SVG), "<script") {
		t.Error("a village's name became markup")
	}
}

func TestUnknownVerdictIsNeverAGoAhead(t *testing.T) {
	a := full()
	a.Verdict.Code = "verdict.marvellous"
	if got := sheet.New(catalogue(t), say.EN, a).Verdict; got.Mark != "avoid" {
		t.Errorf("shown with the sign %q", got.Mark)
	}
}

func TestSectionDrawsTheInventedLand(t *testing.T) {
	a, b := coord.LonLat{Lon: -0.1, Lat: 0.05}, coord.LonLat{Lon: 0.1, Lat: 0.05}
	scene, err := sheet.Section(catalogue(t), say.PT, a, demoland.New(1).Section(a, b, 40))
	doc := svg(t, scene, err)
	for _, want := range []string{"Altitude (m)", "Água: baixo normal", "Corte do terreno"} {
		if !strings.Contains(doc, want) {
			t.Errorf("the section lacks %q", want)
		}
	}
}
