-- +goose Up
-- How a feeder stands: empty, and 0, is not known.
ALTER TABLE feeders ADD COLUMN polarity TEXT NOT NULL DEFAULT '';
ALTER TABLE feeders ADD COLUMN rolls TEXT NOT NULL DEFAULT '';
ALTER TABLE feeders ADD COLUMN roll_size_nm BIGINT NOT NULL DEFAULT 0;
ALTER TABLE feeders ADD COLUMN gun_nm BIGINT NOT NULL DEFAULT 0;
ALTER TABLE feeders ADD COLUMN liner_nm BIGINT NOT NULL DEFAULT 0;
ALTER TABLE feeders ADD COLUMN packages TEXT NOT NULL DEFAULT '';
ALTER TABLE feeders ADD COLUMN largest_package_g BIGINT NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE feeders DROP COLUMN largest_package_g;
ALTER TABLE feeders DROP COLUMN packages;
ALTER TABLE feeders DROP COLUMN liner_nm;
ALTER TABLE feeders DROP COLUMN gun_nm;
ALTER TABLE feeders DROP COLUMN roll_size_nm;
ALTER TABLE feeders DROP COLUMN rolls;
ALTER TABLE feeders DROP COLUMN polarity;
