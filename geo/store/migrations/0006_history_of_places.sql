-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.

-- +goose Up

-- +goose StatementBegin
CREATE TRIGGER village_again BEFORE INSERT ON village WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM village WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER village_added AFTER INSERT ON village WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'village', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER village_named AFTER INSERT ON village WHEN NEW.id IS NULL
BEGIN
  UPDATE village SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'village', NEW.fid, (SELECT id FROM village WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER village_kept BEFORE UPDATE OF fid, id ON village WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER village_changed AFTER UPDATE ON village WHEN OLD.geom IS NOT NEW.geom OR OLD.name IS NOT NEW.name OR OLD.as_read IS NOT NEW.as_read OR OLD.crs IS NOT NEW.crs OR OLD.operation IS NOT NEW.operation OR OLD.precision_m IS NOT NEW.precision_m OR OLD.people IS NOT NEW.people OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'village', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'people', OLD.people, 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- A point moved in a GIS is no longer where its text says.
-- +goose StatementBegin
CREATE TRIGGER village_moved AFTER UPDATE OF geom ON village WHEN (SELECT act FROM context) IS NULL AND NEW.geom IS NOT OLD.geom AND NEW.as_read IS OLD.as_read
BEGIN
  UPDATE village SET as_read = NULL, crs = 'WGS 84', operation = NULL, precision_m = NULL WHERE fid = NEW.fid;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER village_deleted BEFORE DELETE ON village
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'village', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'people', OLD.people, 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'village', max(seq) FROM change;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_again BEFORE INSERT ON water_point WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM water_point WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_added AFTER INSERT ON water_point WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'water_point', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_named AFTER INSERT ON water_point WHEN NEW.id IS NULL
BEGIN
  UPDATE water_point SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'water_point', NEW.fid, (SELECT id FROM water_point WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_kept BEFORE UPDATE OF fid, id ON water_point WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_changed AFTER UPDATE ON water_point WHEN OLD.geom IS NOT NEW.geom OR OLD.name IS NOT NEW.name OR OLD.kind IS NOT NEW.kind OR OLD.as_read IS NOT NEW.as_read OR OLD.crs IS NOT NEW.crs OR OLD.operation IS NOT NEW.operation OR OLD.precision_m IS NOT NEW.precision_m OR OLD.depth_m IS NOT NEW.depth_m OR OLD.works IS NOT NEW.works OR OLD.users IS NOT NEW.users OR OLD.dry_months IS NOT NEW.dry_months OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'water_point', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'kind', CAST(OLD.kind AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'depth_m', json(lower(quote(OLD.depth_m))), 'works', OLD.works, 'users', OLD.users, 'dry_months', CAST(OLD.dry_months AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- A point moved in a GIS is no longer where its text says.
-- +goose StatementBegin
CREATE TRIGGER water_point_moved AFTER UPDATE OF geom ON water_point WHEN (SELECT act FROM context) IS NULL AND NEW.geom IS NOT OLD.geom AND NEW.as_read IS OLD.as_read
BEGIN
  UPDATE water_point SET as_read = NULL, crs = 'WGS 84', operation = NULL, precision_m = NULL WHERE fid = NEW.fid;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER water_point_deleted BEFORE DELETE ON water_point
BEGIN
  DELETE FROM visit WHERE water_point_fid = OLD.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'water_point', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'kind', CAST(OLD.kind AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'depth_m', json(lower(quote(OLD.depth_m))), 'works', OLD.works, 'users', OLD.users, 'dry_months', CAST(OLD.dry_months AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'water_point', max(seq) FROM change;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER visit_again BEFORE INSERT ON visit WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM visit WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER visit_added AFTER INSERT ON visit WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'visit', NEW.fid, (SELECT id FROM water_point WHERE fid = NEW.water_point_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER visit_kept BEFORE UPDATE OF fid, water_point_fid ON visit WHEN NEW.fid IS NOT OLD.fid OR NEW.water_point_fid IS NOT OLD.water_point_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER visit_changed AFTER UPDATE ON visit WHEN OLD.water_point_fid IS NOT NEW.water_point_fid OR OLD.visited_on IS NOT NEW.visited_on OR OLD.works IS NOT NEW.works OR OLD.level_m IS NOT NEW.level_m OR OLD.words IS NOT NEW.words
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'visit', OLD.fid, (SELECT id FROM water_point WHERE fid = OLD.water_point_fid), 'update', json_object('water_point_fid', OLD.water_point_fid, 'visited_on', CAST(OLD.visited_on AS TEXT), 'works', OLD.works, 'level_m', json(lower(quote(OLD.level_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER visit_deleted BEFORE DELETE ON visit
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'visit', OLD.fid, (SELECT id FROM water_point WHERE fid = OLD.water_point_fid), 'delete', json_object('water_point_fid', OLD.water_point_fid, 'visited_on', CAST(OLD.visited_on AS TEXT), 'works', OLD.works, 'level_m', json(lower(quote(OLD.level_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_again BEFORE INSERT ON boundary WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM boundary WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_added AFTER INSERT ON boundary WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'boundary', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_named AFTER INSERT ON boundary WHEN NEW.id IS NULL
BEGIN
  UPDATE boundary SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'boundary', NEW.fid, (SELECT id FROM boundary WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_kept BEFORE UPDATE OF fid, id ON boundary WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_changed AFTER UPDATE ON boundary WHEN OLD.geom IS NOT NEW.geom OR OLD.name IS NOT NEW.name OR OLD.kind IS NOT NEW.kind OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'boundary', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'kind', CAST(OLD.kind AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER boundary_deleted BEFORE DELETE ON boundary
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'boundary', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'kind', CAST(OLD.kind AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'boundary', max(seq) FROM change;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_again BEFORE INSERT ON river WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM river WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_added AFTER INSERT ON river WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'river', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_named AFTER INSERT ON river WHEN NEW.id IS NULL
BEGIN
  UPDATE river SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'river', NEW.fid, (SELECT id FROM river WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_kept BEFORE UPDATE OF fid, id ON river WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_changed AFTER UPDATE ON river WHEN OLD.geom IS NOT NEW.geom OR OLD.name IS NOT NEW.name OR OLD.perennial IS NOT NEW.perennial OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'river', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'perennial', OLD.perennial, 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER river_deleted BEFORE DELETE ON river
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'river', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'name', CAST(OLD.name AS TEXT), 'perennial', OLD.perennial, 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'river', max(seq) FROM change;
END;
-- +goose StatementEnd
