-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.

-- +goose Up
DROP TRIGGER sample_kept;
DROP TRIGGER sample_changed;
DROP TRIGGER sample_deleted;

-- +goose StatementBegin
CREATE TRIGGER sample_kept BEFORE UPDATE OF fid, bore_fid ON sample WHEN NEW.fid IS NOT OLD.fid OR NEW.bore_fid IS NOT OLD.bore_fid
BEGIN
  SELECT RAISE(ABORT, 'a part stays with its record: delete it and add it where it belongs');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_changed AFTER UPDATE ON sample WHEN OLD.bore_fid IS NOT NEW.bore_fid OR OLD.analyte IS NOT NEW.analyte OR OLD.basis IS NOT NEW.basis OR OLD.unit IS NOT NEW.unit OR OLD.value IS NOT NEW.value OR OLD.detection_limit IS NOT NEW.detection_limit OR OLD.sampled_on IS NOT NEW.sampled_on OR OLD.laboratory IS NOT NEW.laboratory OR OLD.waived_by IS NOT NEW.waived_by OR OLD.reason IS NOT NEW.reason
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'sample', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'update', json_object('bore_fid', OLD.bore_fid, 'analyte', CAST(OLD.analyte AS TEXT), 'basis', CAST(OLD.basis AS TEXT), 'unit', CAST(OLD.unit AS TEXT), 'value', json(lower(quote(OLD.value))), 'detection_limit', json(lower(quote(OLD.detection_limit))), 'sampled_on', CAST(OLD.sampled_on AS TEXT), 'laboratory', CAST(OLD.laboratory AS TEXT), 'waived_by', CAST(OLD.waived_by AS TEXT), 'reason', CAST(OLD.reason AS TEXT)) FROM context;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER sample_deleted BEFORE DELETE ON sample
BEGIN
  INSERT INTO change (act, at, layer, fid, record, action, former)
  SELECT act, CASE WHEN act IS NULL THEN strftime('%Y-%m-%dT%H:%M:%fZ', 'now') END, 'sample', OLD.fid, (SELECT id FROM bore WHERE fid = OLD.bore_fid), 'delete', json_object('bore_fid', OLD.bore_fid, 'analyte', CAST(OLD.analyte AS TEXT), 'basis', CAST(OLD.basis AS TEXT), 'unit', CAST(OLD.unit AS TEXT), 'value', json(lower(quote(OLD.value))), 'detection_limit', json(lower(quote(OLD.detection_limit))), 'sampled_on', CAST(OLD.sampled_on AS TEXT), 'laboratory', CAST(OLD.laboratory AS TEXT), 'waived_by', CAST(OLD.waived_by AS TEXT), 'reason', CAST(OLD.reason AS TEXT)) FROM context;
END;
-- +goose StatementEnd
