package store

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"waterstrike/geo"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/paulmach/orb/geojson"
)

// Traced is what a file of others draws on the map: roads and other ways as lines, places
// as points. It is only shown, and no advice rests on it.
type Traced struct {
	Ways  []Way
	Marks []Mark
}

// Way is a line, in degrees of WGS 84.
type Way struct {
	Name string // may be empty
	Line orb.LineString
}

// Mark is a place, in degrees of WGS 84.
type Mark struct {
	Name string // may be empty
	At   orb.Point
}

// Bounds of what is read of such files: more only slows the map down.
const (
	maxTraced = 64 << 20 // bytes of a GeoJSON file
	maxWays   = 200_000  // lines or places of all layers of a file
)

// OpenTraced reads a file of lines and points, GeoJSON (RFC 7946) or a GeoPackage in WGS 84;
// outlines of areas become lines.
//
//   - Errors: [geo.Invalid] for a file that is neither, lies off the globe or is too large;
//     [geo.NotFound] where there is no file.
func OpenTraced(path string) (Traced, error) {
	var out Traced
	info, err := os.Stat(path)
	if err != nil {
		return out, geo.Fail(geo.NotFound, "store.OpenTraced", geo.Message{}, err)
	}
	switch {
	case strings.EqualFold(filepath.Ext(path), ".gpkg"):
		err = out.ofPackage(path)
	case info.Size() > maxTraced:
		err = fmt.Errorf("it has %d bytes; %d are read at most", info.Size(), maxTraced)
	default:
		err = out.collection(path)
	}
	if err != nil {
		return Traced{}, geo.Fail(geo.Invalid, "store.OpenTraced", geo.Say("check.traced-refused", geo.With("value", geo.Text(filepath.Base(path)))), err)
	}
	return out, nil
}

// collection reads a GeoJSON FeatureCollection.
func (t *Traced) collection(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	all, err := geojson.UnmarshalFeatureCollection(data)
	if err != nil {
		return err
	}
	for _, f := range all.Features {
		name := ""
		for _, key := range nameColumns() {
			for property, value := range f.Properties {
				if text, ok := value.(string); ok && name == "" && strings.EqualFold(property, key) {
					name = text
				}
			}
		}
		if err := t.add(name, f.Geometry); err != nil {
			return err
		}
	}
	return nil
}

// nameColumns are what names go by, the surest first.
func nameColumns() []string { return []string{"name", "nom", "nome", "label", "ref"} }

// add takes a geometry apart into lines and points.
func (t *Traced) add(name string, g orb.Geometry) error {
	if g == nil {
		return nil
	}
	if b := g.Bound(); !b.IsEmpty() && !(b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90) {
		return errors.New("its positions are no degrees of longitude and latitude: save it in WGS 84")
	}
	if len(t.Ways)+len(t.Marks) > maxWays {
		return fmt.Errorf("it holds more than %d lines and places", maxWays)
	}
	switch g := g.(type) {
	case orb.Point:
		t.Marks = append(t.Marks, Mark{name, g})
	case orb.MultiPoint:
		for _, p := range g {
			t.Marks = append(t.Marks, Mark{name, p})
		}
	case orb.LineString:
		if len(g) > 1 {
			t.Ways = append(t.Ways, Way{name, g})
		}
	case orb.Ring:
		return t.add(name, orb.LineString(g))
	case orb.MultiLineString:
		return addAll(t, name, g)
	case orb.Polygon:
		return addAll(t, name, g)
	case orb.MultiPolygon:
		return addAll(t, name, g)
	case orb.Collection:
		return addAll(t, name, g)
	}
	return nil
}

func addAll[G orb.Geometry](t *Traced, name string, parts []G) error {
	for _, p := range parts {
		if err := t.add(name, p); err != nil {
			return err
		}
	}
	return nil
}

// ofPackage reads the layers of a GeoPackage that are in WGS 84.
func (t *Traced) ofPackage(path string) error {
	file, err := sql.Open("sqlite", dsn(path, lookPragmas+"&_pragma=query_only(1)"))
	if err != nil {
		return err
	}
	defer file.Close()
	layers, err := geometryColumns(file)
	if err != nil {
		return err
	}
	if len(layers) == 0 {
		return errors.New("it holds no layer in WGS 84 (EPSG 4326)")
	}
	for _, l := range layers {
		if err := t.layer(file, l[0], l[1]); err != nil {
			return err
		}
	}
	return nil
}

// geometryColumns lists table and column of each layer in WGS 84.
func geometryColumns(file *sql.DB) (out [][2]string, err error) {
	rows, err := file.Query(`SELECT table_name, column_name FROM gpkg_geometry_columns WHERE srs_id = 4326 ORDER BY 1 LIMIT 100`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var l [2]string
		if err := rows.Scan(&l[0], &l[1]); err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, rows.Err()
}

// layer reads one layer.
func (t *Traced) layer(file *sql.DB, table, column string) error {
	quoted := func(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }
	naming := "''"
	for _, key := range nameColumns() {
		var known string
		if file.QueryRow(`SELECT name FROM pragma_table_info(?) WHERE lower(name) = ?`, table, key).Scan(&known) == nil {
			naming = quoted(known)
			break
		}
	}
	rows, err := file.Query(fmt.Sprintf(`SELECT %s, %s FROM %s`, quoted(column), naming, quoted(table)))
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var blob []byte
		var name sql.NullString
		if err := rows.Scan(&blob, &name); err != nil {
			return err
		}
		g, err := geometryOf(blob)
		if err != nil {
			return err
		}
		if err := t.add(name.String, g); err != nil {
			return err
		}
	}
	return rows.Err()
}

// geometryOf reads a geometry as a GeoPackage stores it (OGC 12-128, clause 2.1.3): a head
// with an envelope of a size that its flags tell, then well-known binary. Empty ones are nil.
func geometryOf(blob []byte) (orb.Geometry, error) {
	if len(blob) == 0 {
		return nil, nil
	}
	if len(blob) < 8 || string(blob[:2]) != "GP" {
		return nil, errors.New("a geometry is none of a GeoPackage")
	}
	flags := blob[3]
	envelopes := [...]int{0, 32, 48, 48, 64}
	kind := int(flags >> 1 & 7)
	if flags>>4&1 == 1 {
		return nil, nil
	}
	if kind >= len(envelopes) || len(blob) < 8+envelopes[kind] {
		return nil, errors.New("a geometry is cut short")
	}
	return wkb.Unmarshal(blob[8+envelopes[kind]:])
}
