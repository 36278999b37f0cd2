-- +goose Up
CREATE TABLE nicknames (
    id          BIGINT NOT NULL PRIMARY KEY,
    name        TEXT   NOT NULL, -- as it was entered
    process     TEXT   NOT NULL,
    person_code TEXT   NOT NULL REFERENCES people (code),
    entered_at  BIGINT NOT NULL,
    retired_by  TEXT   REFERENCES people (code),
    retired_at  BIGINT             -- NULL while it stands
);
CREATE UNIQUE INDEX nicknames_standing ON nicknames (name) WHERE retired_at IS NULL;

-- +goose Down
DROP TABLE nicknames;
