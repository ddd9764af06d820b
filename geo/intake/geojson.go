package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"
)

// The columns of a geometry that is a point.
const (
	lonColumn = "geometry.lon"
	latColumn = "geometry.lat"
)

type geojsonRows struct {
	file    fs.File
	limit   *rowLimit
	decoder *json.Decoder
	header  []string
}

// feature is one member of a FeatureCollection (RFC 7946).
type feature struct {
	ID       any `json:"id"`
	Geometry *struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	} `json:"geometry"`
	Properties map[string]any `json:"properties"`
}

// openGeoJSON opens a FeatureCollection: each property is a column, and so are "id" and
// the position of a point. The file is gone through twice: features may have different
// properties.
func openGeoJSON(files fs.FS, t Table) (Rows, error) {
	rows, err := beginGeoJSON(files, t)
	if err != nil {
		return nil, err
	}
	names := map[string]bool{}
	for {
		f, err := rows.feature()
		if errors.Is(err, io.EOF) {
			break
		}
		if bad := (*RowError)(nil); err != nil && !errors.As(err, &bad) {
			return nil, errors.Join(err, rows.Close())
		}
		for name := range f.Properties {
			names[name] = true
		}
		if len(names) > maxColumns {
			return nil, errors.Join(tooWide(len(names)), rows.Close())
		}
	}
	if err := rows.Close(); err != nil {
		return nil, err
	}
	if rows, err = beginGeoJSON(files, t); err != nil {
		return nil, err
	}
	rows.header = headerOf(names)
	return rows, nil
}

func headerOf(properties map[string]bool) []string {
	header := []string{lonColumn, latColumn}
	if !properties["id"] {
		header = append(header, "id")
	}
	var names []string
	for name := range properties {
		names = append(names, name)
	}
	slices.Sort(names)
	return append(header, names...)
}

func beginGeoJSON(files fs.FS, t Table) (*geojsonRows, error) {
	file, err := files.Open(t.File)
	if err != nil {
		return nil, err
	}
	rows := &geojsonRows{file: file, limit: &rowLimit{from: decoded(file, "utf-8")}}
	rows.decoder = json.NewDecoder(rows.limit)
	rows.decoder.UseNumber()
	if err := rows.findFeatures(); err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return rows, nil
}

// findFeatures reads up to the first feature.
func (g *geojsonRows) findFeatures() error {
	if token, err := g.decoder.Token(); err != nil || token != json.Delim('{') {
		return notGeoJSON(err)
	}
	for g.decoder.More() {
		name, err := g.decoder.Token()
		if err != nil {
			return notGeoJSON(err)
		}
		if name == "features" {
			token, err := g.decoder.Token()
			if err != nil || token != json.Delim('[') {
				return notGeoJSON(err)
			}
			return nil
		}
		var skipped json.RawMessage
		if err := g.decoder.Decode(&skipped); err != nil {
			return notGeoJSON(err)
		}
	}
	return notGeoJSON(nil)
}

func notGeoJSON(err error) error {
	if errors.Is(err, errLongRow) {
		return err
	}
	if err == nil || errors.Is(err, io.EOF) {
		return errors.New("it is no GeoJSON: it has no list of features")
	}
	return fmt.Errorf("it is no GeoJSON: %w", err)
}

func (g *geojsonRows) feature() (feature, error) {
	g.limit.n = 0
	var f feature
	if !g.decoder.More() {
		if _, err := g.decoder.Token(); err != nil {
			return f, notGeoJSON(err)
		}
		return f, io.EOF
	}
	var wrong *json.UnmarshalTypeError
	err := g.decoder.Decode(&f)
	switch {
	case errors.As(err, &wrong): // the feature is read past
		return f, &RowError{err}
	case err != nil:
		return f, notGeoJSON(err)
	}
	return f, nil
}

func (g *geojsonRows) Header() []string { return g.header }

func (g *geojsonRows) Next() ([]string, error) {
	f, err := g.feature()
	if err != nil {
		return nil, err
	}
	row := make([]string, len(g.header))
	row[0], row[1] = f.point()
	for i, name := range g.header[2:] {
		value, known := f.Properties[name]
		if !known && name == "id" {
			value = f.ID
		}
		row[i+2] = textOf(value)
	}
	return row, nil
}

// point returns the position of a point; a line or an area has none.
func (f feature) point() (lon, lat string) {
	if f.Geometry == nil || f.Geometry.Type != "Point" {
		return "", ""
	}
	var at []json.Number
	if err := json.Unmarshal(f.Geometry.Coordinates, &at); err != nil || len(at) < 2 {
		return "", ""
	}
	return at[0].String(), at[1].String()
}

// textOf writes a JSON value as a cell; a list or an object as its own JSON.
func textOf(value any) string {
	switch v := value.(type) {
	case nil:
		return ""
	case string:
		return v
	case json.Number:
		return v.String()
	case bool:
		return strconv.FormatBool(v)
	}
	data, err := json.Marshal(value)
	if err != nil {
		return ""
	}
	return string(data)
}

func (g *geojsonRows) Close() error { return g.file.Close() }
