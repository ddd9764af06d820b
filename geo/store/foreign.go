package store

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Foreign is a layer of a GeoPackage that any program may have written, as rows of text:
// its columns by name, and the position of a point as geometry.lon and geometry.lat where
// the layer is in WGS 84, or else as geometry.east and geometry.north of whatever grid it
// is in.
type Foreign struct {
	file   *sql.DB
	rows   *sql.Rows
	header []string
	shape  int // of the geometry column among those read; -1 where there is none
}

// maxLayerColumns bounds a layer.
const maxLayerColumns = 2000

// OpenForeign opens a layer for reading, or the only one when it is not named. An error
// is [geo.Invalid] and says what there is.
func OpenForeign(path, layer string) (*Foreign, error) {
	file, err := openForeign(path)
	if err != nil {
		return nil, err
	}
	f := &Foreign{file: file, shape: -1}
	if err := f.begin(layer); err != nil {
		return nil, errors.Join(foreign(err), file.Close())
	}
	return f, nil
}

// ForeignLayers lists the layers of a GeoPackage that any program may have written.
func ForeignLayers(path string) ([]string, error) {
	file, err := openForeign(path)
	if err != nil {
		return nil, err
	}
	names, err := layerNames(file)
	if err = errors.Join(err, file.Close()); err != nil {
		return nil, foreign(err)
	}
	return names, nil
}

func openForeign(path string) (*sql.DB, error) {
	mark, _, err := header(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if err != nil || mark != application && mark != application10 {
		return nil, foreign(fmt.Errorf("it is no GeoPackage: %w", cmp.Or(err, errGeoPackage)))
	}
	file, err := sql.Open("sqlite", dsn(path, lookPragmas+"&_pragma=query_only(1)"))
	if err != nil {
		return nil, foreign(err)
	}
	file.SetMaxOpenConns(1)
	return file, nil
}

var errGeoPackage = errors.New("its header has not the mark of one")

// application10 marks GeoPackages of version 1.0 (OGC 12-128r12, Requirement 2).
const application10 = 0x47503130

func foreign(err error) error { return geo.Fail(geo.Invalid, "store.OpenForeign", geo.Message{}, err) }

func (f *Foreign) begin(layer string) error {
	layer, err := f.pick(layer)
	if err != nil {
		return err
	}
	var shape sql.NullString
	var system sql.NullInt64
	err = f.file.QueryRow(`SELECT column_name, srs_id FROM gpkg_geometry_columns WHERE table_name = ?`, layer).Scan(&shape, &system)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if f.rows, err = f.file.Query(`SELECT * FROM "` + strings.ReplaceAll(layer, `"`, `""`) + `"`); err != nil {
		return err
	}
	names, err := f.rows.Columns()
	if err == nil && len(names) > maxLayerColumns {
		err = fmt.Errorf("layer %s has %d columns; no table has more than %d", layer, len(names), maxLayerColumns)
	}
	if err != nil {
		return errors.Join(err, f.rows.Close())
	}
	first, second := "geometry.east", "geometry.north"
	if system.Int64 == srsWGS84 {
		first, second = "geometry.lon", "geometry.lat"
	}
	for i, name := range names {
		if shape.Valid && strings.EqualFold(name, shape.String) {
			f.shape = i
			f.header = append(f.header, first, second)
			continue
		}
		f.header = append(f.header, name)
	}
	return nil
}

// pick returns the layer's own name among those that the file registers.
func (f *Foreign) pick(layer string) (string, error) {
	names, err := layerNames(f.file)
	if err != nil {
		return "", err
	}
	for _, name := range names {
		if strings.EqualFold(name, layer) {
			return name, nil
		}
	}
	if layer == "" && len(names) == 1 {
		return names[0], nil
	}
	return "", fmt.Errorf("it has no layer %q; it has %s", layer, strings.Join(names, ", "))
}

func layerNames(file *sql.DB) ([]string, error) {
	rows, err := file.Query(`SELECT table_name FROM gpkg_contents WHERE data_type IN ('features', 'attributes') ORDER BY table_name`)
	if err != nil {
		return nil, fmt.Errorf("it is no GeoPackage: %w", err)
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return nil, err
		}
		names = append(names, name)
	}
	return names, rows.Err()
}

// Header returns the column names.
func (f *Foreign) Header() []string { return f.header }

// Next returns the next row; io.EOF at the end.
func (f *Foreign) Next() ([]string, error) {
	if !f.rows.Next() {
		if err := f.rows.Err(); err != nil {
			return nil, err
		}
		return nil, io.EOF
	}
	names, err := f.rows.Columns()
	if err != nil {
		return nil, err
	}
	values, at := make([]any, len(names)), make([]any, len(names))
	for i := range values {
		at[i] = &values[i]
	}
	if err := f.rows.Scan(at...); err != nil {
		return nil, err
	}
	row := make([]string, 0, len(f.header))
	for i, value := range values {
		if i == f.shape {
			x, y := pointText(value)
			row = append(row, x, y)
			continue
		}
		row = append(row, cellText(value))
	}
	return row, nil
}

// Close releases the file.
func (f *Foreign) Close() error { return errors.Join(f.rows.Close(), f.file.Close()) }

// pointText writes the position of a point; anything else has none.
func pointText(cell any) (x, y string) {
	g, _, err := decodeShape(cell)
	p, ok := g.(orb.Point)
	if err != nil || !ok || p[0] != p[0] || p[1] != p[1] {
		return "", ""
	}
	return strconv.FormatFloat(p[0], 'f', -1, 64), strconv.FormatFloat(p[1], 'f', -1, 64)
}

func cellText(value any) string {
	switch v := value.(type) {
	case nil:
		return ""
	case []byte:
		return string(v)
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case time.Time:
		if v.Equal(v.Truncate(24 * time.Hour)) {
			return v.Format(time.DateOnly)
		}
		return v.Format(time.RFC3339)
	}
	return fmt.Sprint(value)
}
