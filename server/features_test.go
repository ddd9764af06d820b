package server_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
)

// collection is what the tests read of a page.
type collection struct {
	Type           string
	NumberMatched  int
	NumberReturned int
	TimeStamp      string
	Features       []struct {
		Type, ID   string
		Geometry   struct{ Type string }
		Properties map[string]any
	}
	Links []link
}

type link struct{ Href, Rel, Type string }

func related(links []link, rel string) string {
	for _, l := range links {
		if l.Rel == rel {
			u, err := url.Parse(l.Href)
			if err != nil {
				return ""
			}
			return u.RequestURI()
		}
	}
	return ""
}

func (b bench) document(t *testing.T, target string, into any) http.Header {
	t.Helper()
	w := b.get(target)
	if w.Code != http.StatusOK {
		t.Fatalf("%s: %d\n%.300s", target, w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), into); err != nil {
		t.Fatalf("%s: %v", target, err)
	}
	return w.Header()
}

// The abstract tests of OGC 17-069r4, annex A, by their names there.
func TestAbstractCore(t *testing.T) {
	b := newBench(t, land{}, nil)
	var landing struct{ Links []link }
	b.document(t, "/features", &landing) // /conf/core/root-op, root-success
	for _, rel := range []string{"service-desc", "service-doc", "conformance", "data", "self", "alternate"} {
		if at := related(landing.Links, rel); at == "" || b.get(at).Code != http.StatusOK {
			t.Errorf("landing page: %s leads to %q", rel, at)
		}
	}
	var api struct {
		OpenAPI string
		Paths   map[string]any
	}
	head := b.document(t, "/features/api", &api) // /conf/core/api-definition-op, /conf/oas30
	if !strings.HasPrefix(api.OpenAPI, "3.0.") || head.Get("Content-Type") != "application/vnd.oai.openapi+json;version=3.0" {
		t.Errorf("interface: version %q as %q", api.OpenAPI, head.Get("Content-Type"))
	}
	for _, path := range []string{"/", "/conformance", "/collections", "/collections/bores", "/collections/bores/items", "/collections/bores/items/{featureId}"} {
		if api.Paths[path] == nil {
			t.Errorf("interface: %s is not described", path)
		}
	}
	var classes struct{ ConformsTo []string }
	b.document(t, "/features/conformance", &classes) // /conf/core/conformance
	for _, class := range []string{"core", "geojson", "html", "oas30"} {
		if !slices.Contains(classes.ConformsTo, "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/"+class) {
			t.Errorf("class %s is not declared", class)
		}
	}
	var list struct {
		Links       []link
		Collections []struct {
			ID     string
			Links  []link
			Extent struct{ Spatial struct{ Bbox [][]float64 } }
		}
	}
	b.document(t, "/features/collections", &list) // /conf/core/fc-md-op, fc-md-success, fc-md-items
	if len(list.Collections) != 1 || list.Collections[0].ID != "bores" || len(list.Collections[0].Extent.Spatial.Bbox) != 1 {
		t.Fatalf("collections: %+v", list)
	}
	if at := related(list.Collections[0].Links, "items"); b.get(at).Code != http.StatusOK {
		t.Errorf("items: %q", at)
	}
	var one struct{ ID string }
	b.document(t, "/features/collections/bores", &one) // /conf/core/sfc-md-op
	if one.ID != "bores" {
		t.Errorf("collection: %+v", one)
	}
}

func (b bench) items(t *testing.T, query string) collection {
	t.Helper()
	var c collection
	head := b.document(t, "/features/collections/bores/items"+query, &c)
	if head.Get("Content-Type") != "application/geo+json" || c.Type != "FeatureCollection" || c.NumberReturned != len(c.Features) || c.TimeStamp == "" {
		t.Errorf("%s: %q, %d returned, %d there", query, head.Get("Content-Type"), c.NumberReturned, len(c.Features))
	}
	return c
}

