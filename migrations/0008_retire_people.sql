-- +goose Up
ALTER TABLE people ADD COLUMN retired_at BIGINT; -- NULL while the badge is good

-- +goose Down
ALTER TABLE people DROP COLUMN retired_at;
