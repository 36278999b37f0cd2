-- +goose Up
-- What each request asked for: a key that comes again with another wish is
-- another request. Empty for changes made before this was kept.
ALTER TABLE wire_changes ADD COLUMN request TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE wire_changes DROP COLUMN request;
