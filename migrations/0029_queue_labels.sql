-- +goose Up
CREATE TABLE printers (
    id         BIGINT  NOT NULL PRIMARY KEY,
    name       TEXT    NOT NULL UNIQUE,
    address    TEXT    NOT NULL, -- ipp://…
    dpi        INTEGER NOT NULL,
    size       TEXT    NOT NULL, -- of the labels in it
    format     TEXT    NOT NULL, -- pdf, png
    retired_at BIGINT,
    version    INTEGER NOT NULL
);

-- What is to be printed, and what was.
CREATE TABLE print_jobs (
    id            BIGINT  NOT NULL PRIMARY KEY,
    printer_id    BIGINT  NOT NULL REFERENCES printers (id),
    person_code   TEXT    NOT NULL REFERENCES people (code),
    kind          TEXT    NOT NULL, -- of the labels
    reason        TEXT    NOT NULL, -- of printing again; empty if it was none
    asked_at      BIGINT  NOT NULL,
    request_key   TEXT    NOT NULL UNIQUE,
    request       TEXT    NOT NULL,
    due_at        BIGINT  NOT NULL,
    tries         INTEGER NOT NULL,
    claim         TEXT    NOT NULL, -- of whoever it is lent to; empty if to nobody
    claimed_until BIGINT  NOT NULL, -- 0 if it is lent to nobody
    sent_at       BIGINT,
    remote        BIGINT  NOT NULL, -- the printer's own number of it
    dead_at       BIGINT,
    fault         TEXT    NOT NULL,
    again_by      TEXT    REFERENCES people (code)
);
CREATE INDEX print_jobs_waiting ON print_jobs (due_at) WHERE sent_at IS NULL AND dead_at IS NULL;

CREATE TABLE printed_labels (
    print_job_id BIGINT  NOT NULL REFERENCES print_jobs (id),
    line         INTEGER NOT NULL,
    kind         TEXT    NOT NULL,
    label_of     TEXT    NOT NULL, -- a code, or "lot 12"
    number       INTEGER NOT NULL, -- of its print, from 1
    asked_at     BIGINT  NOT NULL,
    PRIMARY KEY (print_job_id, line)
);
CREATE INDEX printed_labels_of ON printed_labels (label_of, kind, number);

-- +goose Down
DROP TABLE printed_labels;
DROP TABLE print_jobs;
DROP TABLE printers;
