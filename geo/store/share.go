package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// About describes a copy for others, as GeoPackage keeps it: text in the form of some
// standard of metadata.
type About struct {
	Standard string // its URI
	MIME     string // of Text
	Text     string
	Styles   []Style
}

// Style is how a GIS may show a layer: text of OGC Styled Layer Descriptor.
type Style struct {
	Table string
	Name  string
	Text  string
}

// styleTable is where programs by custom look for the styles of a GeoPackage. No standard
// says so; who does not know it passes over a table that is not among the contents.
const styleTable = `
DROP TABLE IF EXISTS layer_styles;
CREATE TABLE layer_styles (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  f_table_catalog TEXT NOT NULL DEFAULT '',
  f_table_schema TEXT NOT NULL DEFAULT '',
  f_table_name TEXT NOT NULL,
  f_geometry_column TEXT NOT NULL,
  styleName TEXT NOT NULL,
  styleQML TEXT,
  styleSLD TEXT NOT NULL,
  useAsDefault BOOLEAN NOT NULL DEFAULT 1,
  description TEXT NOT NULL DEFAULT '',
  owner TEXT NOT NULL DEFAULT '',
  ui TEXT,
  update_time DATETIME NOT NULL
)`

// what a copy for others leaves behind: who changed what when, what was hidden, what
// imports doubted. The records themselves keep where they came from.
var leftBehind = []string{"hidden", "change", "act", "issue", "imported", "batch"}

// metadataTables are those of the metadata extension (OGC 12-128r17, annex F.8).
const metadataTables = `
CREATE TABLE IF NOT EXISTS gpkg_metadata (
  id INTEGER CONSTRAINT m_pk PRIMARY KEY ASC NOT NULL,
  md_scope TEXT NOT NULL DEFAULT 'dataset',
  md_standard_uri TEXT NOT NULL,
  mime_type TEXT NOT NULL DEFAULT 'text/xml',
  metadata TEXT NOT NULL DEFAULT ''
);
CREATE TABLE IF NOT EXISTS gpkg_metadata_reference (
  reference_scope TEXT NOT NULL,
  table_name TEXT,
  column_name TEXT,
  row_id_value INTEGER,
  timestamp DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  md_file_id INTEGER NOT NULL,
  md_parent_id INTEGER,
  CONSTRAINT crmr_mfi_fk FOREIGN KEY (md_file_id) REFERENCES gpkg_metadata(id),
  CONSTRAINT crmr_mpi_fk FOREIGN KEY (md_parent_id) REFERENCES gpkg_metadata(id)
);
DELETE FROM gpkg_metadata_reference;
DELETE FROM gpkg_metadata;
DELETE FROM gpkg_extensions WHERE extension_name = 'gpkg_metadata';
INSERT INTO gpkg_extensions VALUES
  ('gpkg_metadata', NULL, 'gpkg_metadata', 'OGC 12-128r17, annex F.8', 'read-write'),
  ('gpkg_metadata_reference', NULL, 'gpkg_metadata', 'OGC 12-128r17, annex F.8', 'read-write');`

// Share writes the records of one moment to a new GeoPackage for others, with its
// metadata and the extent of each layer. It holds no history, nothing hidden and no
// import's doubts, and is a knowledge base of its own. [geo.Conflict] when the file
// exists.
func (b *Base) Share(ctx context.Context, path string, about About) error {
	const op = "store.Share"
	if _, err := os.Stat(path); err == nil {
		return geo.Fail(geo.Conflict, op, geo.Say("store.exists", geo.With("path", geo.Text(path))), fs.ErrExist)
	}
	// Made ready beside its place: nobody ever meets a copy that still holds the history.
	draft, err := os.MkdirTemp(filepath.Dir(path), ".share-*")
	if err != nil {
		return geo.Fail(geo.Invalid, op, geo.Say("store.no-folder", geo.With("path", geo.Text(filepath.Dir(path)))), err)
	}
	defer os.RemoveAll(draft) //nolint:errcheck // an empty folder at worst
	part := filepath.Join(draft, filepath.Base(path))
	if err := b.Backup(ctx, part); err != nil {
		return err
	}
	return fail(op, errors.Join(b.strip(ctx, part, about), place(part, path)))
}

