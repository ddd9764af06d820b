package draw

import (
	"encoding/xml"
	"fmt"
)

// mark is a sign made of the shapes that a style can name.
type mark struct {
	shape  string // square, circle, triangle, star, cross or x
	turned int    // degrees clockwise
	fill   string // empty: open
	px     int
}

// marks are the signs of bores as near as a style comes to [Sign]: the same colours and
// outlines. A half-filled disc is a small one on a large one.
func marks(key string) []mark {
	switch key {
	case "producing":
		return []mark{{"circle", 0, "#1769aa", 10}}
	case "low-yield":
		return []mark{{"circle", 0, "#ffffff", 10}, {"circle", 0, "#1769aa", 5}}
	case "bad-water":
		return []mark{{"square", 45, "#8e5ea2", 9}}
	case "dry":
		return []mark{{"triangle", 0, "#ffffff", 11}}
	case "refused":
		return []mark{{"square", 0, "#3b3b3b", 9}}
	case "collapsed":
		return []mark{{"triangle", 180, "#d9822b", 11}}
	case "failed":
		return []mark{{"circle", 0, "#ffffff", 10}, {"x", 0, ink, 5}}
	case PointWorks:
		return []mark{{"star", 0, "#00796b", 11}}
	case PointBroken:
		return []mark{{"star", 0, "#ffffff", 11}, {"x", 0, ink, 5}}
	case PointUnknown:
		return []mark{{"star", 0, "#ffffff", 11}}
	}
	return []mark{{"x", 0, ink, 8}}
}

// StyleClass is one class of a layer in a style: the features whose property has a value,
// or none at all where Missing, drawn with the sign of a key.
type StyleClass struct {
	Key     string // of [SignKeys]
	Title   string
	Value   string
	Missing bool
}

// Style writes how a GIS shows a layer of points: a sign for each class, with a white rim
// that lifts it off the ground.
//
//   - Errors: none beyond what encoding gives.
//   - Source: OGC Styled Layer Descriptor 1.0 (OGC 02-070), section 11 and its well-known
//     shapes (from memory).
//   - Checked by: TestStyleHasTheColoursOfTheSigns.
func Style(layer, property string, classes []StyleClass) ([]byte, error) {
	doc := sldDocument{
		Version: "1.0.0", NS: "http://www.opengis.net/sld", OGC: "http://www.opengis.net/ogc",
		Layer: sldLayer{Name: layer, Style: sldStyle{Name: layer}},
	}
	for _, c := range classes {
		rule := sldRule{Name: c.Key, Title: c.Title}
		if c.Missing {
			rule.Filter.Null = &sldProperty{property}
		} else {
			rule.Filter.Equal = &sldEqual{property, c.Value}
		}
		signs := marks(c.Key)
		rim := signs[0]
		rim.px += 4
		rule.Points = append(rule.Points, rim.symbol("#ffffff", "#ffffff"))
		for _, m := range signs {
			rule.Points = append(rule.Points, m.symbol(m.fill, ink))
		}
		doc.Layer.Style.Rules = append(doc.Layer.Style.Rules, rule)
	}
	text, err := xml.MarshalIndent(doc, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("draw: style of %s: %w", layer, err)
	}
	return append([]byte(xml.Header), append(text, '\n')...), nil
}

func (m mark) symbol(fill, stroke string) sldPoint {
	p := sldPoint{Size: m.px, Rotation: m.turned, Mark: sldMark{Shape: m.shape, Stroke: sldParameters{{"stroke", stroke}, {"stroke-width", "1"}}}}
	if fill != "" {
		p.Mark.Fill = &sldParameters{{"fill", fill}}
	}
	return p
}

type sldDocument struct {
	XMLName xml.Name `xml:"StyledLayerDescriptor"`
	Version string   `xml:"version,attr"`
	NS      string   `xml:"xmlns,attr"`
	OGC     string   `xml:"xmlns:ogc,attr"`
	Layer   sldLayer `xml:"NamedLayer"`
}

type sldLayer struct {
	Name  string   `xml:"Name"`
	Style sldStyle `xml:"UserStyle"`
}

type sldStyle struct {
	Name  string    `xml:"Name"`
	Rules []sldRule `xml:"FeatureTypeStyle>Rule"`
}

type sldRule struct {
	Name   string     `xml:"Name"`
	Title  string     `xml:"Title"`
	Filter sldFilter  `xml:"ogc:Filter"`
	Points []sldPoint `xml:"PointSymbolizer"`
}

type sldFilter struct {
	Equal *sldEqual    `xml:"ogc:PropertyIsEqualTo,omitempty"`
	Null  *sldProperty `xml:"ogc:PropertyIsNull,omitempty"`
}

type sldEqual struct {
	Property string `xml:"ogc:PropertyName"`
	Value    string `xml:"ogc:Literal"`
}

type sldProperty struct {
	Property string `xml:"ogc:PropertyName"`
}

type sldPoint struct {
	Mark     sldMark `xml:"Graphic>Mark"`
	Size     int     `xml:"Graphic>Size"`
	Rotation int     `xml:"Graphic>Rotation,omitempty"`
}

type sldMark struct {
	Shape  string         `xml:"WellKnownName"`
	Fill   *sldParameters `xml:"Fill,omitempty"`
	Stroke sldParameters  `xml:"Stroke"`
}

type sldParameters []sldParameter

type sldParameter struct {
	Name  string `xml:"name,attr"`
	Value string `xml:",chardata"`
}

// MarshalXML writes the parameters within the element of their kind.
func (p sldParameters) MarshalXML(e *xml.Encoder, start xml.StartElement) error {
	type wrapped struct {
		Parameters []sldParameter `xml:"CssParameter"`
	}
	return e.EncodeElement(wrapped{p}, start)
}
