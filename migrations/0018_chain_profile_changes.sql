-- +goose Up
-- The changes of rule profiles are a chain too: each carries the hash of the one
-- before, and of the profile as it leaves it.
ALTER TABLE profile_changes ADD COLUMN seq BIGINT NOT NULL DEFAULT 0; -- 0 for a change from before there was a chain
ALTER TABLE profile_changes ADD COLUMN content TEXT NOT NULL DEFAULT ''; -- SHA-256 of the profile with its limits
ALTER TABLE profile_changes ADD COLUMN prev_hash TEXT NOT NULL DEFAULT '';
ALTER TABLE profile_changes ADD COLUMN hash TEXT NOT NULL DEFAULT '';
CREATE UNIQUE INDEX profile_changes_in_order ON profile_changes (seq) WHERE seq > 0;

-- +goose Down
DROP INDEX profile_changes_in_order;
ALTER TABLE profile_changes DROP COLUMN hash;
ALTER TABLE profile_changes DROP COLUMN prev_hash;
ALTER TABLE profile_changes DROP COLUMN content;
ALTER TABLE profile_changes DROP COLUMN seq;
