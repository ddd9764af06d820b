-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.

-- +goose Up

-- +goose StatementBegin
CREATE TRIGGER siting_again BEFORE INSERT ON siting WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM siting WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER siting_added AFTER INSERT ON siting WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'siting', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER siting_named AFTER INSERT ON siting WHEN NEW.id IS NULL
BEGIN
  UPDATE siting SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'siting', NEW.fid, (SELECT id FROM siting WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER siting_kept BEFORE UPDATE OF fid, id ON siting WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER siting_changed AFTER UPDATE ON siting WHEN OLD.geom IS NOT NEW.geom OR OLD.place IS NOT NEW.place OR OLD.as_read IS NOT NEW.as_read OR OLD.crs IS NOT NEW.crs OR OLD.operation IS NOT NEW.operation OR OLD.precision_m IS NOT NEW.precision_m OR OLD.visited_on IS NOT NEW.visited_on OR OLD.access IS NOT NEW.access OR OLD.consent IS NOT NEW.consent OR OLD.consent_by IS NOT NEW.consent_by OR OLD.flood_m IS NOT NEW.flood_m OR OLD.services IS NOT NEW.services OR OLD.services_by IS NOT NEW.services_by OR OLD.ordnance IS NOT NEW.ordnance OR OLD.ordnance_by IS NOT NEW.ordnance_by OR OLD.remarks IS NOT NEW.remarks OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'siting', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'place', CAST(OLD.place AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'visited_on', CAST(OLD.visited_on AS TEXT), 'access', CAST(OLD.access AS TEXT), 'consent', CAST(OLD.consent AS TEXT), 'consent_by', CAST(OLD.consent_by AS TEXT), 'flood_m', json(lower(quote(OLD.flood_m))), 'services', CAST(OLD.services AS TEXT), 'services_by', CAST(OLD.services_by AS TEXT), 'ordnance', CAST(OLD.ordnance AS TEXT), 'ordnance_by', CAST(OLD.ordnance_by AS TEXT), 'remarks', CAST(OLD.remarks AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- A point moved in a GIS is no longer where its text says.
-- +goose StatementBegin
CREATE TRIGGER siting_moved AFTER UPDATE OF geom ON siting WHEN (SELECT act FROM context) IS NULL AND NEW.geom IS NOT OLD.geom AND NEW.as_read IS OLD.as_read
BEGIN
  UPDATE siting SET as_read = NULL, crs = 'WGS 84', operation = NULL, precision_m = NULL WHERE fid = NEW.fid;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER siting_deleted BEFORE DELETE ON siting
BEGIN
  DELETE FROM nearby WHERE siting_fid = OLD.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'siting', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'place', CAST(OLD.place AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'visited_on', CAST(OLD.visited_on AS TEXT), 'access', CAST(OLD.access AS TEXT), 'consent', CAST(OLD.consent AS TEXT), 'consent_by', CAST(OLD.consent_by AS TEXT), 'flood_m', json(lower(quote(OLD.flood_m))), 'services', CAST(OLD.services AS TEXT), 'services_by', CAST(OLD.services_by AS TEXT), 'ordnance', CAST(OLD.ordnance AS TEXT), 'ordnance_by', CAST(OLD.ordnance_by AS TEXT), 'remarks', CAST(OLD.remarks AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'siting', max(seq) FROM change;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER nearby_again BEFORE INSERT ON nearby WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM nearby WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER nearby_added AFTER INSERT ON nearby WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'nearby', NEW.fid, (SELECT id FROM siting WHERE fid = NEW.siting_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER nearby_kept BEFORE UPDATE OF fid, siting_fid ON nearby WHEN NEW.fid IS NOT OLD.fid OR NEW.siting_fid IS NOT OLD.siting_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER nearby_changed AFTER UPDATE ON nearby WHEN OLD.siting_fid IS NOT NEW.siting_fid OR OLD.kind IS NOT NEW.kind OR OLD.distance_m IS NOT NEW.distance_m OR OLD.bearing_deg IS NOT NEW.bearing_deg OR OLD.depth_m IS NOT NEW.depth_m OR OLD.dry_months IS NOT NEW.dry_months OR OLD.said_by IS NOT NEW.said_by OR OLD.words IS NOT NEW.words OR OLD.point_id IS NOT NEW.point_id
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'nearby', OLD.fid, (SELECT id FROM siting WHERE fid = OLD.siting_fid), 'update', json_object('siting_fid', OLD.siting_fid, 'kind', CAST(OLD.kind AS TEXT), 'distance_m', json(lower(quote(OLD.distance_m))), 'bearing_deg', json(lower(quote(OLD.bearing_deg))), 'depth_m', json(lower(quote(OLD.depth_m))), 'dry_months', CAST(OLD.dry_months AS TEXT), 'said_by', CAST(OLD.said_by AS TEXT), 'words', CAST(OLD.words AS TEXT), 'point_id', CAST(OLD.point_id AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER nearby_deleted BEFORE DELETE ON nearby
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'nearby', OLD.fid, (SELECT id FROM siting WHERE fid = OLD.siting_fid), 'delete', json_object('siting_fid', OLD.siting_fid, 'kind', CAST(OLD.kind AS TEXT), 'distance_m', json(lower(quote(OLD.distance_m))), 'bearing_deg', json(lower(quote(OLD.bearing_deg))), 'depth_m', json(lower(quote(OLD.depth_m))), 'dry_months', CAST(OLD.dry_months AS TEXT), 'said_by', CAST(OLD.said_by AS TEXT), 'words', CAST(OLD.words AS TEXT), 'point_id', CAST(OLD.point_id AS TEXT)) FROM context;
END;
-- +goose StatementEnd
