-- Who answers for doing without a test of the water, and why.

-- +goose Up
ALTER TABLE sample ADD COLUMN waived_by TEXT;
ALTER TABLE sample ADD COLUMN reason TEXT;
