-- +goose Up
-- Data sheets as they were uploaded: rows are only ever added.
CREATE TABLE wire_sheets (
    id          BIGINT NOT NULL PRIMARY KEY,
    wire_id     BIGINT NOT NULL REFERENCES wires (id),
    title       TEXT   NOT NULL,
    revision    TEXT   NOT NULL, -- empty if it prints none
    file_name   TEXT   NOT NULL,
    media_type  TEXT   NOT NULL, -- by its content
    size_bytes  BIGINT NOT NULL,
    sha256      TEXT   NOT NULL,
    person_code TEXT   NOT NULL REFERENCES people (code),
    attached_at BIGINT NOT NULL,
    content     BLOB   NOT NULL,
    UNIQUE (wire_id, sha256)
);

-- +goose Down
DROP TABLE wire_sheets;
