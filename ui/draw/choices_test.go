package draw_test

import (
	"fmt"
	"slices"
	"testing"

	"waterstrike/ui/draw"
)

// What was chosen, what was not and what had no need differ without colour (WCAG 2.2,
// 1.4.1), the chosen bear their numbers, the first on top.
func TestChoicesDifferInShape(t *testing.T) {
	at := func(x, y float64, name string) draw.MapVillage {
		return draw.MapVillage{At: draw.Point{X: x, Y: y}, Name: name}
	}
	s, err := draw.Choices(draw.ChoiceMap{
		Chosen: []draw.MapVillage{at(0, 0, "A"), at(500, 0, "B")}, LeftOut: []draw.MapVillage{at(0, 900, "C")}, NoNeed: []draw.MapVillage{at(900, 900, "D")},
	}, sheetOfMap())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, it := range s.Items {
		group, ok := it.(draw.Group)
		if !ok {
			continue
		}
		for _, it := range group.Items {
			sign, number := it.(draw.Group), ""
			if len(sign.Items) > 1 {
				number = " " + sign.Items[1].(draw.Text).Words
			}
			got = append(got, fmt.Sprintf("%s %T%s", sign.Title, sign.Items[0], number))
		}
	}
	if want := []string{"D draw.Circle", "C draw.Rect", "B draw.Circle 2", "A draw.Circle 1"}; !slices.Equal(got, want) {
		t.Errorf("drawn %q, want %q", got, want)
	}
	if _, err := draw.Choices(draw.ChoiceMap{}, sheetOfMap()); err == nil {
		t.Error("a map of nothing was drawn")
	}
}
