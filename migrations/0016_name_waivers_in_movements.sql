-- +goose Up
-- The waivers that an issue rests on; empty if it needed none, and for what was
-- issued before there were any.
ALTER TABLE movements ADD COLUMN waiver TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE movements DROP COLUMN waiver;
