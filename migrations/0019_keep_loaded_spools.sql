-- +goose Up
-- The feeder a spool is loaded on; NULL if it is on none. One spool a feeder.
ALTER TABLE spools ADD COLUMN feeder_code TEXT REFERENCES feeders (code);
CREATE UNIQUE INDEX spools_by_feeder ON spools (feeder_code);

-- +goose Down
DROP INDEX spools_by_feeder;
ALTER TABLE spools DROP COLUMN feeder_code;
