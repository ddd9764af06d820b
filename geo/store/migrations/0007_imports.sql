-- What was imported: the batches, the doubts that came with them, and what each record
-- looked like when its file was last read, so that the same file twice adds nothing.

-- +goose Up
CREATE TABLE batch (
  id TEXT PRIMARY KEY,
  act INTEGER REFERENCES act (id),
  files TEXT NOT NULL,
  added INTEGER NOT NULL,
  changed INTEGER NOT NULL,
  same INTEGER NOT NULL,
  taken_back INTEGER REFERENCES act (id)
) STRICT;

CREATE TABLE issue (
  number INTEGER PRIMARY KEY,
  batch TEXT NOT NULL REFERENCES batch (id),
  severity TEXT NOT NULL,
  message TEXT NOT NULL,
  source_file TEXT,
  source_row INTEGER,
  source_column TEXT,
  value_read TEXT,
  record TEXT
) STRICT;
CREATE INDEX issue_of_batch ON issue (batch);
CREATE INDEX issue_of_record ON issue (record);

CREATE TABLE imported (
  number INTEGER PRIMARY KEY,
  record TEXT NOT NULL,
  batch TEXT NOT NULL,
  digest BLOB NOT NULL
) STRICT;
CREATE INDEX imported_record ON imported (record);

INSERT INTO gpkg_extensions (table_name, extension_name, definition, scope) VALUES
  ('batch', 'waterstrike_records', 'waterstrike: geo/store/migrations/0007_imports.sql', 'write-only'),
  ('issue', 'waterstrike_records', 'waterstrike: geo/store/migrations/0007_imports.sql', 'write-only'),
  ('imported', 'waterstrike_records', 'waterstrike: geo/store/migrations/0007_imports.sql', 'write-only'),
  ('migration', 'waterstrike_records', 'waterstrike: geo/store/migrate.go', 'write-only');
