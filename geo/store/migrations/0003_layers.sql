-- What a GIS sees: five feature layers, and the parts of their records as attributes.
-- Once one table is registered as attributes, readers no longer list the private ones.

-- +goose Up
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('bore', 'features', 'bore', 'holes in the ground, finished or given up', 4326),
  ('village', 'features', 'village', 'places where people need water', 4326),
  ('water_point', 'features', 'water_point', 'places where people take water today', 4326),
  ('boundary', 'features', 'boundary', 'outlines of regions and districts', 4326),
  ('river', 'features', 'river', 'lines of surface water', 4326),
  ('layer', 'attributes', 'layer', 'layers of a bore, metres below ground; bore_fid is the fid of the bore', NULL),
  ('strike', 'attributes', 'strike', 'depths where water first entered a bore', NULL),
  ('level', 'attributes', 'level', 'readings of the water at rest, metres below ground', NULL),
  ('pipe', 'attributes', 'pipe', 'casing, screen and plug of a bore', NULL),
  ('fill', 'attributes', 'fill', 'pack, seal and backfill of a bore', NULL),
  ('test', 'attributes', 'test', 'pumping and bailing tests', NULL),
  ('test_reading', 'attributes', 'test_reading', 'levels during a test; test_fid is the fid of the test', NULL),
  ('sample', 'attributes', 'sample', 'water quality results', NULL),
  ('visit', 'attributes', 'visit', 'visits to a water point; water_point_fid is its fid', NULL);

INSERT INTO gpkg_geometry_columns VALUES
  ('bore', 'geom', 'POINT', 4326, 0, 0),
  ('village', 'geom', 'POINT', 4326, 0, 0),
  ('water_point', 'geom', 'POINT', 4326, 0, 0),
  ('boundary', 'geom', 'MULTIPOLYGON', 4326, 0, 0),
  ('river', 'geom', 'LINESTRING', 4326, 0, 0);
