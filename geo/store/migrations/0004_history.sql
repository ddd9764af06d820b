-- The history of every record, kept by triggers so that edits made in a GIS have one too.
-- They use only functions that every SQLite has. Numbers are kept by quote(), which is
-- exact where json_object rounds to 15 digits. The triggers
-- themselves are in the next two files.

-- +goose Up
CREATE TABLE act (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  who TEXT,
  why TEXT,
  batch TEXT
) STRICT;
CREATE INDEX act_batch ON act (batch) WHERE batch IS NOT NULL;

-- Who acts in the present transaction; nobody outside of one of ours. While whole is 1 a
-- record is being added with its parts, and one change stands for all of them.
CREATE TABLE context (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  act INTEGER REFERENCES act (id),
  whole INTEGER NOT NULL DEFAULT 0
) STRICT;
INSERT INTO context (one) VALUES (1);

-- A change without an act came from outside and has a time of its own. undone is the act
-- that undid it; the changes of that act itself carry it too: together they cancel out.
CREATE TABLE change (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  act INTEGER REFERENCES act (id),
  at TEXT,
  layer TEXT NOT NULL,
  fid INTEGER NOT NULL,
  record TEXT,
  action TEXT NOT NULL,
  former TEXT,
  undone INTEGER REFERENCES act (id)
) STRICT;
CREATE INDEX change_record ON change (record);
CREATE INDEX change_act ON change (act);

CREATE TABLE hidden (
  id TEXT PRIMARY KEY,
  layer TEXT NOT NULL,
  seq INTEGER NOT NULL REFERENCES change (seq)
) STRICT;

INSERT INTO gpkg_extensions (table_name, extension_name, definition, scope) VALUES
  ('act', 'waterstrike_records', 'waterstrike: geo/store/migrations/0004_history.sql', 'write-only'),
  ('context', 'waterstrike_records', 'waterstrike: geo/store/migrations/0004_history.sql', 'write-only'),
  ('change', 'waterstrike_records', 'waterstrike: geo/store/migrations/0004_history.sql', 'write-only'),
  ('hidden', 'waterstrike_records', 'waterstrike: geo/store/migrations/0004_history.sql', 'write-only');