// strip takes out of a copy what is not for others and puts in what it is about.
func (b *Base) strip(ctx context.Context, path string, about About) (err error) {
	db, err := sql.Open("sqlite", dsn(path, "_pragma=foreign_keys(0)&_pragma=secure_delete(1)"))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	defer func() { err = errors.Join(err, db.Close()) }()
	for _, table := range leftBehind {
		if _, err := db.ExecContext(ctx, "DELETE FROM "+table); err != nil {
			return err
		}
	}
	if err := describe(ctx, db, about, b.options.Now().UTC().Format(timeForm)); err != nil {
		return err
	}
	if err := style(ctx, db, about.Styles, b.options.Now().UTC().Format(timeForm)); err != nil {
		return err
	}
	if err := extents(ctx, db); err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "VACUUM")
	return err
}

// timeForm is how GeoPackage writes a moment (Requirement 15).
const timeForm = "2006-01-02T15:04:05.000Z"

func describe(ctx context.Context, db *sql.DB, about About, now string) error {
	if _, err := db.ExecContext(ctx, metadataTables); err != nil {
		return err
	}
	_, err := db.ExecContext(ctx, "INSERT INTO gpkg_metadata VALUES (1, 'dataset', ?, ?, ?)", about.Standard, about.MIME, about.Text)
	if err == nil {
		_, err = db.ExecContext(ctx, "INSERT INTO gpkg_metadata_reference (reference_scope, timestamp, md_file_id) VALUES ('geopackage', ?, 1)", now)
	}
	if err == nil {
		_, err = db.ExecContext(ctx, "UPDATE gpkg_contents SET last_change = ?", now)
	}
	return err
}

func style(ctx context.Context, db *sql.DB, styles []Style, now string) error {
	if len(styles) == 0 {
		return nil
	}
	if _, err := db.ExecContext(ctx, styleTable); err != nil {
		return err
	}
	for _, s := range styles {
		_, err := db.ExecContext(ctx, "INSERT INTO layer_styles (f_table_name, f_geometry_column, styleName, styleSLD, update_time) VALUES (?, 'geom', ?, ?, ?)", s.Table, s.Name, s.Text, now)
		if err != nil {
			return err
		}
	}
	return nil
}

// extents writes the box of each layer that has shapes; one without has none.
func extents(ctx context.Context, db *sql.DB) error {
	rows, err := db.QueryContext(ctx, "SELECT table_name, column_name FROM gpkg_geometry_columns")
	if err != nil {
		return err
	}
	shapes := map[string]string{}
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			return errors.Join(err, rows.Close())
		}
		shapes[table] = column
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	for table, column := range shapes {
		box, found, err := extent(ctx, db, table, column)
		if err != nil {
			return err
		}
		values := []any{nil, nil, nil, nil}
		if found {
			values = []any{box.Min[0], box.Min[1], box.Max[0], box.Max[1]}
		}
		if _, err := db.ExecContext(ctx, "UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?", append(values, table)...); err != nil {
			return err
		}
	}
	return nil
}

func extent(ctx context.Context, db *sql.DB, table, column string) (box orb.Bound, found bool, err error) {
	rows, err := db.QueryContext(ctx, `SELECT "`+column+`" FROM "`+table+`" WHERE "`+column+`" IS NOT NULL`)
	if err != nil {
		return box, false, err
	}
	defer rows.Close()
	for rows.Next() {
		var cell []byte
		if err := rows.Scan(&cell); err != nil {
			return box, false, err
		}
		shape, err := decodeGeometry(cell)
		if err != nil {
			return box, false, err
		}
		if shape == nil || shape.Bound().IsEmpty() {
			continue
		}
		next := shape.Bound()
		if found {
			next = next.Union(box)
		}
		box, found = next, true
	}
	return box, found, rows.Err()
}
