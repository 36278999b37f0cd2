-- +goose Up
-- What a procedure is qualified for. 0, and empty, is not stated.
ALTER TABLE procedures ADD COLUMN thickness_least_nm BIGINT NOT NULL DEFAULT 0;
ALTER TABLE procedures ADD COLUMN thickness_most_nm BIGINT NOT NULL DEFAULT 0;
ALTER TABLE procedures ADD COLUMN base_metals TEXT NOT NULL DEFAULT ''; -- name, tab, family

-- +goose Down
ALTER TABLE procedures DROP COLUMN base_metals;
ALTER TABLE procedures DROP COLUMN thickness_most_nm;
ALTER TABLE procedures DROP COLUMN thickness_least_nm;
