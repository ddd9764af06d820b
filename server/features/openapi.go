package features

import (
	"strings"

	"waterstrike/geo"
)

// OpenAPI describes the interface by OpenAPI 3.0, so that a client can be generated from
// it. Addresses are relative to the root.
func (a *API) OpenAPI(version string) map[string]any {
	type m = map[string]any
	say := func(code geo.Code) string { return a.Say("features." + code) }
	answer := func(kinds ...string) m {
		content := m{}
		for _, k := range kinds {
			content[k] = m{"schema": m{"type": "object"}}
		}
		content[HTML] = m{"schema": m{"type": "string"}}
		return m{
			"200":     m{"description": say("answer"), "content": content},
			"default": m{"description": say("failure"), "content": m{"application/problem+json": m{"schema": m{"$ref": "#/components/schemas/problem"}}}},
		}
	}
	get := func(id, title string, parameters []any, answers m) m {
		return m{"get": m{"operationId": id, "summary": title, "parameters": parameters, "responses": answers, "tags": []string{"features"}}}
	}
	number := func(name, in string, schema m) m {
		return m{"name": name, "in": in, "required": false, "schema": schema, "style": "form", "explode": false}
	}
	form := m{"$ref": "#/components/parameters/f"}
	paths := m{
		"/":            get("getLandingPage", say("title"), []any{form}, answer(JSON)),
		"/conformance": get("getConformance", say("conformance"), []any{form}, answer(JSON)),
		"/collections": get("getCollections", say("collections"), []any{form}, answer(JSON)),
	}
	for _, c := range a.Source.Collections() {
		at, title := "/collections/"+c.Name, a.Say(c.Title)
		id := strings.ReplaceAll(c.Name, "-", "_")
		items := []any{form, number("limit", "query", m{"type": "integer", "minimum": 1, "maximum": c.most(), "default": usualLimit})}
		for _, name := range []string{"offset", "bbox", "datetime"} {
			items = append(items, m{"$ref": "#/components/parameters/" + name})
		}
		for _, p := range c.askable() {
			items = append(items, m{"name": p.Name, "in": "query", "required": false, "schema": m{"type": p.Type}, "style": "form", "explode": false})
		}
		paths[at] = get("describe_"+id, title, []any{form}, answer(JSON))
		paths[at+"/items"] = get("get_"+id, title, items, answer(GeoJSON))
		one := m{"name": "featureId", "in": "path", "required": true, "schema": m{"type": "string"}}
		paths[at+"/items/{featureId}"] = get("get_one_of_"+id, title, []any{form, one}, answer(GeoJSON))
	}
	return m{
		"openapi": "3.0.3",
		"info":    m{"title": say("title"), "description": say("description"), "version": version},
		"servers": []any{m{"url": a.Root}},
		"tags":    []any{m{"name": "features"}},
		"paths":   paths,
		"components": m{
			"parameters": m{
				"f":        number("f", "query", m{"type": "string", "enum": []string{"json", "html"}}),
				"offset":   number("offset", "query", m{"type": "integer", "minimum": 0, "default": 0}),
				"bbox":     number("bbox", "query", m{"type": "array", "minItems": 4, "maxItems": 6, "items": m{"type": "number"}}),
				"datetime": number("datetime", "query", m{"type": "string"}),
			},
			"schemas": m{"problem": m{"type": "object", "properties": m{
				"type": m{"type": "string"}, "title": m{"type": "string"}, "status": m{"type": "integer"}, "detail": m{"type": "string"}, "code": m{"type": "string"},
			}}},
		},
	}
}

// askable are the properties that features can be asked for by.
func (c *Collection) askable() []Property {
	if c.Worked {
		return nil
	}
	return c.Properties
}
