-- What came over a line that may break: its digest and the change that it became, so that
-- the same thing sent again adds nothing, whatever happened to the record since.

-- +goose Up
CREATE TABLE received (
  digest BLOB PRIMARY KEY,
  record TEXT NOT NULL,
  seq INTEGER NOT NULL REFERENCES change (seq)
) STRICT;

INSERT INTO gpkg_extensions (table_name, extension_name, definition, scope) VALUES
  ('received', 'waterstrike_records', 'waterstrike: geo/store/migrations/0012_received.sql', 'write-only');
