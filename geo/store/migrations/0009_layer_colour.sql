-- The colour and the hardness of a layer, in the words they were written in.

-- +goose Up
ALTER TABLE layer ADD COLUMN colour TEXT;
ALTER TABLE layer ADD COLUMN hardness TEXT;
