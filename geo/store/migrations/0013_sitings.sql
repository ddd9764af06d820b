-- Visits to spots where somebody thinks of drilling, and what stands around them.

-- +goose Up
CREATE TABLE siting (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  geom POINT NOT NULL CHECK (typeof(geom) <> 'text' AND substr(geom, 1, 2) = x'4750'),
  id TEXT UNIQUE CHECK (length(id) = 36),
  place TEXT,
  as_read TEXT,
  crs TEXT,
  operation TEXT,
  precision_m DOUBLE CHECK (precision_m BETWEEN 0 AND 1e7),
  visited_on TEXT CHECK (length(visited_on) IN (4, 7, 10) AND visited_on BETWEEN '1800' AND '2200-12-31' AND date(visited_on || substr('-01-01', length(visited_on) - 3)) = visited_on || substr('-01-01', length(visited_on) - 3)),
  access TEXT,
  consent TEXT CHECK (consent IN ('yes', 'no')),
  consent_by TEXT,
  flood_m DOUBLE CHECK (flood_m BETWEEN 0 AND 50),
  services TEXT CHECK (services IN ('yes', 'no')),
  services_by TEXT,
  ordnance TEXT CHECK (ordnance IN ('never-suspected', 'cleared', 'not-cleared')),
  ordnance_by TEXT,
  remarks TEXT,
  batch TEXT,
  source_file TEXT,
  source_row INTEGER CHECK (source_row > 0),
  given_by TEXT,
  licence TEXT,
  field_sources TEXT CHECK (field_sources IS NULL OR json_valid(field_sources))
);

CREATE TABLE nearby (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  siting_fid INTEGER NOT NULL REFERENCES siting (fid),
  kind TEXT NOT NULL CHECK (kind IN ('dug-well', 'latrine', 'graves', 'kraal', 'refuse', 'fuel', 'soakaway', 'river', 'building', 'tree')),
  distance_m DOUBLE CHECK (distance_m BETWEEN 0 AND 5000),
  bearing_deg DOUBLE CHECK (bearing_deg BETWEEN 0 AND 360),
  depth_m DOUBLE CHECK (depth_m BETWEEN 0 AND 5000),
  dry_months TEXT CHECK (dry_months = 'never' OR (dry_months GLOB '*[1-9]*' AND dry_months NOT GLOB '*[^0-9 ,]*' AND dry_months NOT GLOB '0*' AND dry_months NOT GLOB '*[^1]0*' AND dry_months NOT GLOB '*[2-9][0-9]*' AND dry_months NOT GLOB '*[0-9][3-9]*' AND dry_months NOT GLOB '*[0-9][0-9][0-9]*')),
  said_by TEXT,
  words TEXT,
  point_id TEXT
);
CREATE INDEX nearby_of ON nearby (siting_fid);
