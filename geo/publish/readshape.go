package publish

import (
	"encoding/json"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"

	"github.com/google/uuid"
	"github.com/paulmach/orb"
)

// outline is the kind of an area that does not say what it is.
const outline = "district"

// shaped is a feature whose geometry is an area or a line.
type shaped struct {
	ID       any `json:"id"`
	Geometry struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	} `json:"geometry"`
	Properties map[string]any `json:"properties"`
}

// shapes reads a file of areas, which become boundaries, or of lines, which become rivers:
// ours, or of another program where each has a name. False where the file is no such file.
func (in *reader) shapes(name string) (bool, error) {
	sink, takes := in.sink.(Sink)
	if !takes || !strings.EqualFold(path.Ext(name), ".geojson") {
		return false, nil
	}
	data, err := fs.ReadFile(in.files, name)
	if err != nil {
		return false, foreign(name, err)
	}
	var file struct {
		Features []shaped `json:"features"`
	}
	if json.Unmarshal(data, &file) != nil || len(file.Features) == 0 || !slices.Contains(shapeTypes(), file.Features[0].Geometry.Type) {
		return false, nil
	}
	in.count.Files = append(in.count.Files, intake.FileCount{File: path.Base(name)})
	count := &in.count.Files[len(in.count.Files)-1]
	for i := range file.Features {
		r := &row{file: path.Base(name), number: i + 1}
		count.Rows++
		in.sink.CountRow(r.file)
		take := func(in *reader, _ *row) error { return in.shape(sink, r, &file.Features[i]) }
		if err := in.taken(take, r, count); err != nil {
			return true, err
		}
	}
	in.told(path.Base(name), count.Rows)
	return true, in.ctx.Err()
}

func shapeTypes() []string { return []string{"Polygon", "MultiPolygon", "LineString"} }

// shape takes one area or line.
func (in *reader) shape(sink Sink, r *row, f *shaped) error {
	name, kind, by, licence := f.text("name"), f.text("kind"), f.text("given_by"), f.text("licence")
	from := geo.Provenance{File: f.text("source_file"), By: by, Licence: licence}
	if n, ok := f.Properties["source_row"].(float64); ok {
		from.Row = int(n)
	}
	if from.File == "" && by == "" {
		from.File, from.Row = r.file, r.number
	}
	if f.Geometry.Type == "LineString" {
		var line orb.LineString
		if err := json.Unmarshal(f.Geometry.Coordinates, &line); err != nil || len(line) < 2 || !onGlobe(line) {
			return &fault{intake.InvalidRecord, "geometry", f.Geometry.Type}
		}
		river := geo.River{ID: f.id("river", name), Name: name, Line: line, Source: from}
		if flows, known := f.Properties["perennial"].(bool); known {
			river.Perennial = geo.Some(flows)
		}
		return sink.AddRiver(river)
	}
	area, err := f.area()
	if err != nil {
		return &fault{intake.InvalidRecord, "geometry", f.Geometry.Type}
	}
	if name == "" {
		return &fault{intake.InvalidRecord, "name", ""}
	}
	if kind == "" {
		kind = outline
	}
	return sink.AddBoundary(geo.Boundary{ID: f.id(kind, name), Name: name, Kind: kind, Shape: area, Source: from})
}

// text is a property that is words, whatever the case of its name.
func (f *shaped) text(name string) string {
	if words, ok := f.Properties[name].(string); ok {
		return words
	}
	var names []string
	for n := range f.Properties {
		if strings.EqualFold(n, name) {
			names = append(names, n)
		}
	}
	slices.Sort(names)
	for _, n := range names {
		if words, ok := f.Properties[n].(string); ok {
			return words
		}
	}
	return ""
}

// id is the feature's own where it is one of ours; else it follows from what the shape is
// and where it lies, so that the same file adds nothing the second time.
func (f *shaped) id(kind, name string) geo.PlaceID {
	if id, ok := f.ID.(string); ok && uuid.Validate(id) == nil {
		return geo.PlaceID(id)
	}
	return geo.PlaceID(uuid.NewSHA1(uuid.NameSpaceOID, []byte(kind+"\x00"+name+"\x00"+string(f.Geometry.Coordinates))).String())
}

var errShape = errors.New("publish: not the outline of an area")

// area reads a polygon or several, whose rings are closed.
func (f *shaped) area() (orb.MultiPolygon, error) {
	var out orb.MultiPolygon
	var err error
	switch f.Geometry.Type {
	case "Polygon":
		out = make(orb.MultiPolygon, 1)
		err = json.Unmarshal(f.Geometry.Coordinates, &out[0])
	case "MultiPolygon":
		err = json.Unmarshal(f.Geometry.Coordinates, &out)
	default:
		return nil, errShape
	}
	for _, polygon := range out {
		if len(polygon) == 0 {
			return nil, errShape
		}
		for _, ring := range polygon {
			if len(ring) < 4 || !ring.Closed() || !onGlobe(orb.LineString(ring)) {
				return nil, errShape
			}
		}
	}
	if err == nil && len(out) == 0 {
		err = errShape
	}
	return out, err
}

func onGlobe(line orb.LineString) bool {
	for _, p := range line {
		if !(p[0] >= -180 && p[0] <= 180 && p[1] >= -90 && p[1] <= 90) {
			return false
		}
	}
	return true
}
