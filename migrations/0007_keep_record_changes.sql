-- +goose Up
ALTER TABLE people ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
ALTER TABLE places ADD COLUMN version INTEGER NOT NULL DEFAULT 1; -- of a feeder too
ALTER TABLE procedures ADD COLUMN version INTEGER NOT NULL DEFAULT 1;
ALTER TABLE jobs ADD COLUMN version INTEGER NOT NULL DEFAULT 1;

-- Who entered or changed a person, place, feeder, procedure or job: rows are
-- only ever added.
CREATE TABLE record_changes (
    id          BIGINT  NOT NULL PRIMARY KEY,
    kind        TEXT    NOT NULL,
    subject     TEXT    NOT NULL, -- a code; of a procedure its id
    version     INTEGER NOT NULL, -- as the change leaves it
    person_code TEXT    NOT NULL REFERENCES people (code),
    changed_at  BIGINT  NOT NULL,
    request_key TEXT    NOT NULL UNIQUE,
    request     TEXT    NOT NULL, -- SHA-256 of what was asked for
    deed        TEXT    NOT NULL,
    what        TEXT    NOT NULL, -- one change a line
    UNIQUE (kind, subject, version)
);

-- +goose Down
DROP TABLE record_changes;
ALTER TABLE jobs DROP COLUMN version;
ALTER TABLE procedures DROP COLUMN version;
ALTER TABLE places DROP COLUMN version;
ALTER TABLE people DROP COLUMN version;
