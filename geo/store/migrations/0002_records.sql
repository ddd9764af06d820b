-- The records and their parts. Column types are those of GeoPackage (Requirement 5), which
-- STRICT tables refuse, so CHECKs hold the values instead. A part names its record by fid;
-- id is the record's permanent UUID; a trigger draws one when another program adds a row
-- without, for a GIS takes a DEFAULT that is an expression for words.
-- Dates are ISO 8601 of any precision: a year, a month or a day. Dry months are numbers
-- from 1 to 12, or the word never; missing is not known.

-- +goose Up
CREATE TABLE bore (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom POINT CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  code TEXT,
  name TEXT,
  place TEXT,
  village_id TEXT,
  as_read TEXT,
  crs TEXT,
  operation TEXT,
  precision_m DOUBLE CHECK (precision_m BETWEEN 0 AND 1e7),
  ground_m DOUBLE CHECK (ground_m BETWEEN -12000 AND 9000),
  ground_datum TEXT,
  ground_source TEXT,
  started TEXT CHECK (length(started) IN (4, 7, 10) AND started BETWEEN '1800' AND '2200-12-31' AND date(started || substr('-01-01', length(started) - 3)) = started || substr('-01-01', length(started) - 3)),
  completed TEXT CHECK (length(completed) IN (4, 7, 10) AND completed BETWEEN '1800' AND '2200-12-31' AND date(completed || substr('-01-01', length(completed) - 3)) = completed || substr('-01-01', length(completed) - 3)),
  method TEXT NOT NULL DEFAULT 'unknown',
  outcome TEXT NOT NULL DEFAULT 'unknown' CHECK (outcome IN ('producing', 'dry', 'refused', 'collapsed', 'low-yield', 'bad-water', 'unknown')),
  depth_m DOUBLE CHECK (depth_m BETWEEN 0 AND 5000),
  refusal_m DOUBLE CHECK (refusal_m BETWEEN 0 AND 5000),
  yield_lps DOUBLE CHECK (yield_lps BETWEEN 0 AND 1000),
  driller TEXT,
  remarks TEXT,
  cost DOUBLE CHECK (cost BETWEEN -1e15 AND 1e15),
  currency TEXT,
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);

CREATE TABLE layer (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  top_m DOUBLE NOT NULL CHECK (top_m BETWEEN 0 AND 5000),
  base_m DOUBLE NOT NULL CHECK (base_m BETWEEN 0 AND 5000),
  words TEXT,
  class TEXT NOT NULL DEFAULT 'unknown' CHECK (class IN ('unknown', 'topsoil', 'clay', 'silt', 'sand', 'gravel', 'hardpan', 'weathered-rock', 'fractured-rock', 'rock')),
  grade TEXT CHECK (grade IN ('fine', 'medium', 'coarse')),
  clayey BOOLEAN NOT NULL DEFAULT 0 CHECK (clayey IN (0, 1)),
  confidence DOUBLE NOT NULL DEFAULT 1 CHECK (confidence BETWEEN 0 AND 1),
  minutes_per_m DOUBLE CHECK (minutes_per_m BETWEEN 1e-9 AND 1e9),
  CHECK (top_m < base_m)
);
CREATE INDEX layer_of ON layer (bore_fid);

CREATE TABLE strike (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  depth_m DOUBLE NOT NULL CHECK (depth_m BETWEEN 0 AND 5000),
  words TEXT
);
CREATE INDEX strike_of ON strike (bore_fid);

CREATE TABLE level (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  state TEXT NOT NULL DEFAULT 'rest' CHECK (state IN ('rest', 'flowing', 'dry-to')),
  depth_m DOUBLE CHECK (depth_m BETWEEN -100 AND 5000),
  read_on TEXT CHECK (length(read_on) IN (4, 7, 10) AND read_on BETWEEN '1800' AND '2200-12-31' AND date(read_on || substr('-01-01', length(read_on) - 3)) = read_on || substr('-01-01', length(read_on) - 3)),
  reference_m DOUBLE CHECK (reference_m BETWEEN -1000 AND 1000),
  words TEXT,
  CHECK (state = 'flowing' OR depth_m IS NOT NULL),
  CHECK (state <> 'dry-to' OR depth_m >= 0)
);
CREATE INDEX level_of ON level (bore_fid);

CREATE TABLE pipe (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  kind TEXT NOT NULL CHECK (kind IN ('casing', 'screen', 'plug')),
  top_m DOUBLE NOT NULL CHECK (top_m BETWEEN 0 AND 5000),
  base_m DOUBLE NOT NULL CHECK (base_m BETWEEN 0 AND 5000),
  diameter_mm DOUBLE CHECK (diameter_mm BETWEEN 0 AND 1e5),
  slot_mm DOUBLE CHECK (slot_mm BETWEEN 0 AND 1e5),
  material TEXT,
  CHECK (top_m < base_m)
);
CREATE INDEX pipe_of ON pipe (bore_fid);

