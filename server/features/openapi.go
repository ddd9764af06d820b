package features

import (
	"strings"

	"waterstrike/geo"
)

// object is a JSON object of the description.
type object = map[string]any

// OpenAPI describes the interface by OpenAPI 3.0, so that a client can be generated from
// it. Addresses are relative to the root.
func (a *API) OpenAPI(version string) map[string]any {
	form := refer("parameters", "f")
	paths := object{
		"/":            a.get("getLandingPage", a.said("title"), []any{form}, object{JSON: refer("schemas", "landing")}),
		"/conformance": a.get("getConformance", a.said("conformance"), []any{form}, object{JSON: refer("schemas", "conformance")}),
		"/collections": a.get("getCollections", a.said("collections"), []any{form}, object{JSON: refer("schemas", "collections")}),
	}
	schemas := sharedSchemas()
	for _, c := range a.Source.Collections() {
		at, id := "/collections/"+c.Name, strings.ReplaceAll(c.Name, "-", "_")
		schemas[id+"_properties"] = c.propertySchema()
		schemas[id+"_feature"], schemas[id+"_page"] = featureSchemas(id)
		title := a.Say(c.Title)
		paths[at] = a.get("describe_"+id, title, []any{form}, object{JSON: refer("schemas", "collection")})
		paths[at+"/items"] = a.get("get_"+id, title, c.parameters(), object{GeoJSON: refer("schemas", id+"_page")})
		one := object{"name": "featureId", "in": "path", "required": true, "schema": object{"type": "string"}}
		paths[at+"/items/{featureId}"] = a.get("get_one_of_"+id, title, []any{form, one}, object{GeoJSON: refer("schemas", id+"_feature")})
	}
	return object{
		"openapi":    "3.0.3",
		"info":       object{"title": a.said("title"), "description": a.said("description"), "version": version},
		"servers":    []any{object{"url": a.Root}},
		"tags":       []any{object{"name": "features"}},
		"paths":      paths,
		"components": object{"parameters": sharedParameters(), "schemas": schemas},
	}
}

func (a *API) said(code string) string { return a.Say(geo.Code("features." + code)) }

// get describes an address by what it answers, each kind with its schema, or as a page.
func (a *API) get(id, title string, parameters []any, kinds object) object {
	content := object{HTML: object{"schema": object{"type": "string"}}}
	for kind, schema := range kinds {
		content[kind] = object{"schema": schema}
	}
	wrong := object{"application/problem+json": object{"schema": refer("schemas", "problem")}}
	return object{"get": object{
		"operationId": id, "summary": title, "parameters": parameters, "tags": []string{"features"},
		"responses": object{
			"200":     object{"description": a.said("answer"), "content": content},
			"default": object{"description": a.said("failure"), "content": wrong},
		},
	}}
}

// parameters are what a page of the collection can be asked by.
func (c *Collection) parameters() []any {
	limit := object{"type": "integer", "minimum": 1, "maximum": c.most(), "default": usualLimit}
	out := []any{refer("parameters", "f"), parameter("limit", limit)}
	for _, name := range []string{"offset", "bbox", "datetime"} {
		out = append(out, refer("parameters", name))
	}
	for _, p := range c.askable() {
		out = append(out, parameter(p.Name, object{"type": p.Type}))
	}
	return out
}

func sharedParameters() object {
	return object{
		"f":        parameter("f", object{"type": "string", "enum": []string{"json", "html"}}),
		"offset":   parameter("offset", object{"type": "integer", "minimum": 0, "default": 0}),
		"bbox":     parameter("bbox", object{"type": "array", "minItems": 4, "maxItems": 6, "items": object{"type": "number"}}),
		"datetime": parameter("datetime", object{"type": "string"}),
	}
}

func parameter(name string, schema object) object {
	return object{"name": name, "in": "query", "required": false, "schema": schema, "style": "form", "explode": false}
}

func refer(kind, name string) object { return object{"$ref": "#/components/" + kind + "/" + name} }

// askable are the properties that features can be asked for by.
func (c *Collection) askable() []Property {
	if c.Worked {
		return nil
	}
	return c.Properties
}
