-- What tells an updated file from the one before: the data set that a batch belongs to,
-- and, where people's values stayed against the file's, what counts as given by the file.

-- +goose Up
ALTER TABLE batch ADD COLUMN dataset TEXT;
ALTER TABLE imported ADD COLUMN given TEXT;
