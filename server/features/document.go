package features

import (
	"context"
	"encoding/json"
	"net/url"
	"slices"
	"strconv"
	"time"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// The media types of the documents, and the coordinate system of all of them.
const (
	JSON    = "application/json"
	GeoJSON = "application/geo+json"
	HTML    = "text/html"
	OpenAPI = "application/vnd.oai.openapi+json;version=3.0"
	CRS84   = "http://www.opengis.net/def/crs/OGC/1.3/CRS84"
)

// Link leads from one document to another.
type Link struct {
	Href  string `json:"href"`
	Rel   string `json:"rel"`
	Type  string `json:"type,omitempty"`
	Title string `json:"title,omitempty"`
}

// API writes documents. Root is the address of the landing page, without a stroke at its
// end; Say says a code in the asker's language. With Squares positions are told by them
// alone, see [Where].
type API struct {
	Source  Source
	Root    string
	Say     func(geo.Code) string
	Squares func(orb.Point) orb.Bound
}

// Landing is the landing page.
type Landing struct {
	Title       string `json:"title"`
	Description string `json:"description"`
	Links       []Link `json:"links"`
}

// Conformance lists the classes that are met.
type Conformance struct {
	ConformsTo []string `json:"conformsTo"`
}

// Collections lists the collections.
type Collections struct {
	Links       []Link      `json:"links"`
	Collections []Described `json:"collections"`
}

// Described is one collection.
type Described struct {
	ID     string         `json:"id"`
	Title  string         `json:"title"`
	Extent map[string]any `json:"extent,omitempty"`
	Item   string         `json:"itemType"`
	CRS    []string       `json:"crs"`
	Links  []Link         `json:"links"`
}

// Landing makes the landing page.
func (a *API) Landing() Landing {
	return Landing{
		Title: a.Say("features.title"), Description: a.Say("features.description"),
		Links: append(a.both(a.Root, JSON),
			Link{a.Root + "/api", "service-desc", OpenAPI, a.Say("features.api")},
			Link{a.Root + "/api?f=html", "service-doc", HTML, a.Say("features.api")},
			Link{a.Root + "/conformance", "conformance", JSON, a.Say("features.conformance")},
			Link{a.Root + "/collections", "data", JSON, a.Say("features.collections")}),
	}
}

// Conformance tells which classes of the standard are met.
func (a *API) Conformance() Conformance {
	const class = "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/"
	return Conformance{[]string{class + "core", class + "geojson", class + "html", class + "oas30"}}
}

// both links a document in its own form and as a page.
func (a *API) both(at, kind string) []Link {
	return []Link{{at + "?f=json", "self", kind, ""}, {at + "?f=html", "alternate", HTML, ""}}
}

// Collections lists the collections with their extents.
func (a *API) Collections(ctx context.Context) (Collections, error) {
	out := Collections{Links: a.both(a.Root+"/collections", JSON)}
	for _, c := range a.Source.Collections() {
		d, err := a.describe(ctx, c)
		if err != nil {
			return out, err
		}
		out.Collections = append(out.Collections, d)
	}
	return out, nil
}

// Collection describes one; a [geo.NotFound] error where there is none of that name.
func (a *API) Collection(ctx context.Context, name string) (Described, error) {
	c, err := a.named(name)
	if err != nil {
		return Described{}, err
	}
	d, err := a.describe(ctx, c)
	d.Links = append(a.both(a.Root+"/collections/"+c.Name, JSON), d.Links...)
	return d, err
}

func (a *API) named(name string) (Collection, error) {
	for _, c := range a.Source.Collections() {
		if c.Name == name {
			return c, nil
		}
	}
	return Collection{}, geo.Fail(geo.NotFound, "features.Collection", geo.Say("problem.page-not-found"), nil)
}

func (a *API) describe(ctx context.Context, c Collection) (Described, error) {
	items := a.Root + "/collections/" + c.Name + "/items"
	d := Described{ID: c.Name, Title: a.Say(c.Title), Item: "feature", CRS: []string{CRS84}, Links: []Link{
		{items + "?f=json", "items", GeoJSON, a.Say(c.Title)}, {items + "?f=html", "items", HTML, a.Say(c.Title)},
	}}
	box, there, err := a.Source.Extent(ctx, c.Name)
	if there && a.Squares != nil {
		box = around(a.Squares(box.Min)).Union(around(a.Squares(box.Max)))
	}
	if there {
		d.Extent = map[string]any{"spatial": map[string]any{"bbox": [][4]float64{{box.Left(), box.Bottom(), box.Right(), box.Top()}}, "crs": CRS84}}
	}
	return d, err
}

// Page is some features of a collection.
type Page struct {
	Collection Collection
	Title      string
	Features   []Feature
	Matched    int // on all pages
	Links      []Link
	Stamp      time.Time
}

// Items reads a page of a collection.
func (a *API) Items(ctx context.Context, name string, q url.Values, now time.Time) (*Page, error) {
	c, err := a.named(name)
	if err != nil {
		return nil, err
	}
	query, err := Parse(q, c)
	if err != nil {
		return nil, err
	}
	query.Squares = a.Squares
	p := &Page{Collection: c, Title: a.Say(c.Title), Stamp: now}
	if p.Features, p.Matched, err = a.Source.Select(ctx, name, query.Where, query.Offset, query.Limit); err != nil {
		return nil, err
	}
	p.Links = a.links(c, q, query, p.Matched)
	return p, nil
}

// around is a square with as much again on each side: squares of other rows of a grid may
// begin further west.
func around(square orb.Bound) orb.Bound {
	w, h := square.Max[0]-square.Min[0], square.Max[1]-square.Min[1]
	return orb.Bound{
		Min: orb.Point{max(square.Min[0]-w, -180), max(square.Min[1]-h, -90)},
		Max: orb.Point{min(square.Max[0]+w, 180), min(square.Max[1]+h, 90)},
	}
}

// links links a page with itself, its other form, and the pages before and after.
func (a *API) links(c Collection, q url.Values, query Query, matched int) []Link {
	at := a.Root + "/collections/" + c.Name + "/items?"
	with := func(form string, offset int) string {
		next := url.Values{}
		for name, values := range q {
			next[name] = slices.Clone(values)
		}
		next.Set("f", form)
		next.Del("offset")
		if offset > 0 {
			next.Set("offset", strconv.Itoa(offset))
		}
		return at + next.Encode()
	}
	links := []Link{
		{with("json", query.Offset), "self", GeoJSON, ""},
		{with("html", query.Offset), "alternate", HTML, ""},
		{a.Root + "/collections/" + c.Name, "collection", JSON, a.Say(c.Title)},
	}
	if after := query.Offset + query.Limit; after < matched {
		links = append(links, Link{with("json", after), "next", GeoJSON, a.Say("features.next")})
	}
	if query.Offset > 0 {
		links = append(links, Link{with("json", max(query.Offset-query.Limit, 0)), "prev", GeoJSON, a.Say("features.prev")})
	}
	return links
}

// Item reads one feature.
func (a *API) Item(ctx context.Context, name, id string) (*Page, error) {
	c, err := a.named(name)
	if err != nil {
		return nil, err
	}
	f, err := a.Source.Find(ctx, name, id)
	if err != nil {
		return nil, err
	}
	at, w := a.Root+"/collections/"+c.Name, Where{Squares: a.Squares}
	return &Page{Collection: c, Title: a.Say(c.Title), Features: []Feature{w.told(f)}, Matched: 1, Links: append(
		[]Link{{at + "/items/" + url.PathEscape(id) + "?f=json", "self", GeoJSON, ""}, {at + "/items/" + url.PathEscape(id) + "?f=html", "alternate", HTML, ""}},
		Link{at, "collection", JSON, a.Say(c.Title)})}, nil
}

// AppendGeoJSON appends the page as a FeatureCollection (RFC 7946), with the members that
// the standard adds; a page of one item as that feature.
func (p *Page) AppendGeoJSON(out []byte, one bool) ([]byte, error) {
	links, err := json.Marshal(p.Links)
	if err != nil {
		return out, err
	}
	if one {
		out, err = p.appendFeature(out, &p.Features[0])
		out = append(out[:len(out)-1], `,"links":`...)
		return append(append(out, links...), '}', '\n'), err
	}
	out = append(out, `{"type":"FeatureCollection","numberMatched":`...)
	out = append(strconv.AppendInt(out, int64(p.Matched), 10), `,"numberReturned":`...)
	out = append(strconv.AppendInt(out, int64(len(p.Features)), 10), `,"timeStamp":"`...)
	out = append(p.Stamp.UTC().AppendFormat(out, time.RFC3339), `","links":`...)
	out = append(append(out, links...), `,"features":[`...)
	for i := range p.Features {
		if i > 0 {
			out = append(out, ',', '\n')
		}
		if out, err = p.appendFeature(out, &p.Features[i]); err != nil {
			return out, err
		}
	}
	return append(out, "]}\n"...), nil
}

func (p *Page) appendFeature(out []byte, f *Feature) ([]byte, error) {
	id, err := json.Marshal(f.ID)
	if err != nil {
		return out, err
	}
	out = append(append(out, `{"type":"Feature","id":`...), id...)
	out = append(appendPlace(append(out, `,"geometry":`...), f.Place), `,"properties":{`...)
	first := true
	for i, v := range f.Values {
		if v == nil {
			continue
		}
		if !first {
			out = append(out, ',')
		}
		first = false
		out = append(append(append(out, '"'), p.Collection.Properties[i].Name...), `":`...)
		switch x := v.(type) {
		case float64:
			out = strconv.AppendFloat(out, x, 'f', -1, 64)
		default:
			text, err := json.Marshal(x)
			if err != nil {
				return out, err
			}
			out = append(out, text...)
		}
	}
	return append(out, "}}"...), nil
}

// appendPlace appends a point, or a square with its ring against the clock (RFC 7946,
// section 3.1.6).
func appendPlace(out []byte, place orb.Bound) []byte {
	if place.Min == place.Max {
		return append(appendPosition(append(out, `{"type":"Point","coordinates":`...), place.Min), '}')
	}
	out = append(out, `{"type":"Polygon","coordinates":[[`...)
	for i, corner := range place.ToRing() {
		if i > 0 {
			out = append(out, ',')
		}
		out = appendPosition(out, corner)
	}
	return append(out, `]]}`...)
}

func appendPosition(out []byte, at orb.Point) []byte {
	out = append(strconv.AppendFloat(append(out, '['), at[0], 'f', -1, 64), ',')
	return append(strconv.AppendFloat(out, at[1], 'f', -1, 64), ']')
}
