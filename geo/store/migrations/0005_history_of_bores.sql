-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.

-- +goose Up

-- +goose StatementBegin
CREATE TRIGGER bore_again BEFORE INSERT ON bore WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM bore WHERE fid = NEW.fid OR id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bore_added AFTER INSERT ON bore WHEN NEW.id IS NOT NULL
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'bore', NEW.fid, NEW.id, 'insert', NULL FROM context;
  DELETE FROM hidden WHERE id = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bore_named AFTER INSERT ON bore WHEN NEW.id IS NULL
BEGIN
  UPDATE bore SET id = lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))) WHERE fid = NEW.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'bore', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bore_kept BEFORE UPDATE OF fid, id ON bore WHEN NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)
BEGIN
  SELECT RAISE(ABORT, 'fid and id are permanent');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bore_changed AFTER UPDATE ON bore WHEN OLD.geom IS NOT NEW.geom OR OLD.code IS NOT NEW.code OR OLD.name IS NOT NEW.name OR OLD.place IS NOT NEW.place OR OLD.village_id IS NOT NEW.village_id OR OLD.as_read IS NOT NEW.as_read OR OLD.crs IS NOT NEW.crs OR OLD.operation IS NOT NEW.operation OR OLD.precision_m IS NOT NEW.precision_m OR OLD.ground_m IS NOT NEW.ground_m OR OLD.ground_datum IS NOT NEW.ground_datum OR OLD.ground_source IS NOT NEW.ground_source OR OLD.started IS NOT NEW.started OR OLD.completed IS NOT NEW.completed OR OLD.method IS NOT NEW.method OR OLD.outcome IS NOT NEW.outcome OR OLD.depth_m IS NOT NEW.depth_m OR OLD.refusal_m IS NOT NEW.refusal_m OR OLD.yield_lps IS NOT NEW.yield_lps OR OLD.driller IS NOT NEW.driller OR OLD.remarks IS NOT NEW.remarks OR OLD.cost IS NOT NEW.cost OR OLD.currency IS NOT NEW.currency OR OLD.batch IS NOT NEW.batch OR OLD.source_file IS NOT NEW.source_file OR OLD.source_row IS NOT NEW.source_row OR OLD.given_by IS NOT NEW.given_by OR OLD.licence IS NOT NEW.licence OR OLD.field_sources IS NOT NEW.field_sources
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'bore', OLD.fid, OLD.id, 'update', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'code', CAST(OLD.code AS TEXT), 'name', CAST(OLD.name AS TEXT), 'place', CAST(OLD.place AS TEXT), 'village_id', CAST(OLD.village_id AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'ground_m', json(lower(quote(OLD.ground_m))), 'ground_datum', CAST(OLD.ground_datum AS TEXT), 'ground_source', CAST(OLD.ground_source AS TEXT), 'started', CAST(OLD.started AS TEXT), 'completed', CAST(OLD.completed AS TEXT), 'method', CAST(OLD.method AS TEXT), 'outcome', CAST(OLD.outcome AS TEXT), 'depth_m', json(lower(quote(OLD.depth_m))), 'refusal_m', json(lower(quote(OLD.refusal_m))), 'yield_lps', json(lower(quote(OLD.yield_lps))), 'driller', CAST(OLD.driller AS TEXT), 'remarks', CAST(OLD.remarks AS TEXT), 'cost', json(lower(quote(OLD.cost))), 'currency', CAST(OLD.currency AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- A point moved in a GIS is no longer where its text says.
-- +goose StatementBegin
CREATE TRIGGER bore_moved AFTER UPDATE OF geom ON bore WHEN (SELECT act FROM context) IS NULL AND NEW.geom IS NOT OLD.geom AND NEW.as_read IS OLD.as_read
BEGIN
  UPDATE bore SET as_read = NULL, crs = 'WGS 84', operation = NULL, precision_m = NULL WHERE fid = NEW.fid;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER bore_deleted BEFORE DELETE ON bore
BEGIN
  DELETE FROM layer WHERE bore_fid = OLD.fid;
  DELETE FROM strike WHERE bore_fid = OLD.fid;
  DELETE FROM level WHERE bore_fid = OLD.fid;
  DELETE FROM pipe WHERE bore_fid = OLD.fid;
  DELETE FROM fill WHERE bore_fid = OLD.fid;
  DELETE FROM test WHERE bore_fid = OLD.fid;
  DELETE FROM sample WHERE bore_fid = OLD.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'bore', OLD.fid, OLD.id, 'delete', json_object('geom', hex(OLD.geom), 'id', CAST(OLD.id AS TEXT), 'code', CAST(OLD.code AS TEXT), 'name', CAST(OLD.name AS TEXT), 'place', CAST(OLD.place AS TEXT), 'village_id', CAST(OLD.village_id AS TEXT), 'as_read', CAST(OLD.as_read AS TEXT), 'crs', CAST(OLD.crs AS TEXT), 'operation', CAST(OLD.operation AS TEXT), 'precision_m', json(lower(quote(OLD.precision_m))), 'ground_m', json(lower(quote(OLD.ground_m))), 'ground_datum', CAST(OLD.ground_datum AS TEXT), 'ground_source', CAST(OLD.ground_source AS TEXT), 'started', CAST(OLD.started AS TEXT), 'completed', CAST(OLD.completed AS TEXT), 'method', CAST(OLD.method AS TEXT), 'outcome', CAST(OLD.outcome AS TEXT), 'depth_m', json(lower(quote(OLD.depth_m))), 'refusal_m', json(lower(quote(OLD.refusal_m))), 'yield_lps', json(lower(quote(OLD.yield_lps))), 'driller', CAST(OLD.driller AS TEXT), 'remarks', CAST(OLD.remarks AS TEXT), 'cost', json(lower(quote(OLD.cost))), 'currency', CAST(OLD.currency AS TEXT), 'batch', CAST(OLD.batch AS TEXT), 'source_file', CAST(OLD.source_file AS TEXT), 'source_row', OLD.source_row, 'given_by', CAST(OLD.given_by AS TEXT), 'licence', CAST(OLD.licence AS TEXT), 'field_sources', CAST(OLD.field_sources AS TEXT)) FROM context;
  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, 'bore', max(seq) FROM change;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_again BEFORE INSERT ON layer WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM layer WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_added AFTER INSERT ON layer WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'layer', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_kept BEFORE UPDATE OF fid, bore_fid ON layer WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_changed AFTER UPDATE ON layer WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.top_m IS NOT NEW.top_m OR OLD.base_m IS NOT NEW.base_m OR OLD.words IS NOT NEW.words OR OLD.class IS NOT NEW.class OR OLD.grade IS NOT NEW.grade OR OLD.clayey IS NOT NEW.clayey OR OLD.confidence IS NOT NEW.confidence OR OLD.minutes_per_m IS NOT NEW.minutes_per_m
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'layer', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'words', CAST(OLD.words AS TEXT), 'class', CAST(OLD.class AS TEXT), 'grade', CAST(OLD.grade AS TEXT), 'clayey', OLD.clayey, 'confidence', json(lower(quote(OLD.confidence))), 'minutes_per_m', json(lower(quote(OLD.minutes_per_m)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_deleted BEFORE DELETE ON layer
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'layer', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'words', CAST(OLD.words AS TEXT), 'class', CAST(OLD.class AS TEXT), 'grade', CAST(OLD.grade AS TEXT), 'clayey', OLD.clayey, 'confidence', json(lower(quote(OLD.confidence))), 'minutes_per_m', json(lower(quote(OLD.minutes_per_m)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER strike_again BEFORE INSERT ON strike WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM strike WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER strike_added AFTER INSERT ON strike WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'strike', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER strike_kept BEFORE UPDATE OF fid, bore_fid ON strike WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER strike_changed AFTER UPDATE ON strike WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.depth_m IS NOT NEW.depth_m OR OLD.words IS NOT NEW.words
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'strike', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'depth_m', json(lower(quote(OLD.depth_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER strike_deleted BEFORE DELETE ON strike
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'strike', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'depth_m', json(lower(quote(OLD.depth_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER level_again BEFORE INSERT ON level WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM level WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER level_added AFTER INSERT ON level WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'level', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER level_kept BEFORE UPDATE OF fid, bore_fid ON level WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER level_changed AFTER UPDATE ON level WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.state IS NOT NEW.state OR OLD.depth_m IS NOT NEW.depth_m OR OLD.read_on IS NOT NEW.read_on OR OLD.reference_m IS NOT NEW.reference_m OR OLD.words IS NOT NEW.words
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'level', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'state', CAST(OLD.state AS TEXT), 'depth_m', json(lower(quote(OLD.depth_m))), 'read_on', CAST(OLD.read_on AS TEXT), 'reference_m', json(lower(quote(OLD.reference_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER level_deleted BEFORE DELETE ON level
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'level', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'state', CAST(OLD.state AS TEXT), 'depth_m', json(lower(quote(OLD.depth_m))), 'read_on', CAST(OLD.read_on AS TEXT), 'reference_m', json(lower(quote(OLD.reference_m))), 'words', CAST(OLD.words AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER pipe_again BEFORE INSERT ON pipe WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM pipe WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER pipe_added AFTER INSERT ON pipe WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'pipe', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER pipe_kept BEFORE UPDATE OF fid, bore_fid ON pipe WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER pipe_changed AFTER UPDATE ON pipe WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.kind IS NOT NEW.kind OR OLD.top_m IS NOT NEW.top_m OR OLD.base_m IS NOT NEW.base_m OR OLD.diameter_mm IS NOT NEW.diameter_mm OR OLD.slot_mm IS NOT NEW.slot_mm OR OLD.material IS NOT NEW.material
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'pipe', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'diameter_mm', json(lower(quote(OLD.diameter_mm))), 'slot_mm', json(lower(quote(OLD.slot_mm))), 'material', CAST(OLD.material AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER pipe_deleted BEFORE DELETE ON pipe
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'pipe', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'diameter_mm', json(lower(quote(OLD.diameter_mm))), 'slot_mm', json(lower(quote(OLD.slot_mm))), 'material', CAST(OLD.material AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER fill_again BEFORE INSERT ON fill WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM fill WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER fill_added AFTER INSERT ON fill WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'fill', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER fill_kept BEFORE UPDATE OF fid, bore_fid ON fill WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER fill_changed AFTER UPDATE ON fill WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.kind IS NOT NEW.kind OR OLD.top_m IS NOT NEW.top_m OR OLD.base_m IS NOT NEW.base_m
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'fill', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER fill_deleted BEFORE DELETE ON fill
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'fill', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_again BEFORE INSERT ON test WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM test WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_added AFTER INSERT ON test WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_kept BEFORE UPDATE OF fid, bore_fid ON test WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_changed AFTER UPDATE ON test WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.kind IS NOT NEW.kind OR OLD.tested_on IS NOT NEW.tested_on OR OLD.rate_lps IS NOT NEW.rate_lps OR OLD.hours IS NOT NEW.hours OR OLD.rest_m IS NOT NEW.rest_m OR OLD.pumping_m IS NOT NEW.pumping_m OR OLD.bail_l IS NOT NEW.bail_l OR OLD.half_min IS NOT NEW.half_min OR OLD.three_q_min IS NOT NEW.three_q_min OR OLD.remarks IS NOT NEW.remarks
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'tested_on', CAST(OLD.tested_on AS TEXT), 'rate_lps', json(lower(quote(OLD.rate_lps))), 'hours', json(lower(quote(OLD.hours))), 'rest_m', json(lower(quote(OLD.rest_m))), 'pumping_m', json(lower(quote(OLD.pumping_m))), 'bail_l', json(lower(quote(OLD.bail_l))), 'half_min', json(lower(quote(OLD.half_min))), 'three_q_min', json(lower(quote(OLD.three_q_min))), 'remarks', CAST(OLD.remarks AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_deleted BEFORE DELETE ON test
BEGIN
  DELETE FROM test_reading WHERE test_fid = OLD.fid;
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'kind', CAST(OLD.kind AS TEXT), 'tested_on', CAST(OLD.tested_on AS TEXT), 'rate_lps', json(lower(quote(OLD.rate_lps))), 'hours', json(lower(quote(OLD.hours))), 'rest_m', json(lower(quote(OLD.rest_m))), 'pumping_m', json(lower(quote(OLD.pumping_m))), 'bail_l', json(lower(quote(OLD.bail_l))), 'half_min', json(lower(quote(OLD.half_min))), 'three_q_min', json(lower(quote(OLD.three_q_min))), 'remarks', CAST(OLD.remarks AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_reading_again BEFORE INSERT ON test_reading WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM test_reading WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_reading_added AFTER INSERT ON test_reading WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test_reading', NEW.fid, (SELECT id FROM bore WHERE fid = (SELECT bore_fid FROM test WHERE fid = NEW.test_fid)), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_reading_kept BEFORE UPDATE OF fid, test_fid ON test_reading WHEN NEW.fid IS NOT OLD.fid OR NEW.test_fid IS NOT OLD.test_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_reading_changed AFTER UPDATE ON test_reading WHEN OLD.test_fid IS NOT NEW.test_fid OR OLD.minutes IS NOT NEW.minutes OR OLD.depth_m IS NOT NEW.depth_m OR OLD.rate_lps IS NOT NEW.rate_lps
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test_reading', OLD.fid, (SELECT id FROM bore WHERE fid = (SELECT bore_fid FROM test WHERE fid = OLD.test_fid)), 'update', json_object('test_fid', OLD.test_fid, 'minutes', json(lower(quote(OLD.minutes))), 'depth_m', json(lower(quote(OLD.depth_m))), 'rate_lps', json(lower(quote(OLD.rate_lps)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER test_reading_deleted BEFORE DELETE ON test_reading
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'test_reading', OLD.fid, (SELECT id FROM bore WHERE fid = (SELECT bore_fid FROM test WHERE fid = OLD.test_fid)), 'delete', json_object('test_fid', OLD.test_fid, 'minutes', json(lower(quote(OLD.minutes))), 'depth_m', json(lower(quote(OLD.depth_m))), 'rate_lps', json(lower(quote(OLD.rate_lps)))) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_again BEFORE INSERT ON sample WHEN (SELECT act FROM context) IS NULL AND EXISTS (SELECT 1 FROM sample WHERE fid = NEW.fid)
BEGIN
  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_added AFTER INSERT ON sample WHEN (SELECT whole FROM context) = 0
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'sample', NEW.fid, (SELECT id FROM bore WHERE fid = NEW.bore_fid), 'insert', NULL FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_kept BEFORE UPDATE OF fid, bore_fid ON sample WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_changed AFTER UPDATE ON sample WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.analyte IS NOT NEW.analyte OR OLD.basis IS NOT NEW.basis OR OLD.unit IS NOT NEW.unit OR OLD.value IS NOT NEW.value OR OLD.detection_limit IS NOT NEW.detection_limit OR OLD.sampled_on IS NOT NEW.sampled_on OR OLD.laboratory IS NOT NEW.laboratory
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'sample', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'analyte', CAST(OLD.analyte AS TEXT), 'basis', CAST(OLD.basis AS TEXT), 'unit', CAST(OLD.unit AS TEXT), 'value', json(lower(quote(OLD.value))), 'detection_limit', json(lower(quote(OLD.detection_limit))), 'sampled_on', CAST(OLD.sampled_on AS TEXT), 'laboratory', CAST(OLD.laboratory AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_deleted BEFORE DELETE ON sample
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'sample', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'analyte', CAST(OLD.analyte AS TEXT), 'basis', CAST(OLD.basis AS TEXT), 'unit', CAST(OLD.unit AS TEXT), 'value', json(lower(quote(OLD.value))), 'detection_limit', json(lower(quote(OLD.detection_limit))), 'sampled_on', CAST(OLD.sampled_on AS TEXT), 'laboratory', CAST(OLD.laboratory AS TEXT)) FROM context;
END;
-- +goose StatementEnd
