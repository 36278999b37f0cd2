-- +goose Up
CREATE TABLE counters (
    name  TEXT   NOT NULL PRIMARY KEY,
    value BIGINT NOT NULL
);

CREATE TABLE people (
    code TEXT NOT NULL PRIMARY KEY,
    name TEXT NOT NULL,
    role TEXT NOT NULL
);

CREATE TABLE places (
    code     TEXT    NOT NULL PRIMARY KEY,
    name     TEXT    NOT NULL UNIQUE,
    kind     TEXT    NOT NULL,
    dry_kept BOOLEAN NOT NULL
);

CREATE TABLE feeders (
    code         TEXT NOT NULL PRIMARY KEY REFERENCES places (code),
    polarities   TEXT NOT NULL, -- empty is not known
    gas          TEXT,          -- NULL is not known
    diameters_nm TEXT NOT NULL  -- empty is not known
);

CREATE TABLE wires (
    id              BIGINT NOT NULL PRIMARY KEY,
    maker           TEXT   NOT NULL,
    trade_name      TEXT   NOT NULL,
    classifications TEXT   NOT NULL,
    diameter_nm     BIGINT NOT NULL,
    marked          TEXT   NOT NULL,
    package         TEXT   NOT NULL,
    net_g           BIGINT NOT NULL,
    tare_g          BIGINT NOT NULL,
    minimum_g       BIGINT NOT NULL
);

CREATE TABLE wire_facts (
    wire_id    BIGINT  NOT NULL REFERENCES wires (id),
    line       INTEGER NOT NULL,
    name       TEXT    NOT NULL,
    value      TEXT    NOT NULL,
    unit       TEXT    NOT NULL,
    condition  TEXT    NOT NULL,
    provenance TEXT    NOT NULL,
    source     TEXT    NOT NULL,
    note       TEXT    NOT NULL,
    PRIMARY KEY (wire_id, line)
);

CREATE TABLE lots (
    id          BIGINT NOT NULL PRIMARY KEY,
    wire_id     BIGINT NOT NULL REFERENCES wires (id),
    number      TEXT   NOT NULL,
    certificate TEXT   NOT NULL, -- empty if none came
    received_at BIGINT NOT NULL,
    status      TEXT   NOT NULL,
    reason      TEXT   NOT NULL,
    version     INTEGER NOT NULL, -- how many decisions it has had
    UNIQUE (wire_id, number)
);

-- The ledger of what was decided about lots: rows are only ever added.
CREATE TABLE lot_decisions (
    seq         BIGINT NOT NULL PRIMARY KEY,
    lot_id      BIGINT NOT NULL REFERENCES lots (id),
    status      TEXT   NOT NULL,
    reason      TEXT   NOT NULL,
    certificate TEXT   NOT NULL, -- empty if none came
    person_code TEXT   NOT NULL REFERENCES people (code),
    request_key TEXT   NOT NULL UNIQUE,
    request     TEXT   NOT NULL, -- SHA-256 of what was asked for
    decided_at  BIGINT NOT NULL,
    prev_hash   TEXT   NOT NULL,
    hash        TEXT   NOT NULL
);

CREATE TABLE procedures (
    id              BIGINT  NOT NULL PRIMARY KEY,
    number          TEXT    NOT NULL,
    revision        TEXT    NOT NULL,
    title           TEXT    NOT NULL,
    processes       TEXT    NOT NULL,
    classifications TEXT    NOT NULL,
    diameters_nm    TEXT    NOT NULL,
    polarity        TEXT    NOT NULL,
    gas             TEXT,             -- NULL asks nothing
    passes          TEXT    NOT NULL,
    positions       TEXT    NOT NULL,
    tensile         TEXT    NOT NULL, -- "70 ksi": kept in the unit it is written in
    toughness       TEXT    NOT NULL, -- "20 ft-lbf at -20 degF"
    hydrogen        INTEGER NOT NULL, -- mL/100 g; 0 asks nothing
    prequalified    BOOLEAN NOT NULL,
    UNIQUE (number, revision)
);

