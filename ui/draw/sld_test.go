package draw_test

import (
	"encoding/xml"
	"regexp"
	"slices"
	"strings"
	"testing"

	"waterstrike/ui/draw"
)

// A style that a GIS reads shows each outcome by the colours of our own signs, each by a
// shape and fill that no other has, and is well-formed.
func TestStyleHasTheColoursOfTheSigns(t *testing.T) {
	var classes []draw.StyleClass
	for _, key := range draw.SignKeys() {
		if key != draw.VillageSign {
			classes = append(classes, draw.StyleClass{Key: key, Title: key + " & more", Value: key})
		}
	}
	classes = append(classes, draw.StyleClass{Key: draw.PointUnknown, Title: "not known", Missing: true})
	text, err := draw.Style("bore", "outcome", classes)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Rules []struct {
			Name, Title string
			Inner       string `xml:",innerxml"`
		} `xml:"NamedLayer>UserStyle>FeatureTypeStyle>Rule"`
	}
	if err := xml.Unmarshal(text, &doc); err != nil || len(doc.Rules) != len(classes) {
		t.Fatalf("%d rules of %d: %v", len(doc.Rules), len(classes), err)
	}
	colour := regexp.MustCompile(`name="fill">(#\w+)<`)
	seen := map[string]string{}
	for i, r := range doc.Rules {
		if r.Title != classes[i].Title || !strings.Contains(r.Inner, "PropertyName>outcome<") || strings.Contains(r.Inner, "PropertyIsNull") != classes[i].Missing {
			t.Errorf("%s: %s", r.Name, r.Inner)
		}
		var got []string
		for _, m := range colour.FindAllStringSubmatch(r.Inner, -1) {
			got = append(got, m[1])
		}
		for _, want := range fillsOf(t, r.Name) {
			if !slices.Contains(got, want) {
				t.Errorf("%s is drawn in %v, the sign has %s", r.Name, got, want)
			}
		}
		look := r.Inner[strings.Index(r.Inner, "<PointSymbolizer>"):]
		if other := seen[look]; other != "" && other != r.Name {
			t.Errorf("%s looks like %s", r.Name, other)
		}
		seen[look] = r.Name
	}
}

// fillsOf lists the fills of a sign of the map.
func fillsOf(t *testing.T, key string) (out []string) {
	t.Helper()
	items, err := draw.Sign(key, 0, draw.Point{})
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range items {
		switch it := it.(type) {
		case draw.Circle:
			out = append(out, it.Fill.Color)
		case draw.Path:
			out = append(out, it.Fill.Color)
		}
	}
	return slices.DeleteFunc(out, func(c string) bool { return c == "" })
}
