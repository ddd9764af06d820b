package server_test

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"
)

// outsider is what the tests read of features that an outsider gets.
type outsider struct {
	NumberMatched int
	Features      []struct {
		ID       string
		Geometry struct {
			Type        string
			Coordinates any
		}
		Properties map[string]any
	}
	Collections []struct {
		ID     string
		Extent struct{ Spatial struct{ Bbox [][]float64 } }
	}
}

func (b *browsing) outside(t *testing.T, target string) (o outsider, body string) {
	t.Helper()
	w := b.get(target, "Accept", "application/json")
	if w.Code != 200 {
		t.Fatalf("%s: %d\n%.300s", target, w.Code, w.Body)
	}
	body = w.Body.String()
	if err := json.Unmarshal([]byte(body), &o); err != nil {
		t.Fatal(err)
	}
	return o, body
}

// A link for outsiders shows a GIS the bores with their outcomes, and where it says rough
// positions neither a document nor the answers to ever smaller boxes tell more than squares.
func TestSharedFeatures(t *testing.T) {
	h := housed(t)
	b, out := h.signedIn(t, "Ana Keeper"), h.browse()
	exact := h.share(t, b, url.Values{"days": {"30"}, "label": {"donor"}}) + "/features"
	rough := h.share(t, b, url.Values{"days": {"30"}, "label": {"press"}, "blur": {"yes"}}) + "/features"

	whole, _ := out.outside(t, exact+"/collections/bores/items?limit=100")
	if len(whole.Features) != 25 || whole.Features[3].Geometry.Type != "Point" || fmt.Sprint(whole.Features[3].Geometry.Coordinates) != "[0.3 0.5]" {
		t.Errorf("exact: %+v", whole.Features)
	}
	blurred, _ := out.outside(t, rough+"/collections/bores/items?limit=100")
	for i, f := range blurred.Features {
		if f.ID != whole.Features[i].ID || f.Geometry.Type != "Polygon" || len(f.Properties) != 1 || f.Properties["outcome"] == nil {
			t.Errorf("%d: %+v", i, f)
		}
	}
	for _, document := range []string{"", "/api", "/collections", "/collections/bores", "/collections/bores/items?limit=100", "/collections/bores/items/bd"} {
		if _, body := out.outside(t, rough+document); strings.Contains(body, "[0.3,") || strings.Contains(body, "depth_m") || strings.Contains(body, "2.4,") {
			t.Errorf("%s tells an exact position, or more than outcomes", document)
		}
	}
	// A degree is 111.3 km: 5 km are 0.0449 of one. Bore bd stands at 0.3 east, 0.5 north.
	var sets []string
	for _, box := range []string{"0.2999,0.4999,0.3001,0.5001", "0.2700,0.4950,0.2701,0.4951", "0.313,0.4999,0.3131,0.5001"} {
		o, _ := out.outside(t, rough+"/collections/bores/items?bbox="+box)
		sets = append(sets, fmt.Sprint(o.NumberMatched, len(o.Features) > 0 && o.Features[0].ID == "bd"))
	}
	if slices.Sort(sets); len(slices.Compact(sets)) != 1 || sets[0] != "1 true" {
		t.Errorf("boxes in one square: %v", sets)
	}
	list, _ := out.outside(t, rough+"/collections")
	if len(list.Collections) != 1 || list.Collections[0].ID != "bores" {
		t.Fatalf("collections: %+v", list.Collections)
	}
	if box := list.Collections[0].Extent.Spatial.Bbox[0]; box[0] > -0.04 || box[2] < 2.44 || box[1] < 0.3 || box[3] > 0.7 {
		t.Errorf("extent %v", box)
	}
	expect(t, "a page", out.get(rough+"/collections/bores/items?f=html&lang=en"), 200, rough+"/collections/bores/items/bd?f=html")
	for target, code := range map[string]int{
		"/collections/layers": 404, "/collections/layers/items": 404, "/collections/advice/items": 404,
		"/collections/bores/items?depth_m=10.5": 400, "/collections/bores/items/none": 404,
	} {
		if w := out.get(rough+target, "Accept", "application/json"); w.Code != code {
			t.Errorf("%s: %d, want %d", target, w.Code, code)
		}
	}
	if log := h.log.String(); strings.Contains(log, strings.TrimPrefix(rough, "/shared/")) {
		t.Error("who reads the log can open the link")
	}
}
