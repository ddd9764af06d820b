package publish

import (
	"encoding/json"
	"fmt"
	"math"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// DCATType is the media type of what [DCAT] writes (JSON-LD 1.1, section 9).
const DCATType = "application/ld+json"

// DCATStandard names the vocabulary, as the metadata of a GeoPackage asks for it.
const DCATStandard = "http://www.w3.org/ns/dcat#"

// Dataset is what a set of files is about, in somebody's own words.
type Dataset struct {
	ID            string // that stays when the data change
	Title         string
	Description   string
	Language      string // BCP 47
	Publisher     string
	Licence       string
	Modified      geo.Date
	Version       string    // of the data
	Extent        orb.Bound // degrees
	Distributions []Distribution
}

// Distribution is one form in which the data can be had.
type Distribution struct {
	File      string
	Title     string
	MediaType string
	Bytes     int64
}

// DCAT describes a dataset in the Data Catalog Vocabulary, version 2, as JSON-LD. What is
// not said is left out.
//
//   - Units: the extent in degrees, as WKT (GeoSPARQL) and on WGS 84 with longitude first.
//   - Errors: [geo.Invalid] without an ID or title, and for an extent off the globe.
//   - Source: DCAT 2, sections 6.4 to 6.8; terms of Dublin Core (from memory).
//   - Checked by: TestDCAT.
func DCAT(d Dataset) ([]byte, error) {
	if d.ID == "" || d.Title == "" {
		return nil, geo.Fail(geo.Invalid, "publish.DCAT", geo.Message{}, fmt.Errorf("a dataset needs an ID and a title"))
	}
	out := map[string]any{
		"@context": map[string]string{
			"dcat": DCATStandard, "dct": "http://purl.org/dc/terms/", "foaf": "http://xmlns.com/foaf/0.1/",
			"xsd": "http://www.w3.org/2001/XMLSchema#",
			"owl": "http://www.w3.org/2002/07/owl#", "geosparql": "http://www.opengis.net/ont/geosparql#",
		},
		"@id": d.ID, "@type": "dcat:Dataset",
	}
	say := func(name string, text string) {
		if text != "" {
			out[name] = text
		}
	}
	out["dct:title"] = inLanguage(d.Title, d.Language)
	if d.Description != "" {
		out["dct:description"] = inLanguage(d.Description, d.Language)
	}
	say("dct:language", d.Language)
	say("owl:versionInfo", d.Version)
	if d.Publisher != "" {
		out["dct:publisher"] = map[string]string{"@type": "foaf:Organization", "foaf:name": d.Publisher}
	}
	if d.Licence != "" {
		out["dct:license"] = map[string]string{"@type": "dct:LicenseDocument", "dct:title": d.Licence}
	}
	if d.Modified.Year != 0 {
		out["dct:modified"] = typed(d.Modified)
	}
	if d.Extent != (orb.Bound{}) {
		place, err := extentOf(d.Extent)
		if err != nil {
			return nil, err
		}
		out["dct:spatial"] = place
	}
	if len(d.Distributions) > 0 {
		out["dcat:distribution"] = distributionsOf(d)
	}
	return json.MarshalIndent(out, "", "  ") // sorts the members
}

func inLanguage(text, language string) any {
	if language == "" {
		return text
	}
	return map[string]string{"@value": text, "@language": language}
}

// typed is a date with the type that its precision has in XML Schema.
func typed(d geo.Date) map[string]string {
	kind := "xsd:date"
	switch {
	case d.Month == 0:
		kind = "xsd:gYear"
	case d.Day == 0:
		kind = "xsd:gYearMonth"
	}
	return map[string]string{"@type": kind, "@value": d.String()}
}

func extentOf(b orb.Bound) (any, error) {
	w, s, e, n := b.Min[0], b.Min[1], b.Max[0], b.Max[1]
	if !(w >= -180 && w <= e && e <= 180 && s >= -90 && s <= n && n <= 90) || math.IsNaN(w+s+e+n) {
		return nil, geo.Fail(geo.Invalid, "publish.DCAT", geo.Message{}, fmt.Errorf("an extent of %v is not on the globe", b))
	}
	wkt := fmt.Sprintf("POLYGON((%[1]g %[2]g,%[3]g %[2]g,%[3]g %[4]g,%[1]g %[4]g,%[1]g %[2]g))", w, s, e, n)
	return map[string]any{
		"@type":     "dct:Location",
		"dcat:bbox": map[string]string{"@type": "geosparql:wktLiteral", "@value": wkt},
	}, nil
}

func distributionsOf(d Dataset) []any {
	out := make([]any, len(d.Distributions))
	for i, x := range d.Distributions {
		one := map[string]any{
			"@type": "dcat:Distribution", "dct:title": inLanguage(x.Title, d.Language),
			"dcat:downloadURL": map[string]string{"@id": x.File}, "dcat:mediaType": x.MediaType,
		}
		if x.Bytes > 0 {
			one["dcat:byteSize"] = map[string]any{"@type": "xsd:nonNegativeInteger", "@value": x.Bytes}
		}
		out[i] = one
	}
	return out
}