CREATE TABLE jobs (
    code         TEXT    NOT NULL PRIMARY KEY,
    number       TEXT    NOT NULL UNIQUE,
    name         TEXT    NOT NULL,
    procedure_id BIGINT  NOT NULL REFERENCES procedures (id),
    profile_id   TEXT    NOT NULL,
    base_metals  TEXT    NOT NULL, -- name, tab, family
    thickness_nm BIGINT  NOT NULL, -- 0 is not stated
    joint        TEXT    NOT NULL,
    wind_mm_s    BIGINT  NOT NULL,
    sheltered    BOOLEAN NOT NULL,
    closed       BOOLEAN NOT NULL
);

CREATE TABLE spools (
    code        TEXT    NOT NULL PRIMARY KEY,
    lot_id      BIGINT  NOT NULL REFERENCES lots (id),
    place_code  TEXT    REFERENCES places (code), -- NULL once scrapped
    net_g       BIGINT  NOT NULL,
    tare_g      BIGINT  NOT NULL,
    full_g      BIGINT  NOT NULL,
    received_at BIGINT  NOT NULL,
    opened_at   BIGINT,                           -- NULL while sealed
    held        TEXT    NOT NULL,
    job_code    TEXT    REFERENCES jobs (code),   -- NULL in the store
    holder_code TEXT    REFERENCES people (code),
    out_since   BIGINT,
    scrapped    BOOLEAN NOT NULL,
    moved_at    BIGINT  NOT NULL,
    version     INTEGER NOT NULL
);
CREATE INDEX spools_by_lot ON spools (lot_id);
CREATE INDEX spools_by_job ON spools (job_code);

-- The ledger: rows are only ever added.
CREATE TABLE movements (
    seq          BIGINT  NOT NULL PRIMARY KEY,
    spool_code   TEXT    NOT NULL REFERENCES spools (code),
    version      INTEGER NOT NULL,
    type         TEXT    NOT NULL,
    effective_at BIGINT  NOT NULL,
    entered_at   BIGINT  NOT NULL,
    person_code  TEXT    NOT NULL REFERENCES people (code),
    request_key  TEXT    NOT NULL,
    request      TEXT    NOT NULL,  -- SHA-256 of what was asked for
    lot_id       BIGINT  REFERENCES lots (id),
    to_code      TEXT    REFERENCES places (code),
    job_code     TEXT    REFERENCES jobs (code),
    holder_code  TEXT    REFERENCES people (code),
    net_g        BIGINT,
    tare_g       BIGINT,
    opened_at    BIGINT,            -- of a correction; 0 is "still sealed"
    reason       TEXT    NOT NULL,
    corrects     BIGINT  NOT NULL,  -- 0 if it corrects nothing
    verdict      TEXT    NOT NULL,
    checked      TEXT    NOT NULL,
    prev_hash    TEXT    NOT NULL,
    hash         TEXT    NOT NULL,
    UNIQUE (spool_code, version),
    UNIQUE (request_key, spool_code, type)
);

CREATE TABLE alerts (
    id         BIGINT NOT NULL PRIMARY KEY,
    kind       TEXT   NOT NULL,
    subject    TEXT   NOT NULL,
    text       TEXT   NOT NULL,
    raised_at  BIGINT NOT NULL,
    cleared_at BIGINT
);
CREATE UNIQUE INDEX alerts_standing ON alerts (kind, subject) WHERE cleared_at IS NULL;

CREATE TABLE leases (
    name        TEXT   NOT NULL PRIMARY KEY,
    held_until  BIGINT NOT NULL
);

-- +goose Down
DROP TABLE leases;
DROP TABLE alerts;
DROP TABLE movements;
DROP TABLE spools;
DROP TABLE jobs;
DROP TABLE procedures;
DROP TABLE lot_decisions;
DROP TABLE lots;
DROP TABLE wire_facts;
DROP TABLE wires;
DROP TABLE feeders;
DROP TABLE places;
DROP TABLE people;
DROP TABLE counters;
