package main

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// The description of the records' addresses is valid OpenAPI by a library that knows nothing
// of ours, and what each address answers is what it describes, property by property: a
// generated client has types to read it into.
func TestDescribedIsAnswered(t *testing.T) {
	data, _ := region(t, 30, 10, 10)
	at, c := keeping(t, data)
	described, _ := page(t)(c.Get(at + "/features/api"))
	doc, err := openapi3.NewLoader().LoadFromData([]byte(described))
	if err != nil {
		t.Fatal(err)
	}
	if err := doc.Validate(t.Context()); err != nil {
		t.Fatal(err)
	}
	answered := 0
	for path, item := range doc.Paths.Map() {
		for kind, content := range item.Get.Responses.Status(http.StatusOK).Value.Content {
			if kind == "text/html" {
				continue
			}
			answered++
			closed(content.Schema.Value, map[*openapi3.Schema]bool{})
			body, _ := page(t)(c.Get(at + "/features" + strings.ReplaceAll(path, "{featureId}", aFeature(t, c, at, path))))
			var value any
			if err := json.Unmarshal([]byte(body), &value); err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			if err := content.Schema.Value.VisitJSON(value); err != nil {
				t.Errorf("%s does not answer as it is described: %v", path, err)
			}
		}
	}
	if answered != 3+3*5 {
		t.Errorf("%d addresses answered", answered)
	}
}

// closed makes every object that names its properties refuse others: what is answered is
// described.
func closed(s *openapi3.Schema, seen map[*openapi3.Schema]bool) {
	if s == nil || seen[s] {
		return
	}
	seen[s] = true
	none := false
	if len(s.Properties) > 0 {
		s.AdditionalProperties.Has = &none
	}
	for _, p := range s.Properties {
		closed(p.Value, seen)
	}
	for _, one := range s.OneOf {
		closed(one.Value, seen)
	}
	if s.Items != nil {
		closed(s.Items.Value, seen)
	}
}

// aFeature is the id of the first feature of the collection that a path asks one of.
func aFeature(t *testing.T, c *http.Client, at, path string) string {
	t.Helper()
	items, asked := strings.CutSuffix(path, "/{featureId}")
	if !asked {
		return ""
	}
	body, _ := page(t)(c.Get(at + "/features" + items + "?limit=1"))
	var some struct{ Features []struct{ ID string } }
	if err := json.Unmarshal([]byte(body), &some); err != nil || len(some.Features) != 1 {
		t.Fatalf("%s: %v, %.200s", items, err, body)
	}
	return some.Features[0].ID
}
