-- +goose Up
ALTER TABLE jobs ADD COLUMN site TEXT NOT NULL DEFAULT ''; -- shop or field; empty is not stated
ALTER TABLE jobs ADD COLUMN wind_known BOOLEAN NOT NULL DEFAULT FALSE;
UPDATE jobs SET wind_known = TRUE WHERE wind_mm_s > 0;

-- +goose Down
ALTER TABLE jobs DROP COLUMN wind_known;
ALTER TABLE jobs DROP COLUMN site;
