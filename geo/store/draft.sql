-- What a draft holds beside the record tables of the knowledge base.

-- The file's own names for its bores. A row is made when a key is first met, by the bore
-- or by a part of it; fid is the bore's.
CREATE TABLE parent (
  fid INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE
) STRICT;

-- Parts that came before their bore.
CREATE TABLE waiting (
  parent INTEGER NOT NULL REFERENCES parent (fid),
  layer TEXT NOT NULL,
  fid INTEGER NOT NULL,
  source_file TEXT NOT NULL,
  source_row INTEGER NOT NULL
) STRICT;

CREATE TABLE file (
  name TEXT PRIMARY KEY,
  rows INTEGER NOT NULL
) STRICT;

CREATE TABLE issue (
  number INTEGER PRIMARY KEY,
  severity TEXT NOT NULL,
  message TEXT NOT NULL,
  source_file TEXT,
  source_row INTEGER,
  source_column TEXT,
  value_read TEXT,
  record TEXT
) STRICT;
