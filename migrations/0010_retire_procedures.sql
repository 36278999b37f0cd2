-- +goose Up
ALTER TABLE procedures ADD COLUMN retired_at BIGINT; -- NULL while work may be welded to it

-- +goose Down
ALTER TABLE procedures DROP COLUMN retired_at;
