package features

// sharedSchemas describe the documents that are the same for all collections.
func sharedSchemas() object {
	links := list(refer("schemas", "link"))
	return object{
		"problem": record([]string{"type", "title", "status"}, object{
			"type": text(), "title": text(), "status": object{"type": "integer"}, "detail": text(), "code": text(),
		}),
		"link":        record([]string{"href", "rel"}, object{"href": text(), "rel": text(), "type": text(), "title": text()}),
		"landing":     record([]string{"title", "links"}, object{"title": text(), "description": text(), "links": links}),
		"conformance": record([]string{"conformsTo"}, object{"conformsTo": list(text())}),
		"collections": record([]string{"links", "collections"}, object{
			"links": links, "collections": list(refer("schemas", "collection")),
		}),
		"collection": record([]string{"id", "links"}, object{
			"id": text(), "title": text(), "extent": refer("schemas", "extent"), "itemType": text(), "crs": list(text()), "links": links,
		}),
		"extent": record(nil, object{"spatial": record([]string{"bbox"}, object{"bbox": list(list(number())), "crs": text()})}),
		"point":  shape("Point", list(number())),
		// A square that stands for a blurred position, or for an area of advice.
		"polygon":  shape("Polygon", list(list(list(number())))),
		"geometry": object{"oneOf": []any{refer("schemas", "point"), refer("schemas", "polygon")}},
	}
}

// propertySchema describes what a feature tells; what is not known is left out of it.
func (c *Collection) propertySchema() object {
	properties := object{}
	for _, p := range c.Properties {
		properties[p.Name] = object{"type": p.Type}
	}
	return record(nil, properties)
}

// featureSchemas describe one feature of a collection, and a page of them.
func featureSchemas(id string) (feature, page object) {
	links := list(refer("schemas", "link"))
	feature = record([]string{"type", "id", "geometry", "properties"}, object{
		"type": one("Feature"), "id": text(), "geometry": refer("schemas", "geometry"),
		"properties": refer("schemas", id+"_properties"), "links": links,
	})
	page = record([]string{"type", "features", "links"}, object{
		"type": one("FeatureCollection"), "numberMatched": object{"type": "integer"}, "numberReturned": object{"type": "integer"},
		"timeStamp": object{"type": "string", "format": "date-time"}, "links": links,
		"features": list(refer("schemas", id+"_feature")),
	})
	return feature, page
}

func shape(kind string, coordinates object) object {
	return record([]string{"type", "coordinates"}, object{"type": one(kind), "coordinates": coordinates})
}

func record(required []string, properties object) object {
	out := object{"type": "object", "properties": properties}
	if len(required) > 0 {
		out["required"] = required
	}
	return out
}

func list(of object) object  { return object{"type": "array", "items": of} }
func one(word string) object { return object{"type": "string", "enum": []string{word}} }
func text() object           { return object{"type": "string"} }
func number() object         { return object{"type": "number"} }
