-- +goose Up
-- Permissions to use one spool for one job against one rule: each row is the
-- sum of its deeds.
CREATE TABLE waivers (
    id          BIGINT  NOT NULL PRIMARY KEY,
    spool_code  TEXT    NOT NULL REFERENCES spools (code),
    job_code    TEXT    NOT NULL REFERENCES jobs (code),
    feeder_code TEXT    REFERENCES feeders (code), -- NULL if it was asked for without one
    rule        TEXT    NOT NULL,
    state       TEXT    NOT NULL, -- asked, granted, refused, ended
    asked_by    TEXT    NOT NULL REFERENCES people (code),
    asked_at    BIGINT  NOT NULL,
    asked_why   TEXT    NOT NULL,
    decided_by  TEXT    REFERENCES people (code),
    decided_at  BIGINT,
    reason      TEXT    NOT NULL,
    until       BIGINT,           -- NULL unless it was granted
    ended_by    TEXT    REFERENCES people (code),
    ended_at    BIGINT,           -- NULL unless it was ended early
    ended_why   TEXT    NOT NULL,
    found       TEXT    NOT NULL, -- what the rule said, when it was asked for or granted
    version     INTEGER NOT NULL
);
CREATE INDEX waivers_by_spool ON waivers (spool_code, job_code);

-- The ledger of what was asked and decided: rows are only ever added.
CREATE TABLE waiver_deeds (
    seq         BIGINT NOT NULL PRIMARY KEY,
    waiver_id   BIGINT NOT NULL REFERENCES waivers (id),
    deed        TEXT   NOT NULL,
    spool_code  TEXT   NOT NULL,
    job_code    TEXT   NOT NULL,
    feeder_code TEXT   NOT NULL, -- empty if none
    rule        TEXT   NOT NULL,
    person_code TEXT   NOT NULL REFERENCES people (code),
    reason      TEXT   NOT NULL,
    found       TEXT   NOT NULL,
    until       BIGINT,
    request_key TEXT   NOT NULL,
    request     TEXT   NOT NULL, -- SHA-256 of what was asked for
    done_at     BIGINT NOT NULL,
    prev_hash   TEXT   NOT NULL,
    hash        TEXT   NOT NULL,
    UNIQUE (request_key, waiver_id)
);

-- +goose Down
DROP TABLE waiver_deeds;
DROP TABLE waivers;