// /conf/core/fc-limit, fc-bbox, fc-time, fc-links: pages joined together are the whole.
func TestAbstractItems(t *testing.T) {
	b := newBench(t, land{}, nil)
	var ids []string
	at, pages := "/features/collections/bores/items?limit=7", 0
	for at != "" && pages < 9 {
		var c collection
		b.document(t, at, &c)
		for _, f := range c.Features {
			ids = append(ids, f.ID)
		}
		at, pages = related(c.Links, "next"), pages+1
	}
	if len(ids) != 25 || pages != 4 || !slices.IsSorted(ids) || len(slices.Compact(slices.Clone(ids))) != 25 {
		t.Errorf("%d pages hold %v", pages, ids)
	}
	for _, c := range []struct {
		query   string
		matched int
	}{
		{"", 25},
		{"?limit=20000", 25}, // more than we give is no error
		{"?bbox=0.15,0,0.95,1", 8},
		{"?bbox=0.15,0,-9,0.95,1,9", 8}, // with heights
		{"?bbox=2.35,0,0.05,1", 2},      // across the antimeridian: the easternmost and the westernmost
		{"?datetime=2020-03-05", 1},
		{"?datetime=2020-03-05T12:00:00Z", 1},
		{"?datetime=2020-03-01/2020-05-31", 3},
		{"?datetime=../2020-02-28", 2},
		{"?datetime=2021-12-01/..", 2},
		{"?outcome=dry", 5},
		{"?outcome=dry&bbox=0,0,1,1", 3},
		{"?depth_m=10.5", 1},
		{"?outcome=none", 0},
	} {
		if got := b.items(t, c.query); got.NumberMatched != c.matched {
			t.Errorf("%q: %d, want %d", c.query, got.NumberMatched, c.matched)
		}
	}
	for _, query := range []string{"limit=0", "limit=x", "offset=-1", "bbox=1,2,3", "bbox=0,1,1,0", "bbox=0,-91,1,0", "datetime=x", "datetime=../..", "datetime=2021-01-02/2020-01-01", "unknown=1", "bbox-crs=x", "f=xml"} {
		w := b.get("/features/collections/bores/items?"+query, "Accept", "application/json")
		if w.Code != http.StatusBadRequest || w.Header().Get("Content-Type") != "application/problem+json" {
			t.Errorf("%s: %d as %q", query, w.Code, w.Header().Get("Content-Type"))
		}
	}
}

// /conf/core/f-op, f-success, f-links; /conf/geojson/content; /conf/html/content.
func TestAbstractFeature(t *testing.T) {
	b := newBench(t, land{}, nil)
	var f struct {
		Type, ID   string
		Geometry   struct{ Type string }
		Properties map[string]any
		Links      []link
	}
	head := b.document(t, "/features/collections/bores/items/bc", &f)
	if f.Type != "Feature" || f.ID != "bc" || f.Geometry.Type != "Point" || f.Properties["depth_m"] != 11.0 || head.Get("Content-Type") != "application/geo+json" {
		t.Errorf("%+v as %q", f, head.Get("Content-Type"))
	}
	for _, rel := range []string{"self", "alternate", "collection"} {
		if at := related(f.Links, rel); b.get(at).Code != http.StatusOK {
			t.Errorf("%s leads to %q", rel, at)
		}
	}
	for _, target := range []string{"/features", "/features/collections", "/features/collections/bores", "/features/collections/bores/items", "/features/collections/bores/items/bc", "/features/conformance", "/features/api"} {
		asked := b.get(target+"?f=html&lang=fr", "Accept", "application/json")
		accepted := b.get(target+"?lang=fr", "Accept", "text/html,*/*")
		for _, w := range []string{asked.Header().Get("Content-Type"), accepted.Header().Get("Content-Type")} {
			if !strings.HasPrefix(w, "text/html") {
				t.Errorf("%s: a page is sent as %q", target, w)
			}
		}
		if body := asked.Body.String(); strings.Contains(body, "⟨") || !strings.Contains(body, `<html lang="fr"`) {
			t.Errorf("%s: not a page in French", target)
		}
	}
}
