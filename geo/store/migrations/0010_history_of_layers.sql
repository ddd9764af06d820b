-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.

-- +goose Up
DROP TRIGGER layer_kept;
DROP TRIGGER layer_changed;
DROP TRIGGER layer_deleted;

-- +goose StatementBegin
CREATE TRIGGER layer_kept BEFORE UPDATE OF fid, bore_fid ON layer WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_changed AFTER UPDATE ON layer WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.top_m IS NOT NEW.top_m OR OLD.base_m IS NOT NEW.base_m OR OLD.words IS NOT NEW.words OR OLD.class IS NOT NEW.class OR OLD.grade IS NOT NEW.grade OR OLD.clayey IS NOT NEW.clayey OR OLD.confidence IS NOT NEW.confidence OR OLD.minutes_per_m IS NOT NEW.minutes_per_m OR OLD.colour IS NOT NEW.colour OR OLD.hardness IS NOT NEW.hardness
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'layer', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'words', CAST(OLD.words AS TEXT), 'class', CAST(OLD.class AS TEXT), 'grade', CAST(OLD.grade AS TEXT), 'clayey', OLD.clayey, 'confidence', json(lower(quote(OLD.confidence))), 'minutes_per_m', json(lower(quote(OLD.minutes_per_m))), 'colour', CAST(OLD.colour AS TEXT), 'hardness', CAST(OLD.hardness AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layer_deleted BEFORE DELETE ON layer
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'layer', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'top_m', json(lower(quote(OLD.top_m))), 'base_m', json(lower(quote(OLD.base_m))), 'words', CAST(OLD.words AS TEXT), 'class', CAST(OLD.class AS TEXT), 'grade', CAST(OLD.grade AS TEXT), 'clayey', OLD.clayey, 'confidence', json(lower(quote(OLD.confidence))), 'minutes_per_m', json(lower(quote(OLD.minutes_per_m))), 'colour', CAST(OLD.colour AS TEXT), 'hardness', CAST(OLD.hardness AS TEXT)) FROM context;
END;
-- +goose StatementEnd
