-- +goose Up
ALTER TABLE procedures ADD COLUMN matching BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE procedures ADD COLUMN pass_count INTEGER NOT NULL DEFAULT 0; -- 0 is not stated
ALTER TABLE procedures ADD COLUMN intermix_report TEXT NOT NULL DEFAULT ''; -- empty names none

-- +goose Down
ALTER TABLE procedures DROP COLUMN intermix_report;
ALTER TABLE procedures DROP COLUMN pass_count;
ALTER TABLE procedures DROP COLUMN matching;