CREATE TABLE fill (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  kind TEXT NOT NULL CHECK (kind IN ('pack', 'clay', 'grout', 'backfill')),
  top_m DOUBLE NOT NULL CHECK (top_m BETWEEN 0 AND 5000),
  base_m DOUBLE NOT NULL CHECK (base_m BETWEEN 0 AND 5000),
  CHECK (top_m < base_m)
);
CREATE INDEX fill_of ON fill (bore_fid);

CREATE TABLE test (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  kind TEXT NOT NULL CHECK (kind IN ('constant-rate', 'step', 'recovery', 'bailer')),
  tested_on TEXT CHECK (length(tested_on) IN (4, 7, 10) AND tested_on BETWEEN '1800' AND '2200-12-31' AND date(tested_on || substr('-01-01', length(tested_on) - 3)) = tested_on || substr('-01-01', length(tested_on) - 3)),
  rate_lps DOUBLE CHECK (rate_lps BETWEEN 0 AND 1e6),
  hours DOUBLE CHECK (hours BETWEEN 0 AND 1e6),
  rest_m DOUBLE CHECK (rest_m BETWEEN -100 AND 5000),
  pumping_m DOUBLE CHECK (pumping_m BETWEEN -100 AND 5000),
  bail_l DOUBLE CHECK (bail_l BETWEEN 0 AND 1e7),
  half_min DOUBLE CHECK (half_min BETWEEN 0 AND 1e7),
  three_q_min DOUBLE CHECK (three_q_min BETWEEN 0 AND 1e7),
  remarks TEXT
);
CREATE INDEX test_of ON test (bore_fid);

CREATE TABLE test_reading (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  test_fid INTEGER NOT NULL REFERENCES test (fid),
  minutes DOUBLE NOT NULL CHECK (minutes BETWEEN 0 AND 1e7),
  depth_m DOUBLE NOT NULL CHECK (depth_m BETWEEN -100 AND 5000),
  rate_lps DOUBLE CHECK (rate_lps BETWEEN 0 AND 1e6)
);
CREATE INDEX test_reading_of ON test_reading (test_fid);

CREATE TABLE sample (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  bore_fid INTEGER NOT NULL REFERENCES bore (fid),
  analyte TEXT NOT NULL,
  basis TEXT,
  unit TEXT,
  value DOUBLE CHECK (value BETWEEN -1e15 AND 1e15),
  detection_limit DOUBLE CHECK (detection_limit BETWEEN 0 AND 1e15),
  sampled_on TEXT CHECK (length(sampled_on) IN (4, 7, 10) AND sampled_on BETWEEN '1800' AND '2200-12-31' AND date(sampled_on || substr('-01-01', length(sampled_on) - 3)) = sampled_on || substr('-01-01', length(sampled_on) - 3)),
  laboratory TEXT
);
CREATE INDEX sample_of ON sample (bore_fid);

CREATE TABLE village (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom POINT NOT NULL CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  name TEXT NOT NULL,
  as_read TEXT,
  crs TEXT,
  operation TEXT,
  precision_m DOUBLE CHECK (precision_m BETWEEN 0 AND 1e7),
  people INTEGER CHECK (typeof(people) IN ('integer', 'null') AND people >= 0),
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);

CREATE TABLE water_point (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom POINT NOT NULL CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  name TEXT,
  kind TEXT NOT NULL DEFAULT 'unknown' CHECK (kind IN ('unknown', 'tube-well', 'dug-well', 'spring', 'open-water', 'piped')),
  as_read TEXT,
  crs TEXT,
  operation TEXT,
  precision_m DOUBLE CHECK (precision_m BETWEEN 0 AND 1e7),
  depth_m DOUBLE CHECK (depth_m BETWEEN 0 AND 5000),
  works BOOLEAN CHECK (works IN (0, 1)),
  users INTEGER CHECK (typeof(users) IN ('integer', 'null') AND users >= 0),
  dry_months TEXT CHECK (dry_months = 'never' OR (dry_months GLOB '*[1-9]*' AND dry_months NOT GLOB '*[^0-9 ,]*' AND dry_months NOT GLOB '0*' AND dry_months NOT GLOB '*[^1]0*' AND dry_months NOT GLOB '*[2-9][0-9]*' AND dry_months NOT GLOB '*[0-9][3-9]*' AND dry_months NOT GLOB '*[0-9][0-9][0-9]*')),
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);

CREATE TABLE visit (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  water_point_fid INTEGER NOT NULL REFERENCES water_point (fid),
  visited_on TEXT CHECK (length(visited_on) IN (4, 7, 10) AND visited_on BETWEEN '1800' AND '2200-12-31' AND date(visited_on || substr('-01-01', length(visited_on) - 3)) = visited_on || substr('-01-01', length(visited_on) - 3)),
  works BOOLEAN CHECK (works IN (0, 1)),
  level_m DOUBLE CHECK (level_m BETWEEN -100 AND 5000),
  words TEXT
);
CREATE INDEX visit_of ON visit (water_point_fid);

CREATE TABLE boundary (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom MULTIPOLYGON NOT NULL CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  name TEXT,
  kind TEXT,
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);

CREATE TABLE river (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom LINESTRING NOT NULL CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  name TEXT,
  perennial BOOLEAN CHECK (perennial IN (0, 1)),
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);
