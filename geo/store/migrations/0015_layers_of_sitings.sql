-- What a GIS sees of siting visits.

-- +goose Up
INSERT INTO gpkg_contents (table_name, data_type, identifier, description, srs_id) VALUES
  ('siting', 'features', 'siting', 'visits to spots where somebody thinks of drilling', 4326),
  ('nearby', 'attributes', 'nearby', 'what stands near a spot that was visited; siting_fid is its fid', NULL);

INSERT INTO gpkg_geometry_columns VALUES ('siting', 'geom', 'POINT', 4326, 0, 0);
