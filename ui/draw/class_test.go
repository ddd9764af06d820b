package draw_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// rgb is a colour in linear light, each part in [0,1].
type rgb [3]float64

func linear(t *testing.T, hex string) rgb {
	t.Helper()
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is not #rrggbb", hex)
	}
	var c rgb
	for i := range c {
		v := float64(n>>(16-8*i)&0xff) / 255
		if v <= 0.04045 {
			c[i] = v / 12.92
		} else {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return c
}

// luminance and contrast follow WCAG 2.2, "relative luminance" and "contrast ratio".
func (c rgb) luminance() float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

func contrast(a, b rgb) float64 {
	hi, lo := max(a.luminance(), b.luminance()), min(a.luminance(), b.luminance())
	return (hi + 0.05) / (lo + 0.05)
}

// The projections of Viénot, Brettel & Mollon (1999) for people without red or green
// cones, in linear sRGB (numbers from memory).
var dichromats = map[string][3]rgb{
	"normal sight": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanope":    {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
	"deuteranope":  {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
}

func (c rgb) seenBy(m [3]rgb) rgb {
	var out rgb
	for i, row := range m {
		out[i] = min(1, max(0, row[0]*c[0]+row[1]*c[1]+row[2]*c[2]))
	}
	return out
}

func TestNeighbouringClassesDifferInLightness(t *testing.T) {
	// 1.12 is our own floor: about the smallest step told apart on a grey office print.
	const floor = 1.12
	looks := draw.Looks()
	for who, matrix := range dichromats {
		for i := 1; i < len(looks); i++ {
			a, b := linear(t, looks[i-1].Color).seenBy(matrix), linear(t, looks[i].Color).seenBy(matrix)
			if r := contrast(a, b); r < floor {
				t.Errorf("%s: %s and %s have contrast %.2f, want at least %v", who, looks[i-1].Class, looks[i].Class, r, floor)
			}
		}
	}
}

func TestEveryClassHasItsOwnMarksThatShow(t *testing.T) {
	seen := map[string]string{}
	for _, look := range draw.Looks() {
		if len(look.Tile.Marks) == 0 {
			t.Errorf("%s has no marks: its colour would be the only carrier", look.Class)
		}
		for _, mark := range look.Tile.Marks {
			// WCAG 2.2, success criterion 1.4.11: graphical objects need 3:1.
			if r := contrast(linear(t, look.Color), linear(t, markColor(t, mark))); r < 3 {
				t.Errorf("%s: marks have contrast %.2f to the ground, want 3", look.Class, r)
			}
		}
		tile := look.Tile
		key := fmt.Sprintf("%v", tile)
		if other, ok := seen[key]; ok {
			t.Errorf("%s has the marks of %s", look.Class, other)
		}
		seen[key] = look.Class
	}
}

func markColor(t *testing.T, mark draw.Item) string {
	t.Helper()
	switch m := mark.(type) {
	case draw.Circle:
		return m.Fill.Color + m.Stroke.Color // one of them is set
	case draw.Path:
		return m.Stroke.Color
	}
	t.Fatalf("a mark of type %T", mark)
	return ""
}

func TestEveryKeyHasAName(t *testing.T) {
	c, err := say.New()
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, look := range draw.Looks() {
		codes = append(codes, "class."+look.Class)
	}
	for _, outcome := range draw.Outcomes() {
		codes = append(codes, "outcome."+outcome)
	}
	for _, key := range draw.WaterLines() {
		codes = append(codes, "water."+key, "drawing.water-"+key)
	}
	for _, code := range codes {
		if !c.Has(code) {
			t.Errorf("the catalogue has no %q", code)
		}
	}
}

func TestLookOfUnknownClass(t *testing.T) {
	if _, err := draw.LookOf("cheese"); err == nil {
		t.Error("an unknown class was accepted")
	}
}
