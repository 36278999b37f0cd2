-- +goose Up
-- Which file entered which wires, by whom: rows are only ever added.
CREATE TABLE wire_imports (
    id          BIGINT  NOT NULL PRIMARY KEY,
    request_key TEXT    NOT NULL UNIQUE,
    file        TEXT    NOT NULL, -- its name as uploaded; empty if it had none
    sha256      TEXT    NOT NULL,
    person_code TEXT    NOT NULL REFERENCES people (code),
    imported_at BIGINT  NOT NULL,
    wires       INTEGER NOT NULL
);

CREATE TABLE imported_wires (
    import_id BIGINT  NOT NULL REFERENCES wire_imports (id),
    line      INTEGER NOT NULL, -- of the file, from 1
    wire_id   BIGINT  NOT NULL UNIQUE REFERENCES wires (id),
    typed     TEXT    NOT NULL, -- the classifications as typed; empty if they are kept as typed
    PRIMARY KEY (import_id, line)
);

-- +goose Down
DROP TABLE imported_wires;
DROP TABLE wire_imports;
