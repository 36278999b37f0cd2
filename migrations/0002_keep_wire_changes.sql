-- +goose Up
ALTER TABLE wires ADD COLUMN version INTEGER NOT NULL DEFAULT 1;

-- Who changed a wire, when and what: rows are only ever added.
CREATE TABLE wire_changes (
    id          BIGINT  NOT NULL PRIMARY KEY,
    wire_id     BIGINT  NOT NULL REFERENCES wires (id),
    version     INTEGER NOT NULL, -- of the wire, as the change leaves it
    person_code TEXT    NOT NULL REFERENCES people (code),
    changed_at  BIGINT  NOT NULL,
    request_key TEXT    NOT NULL UNIQUE,
    deed        TEXT    NOT NULL, -- entered, edited, settled, sheet attached, confirmed
    what        TEXT    NOT NULL, -- one change a line
    UNIQUE (wire_id, version)
);

-- +goose Down
DROP TABLE wire_changes;
ALTER TABLE wires DROP COLUMN version;
