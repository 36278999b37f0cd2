-- +goose Up
-- What a dry-kept place has to keep, from an instant on until the next: rows
-- are only ever added. NULL leaves a side open; all three NULL is dry by
-- declaration.
CREATE TABLE climate_limits (
    place_code    TEXT    NOT NULL REFERENCES places (code),
    version       INTEGER NOT NULL, -- of the place, as the change leaves it
    from_at       BIGINT  NOT NULL,
    most_rh_mpct  BIGINT,           -- thousandths of a percent
    lowest_mdegc  BIGINT,           -- thousandths of a degree Celsius
    highest_mdegc BIGINT,
    max_gap_s     BIGINT  NOT NULL,
    provenance    TEXT    NOT NULL,
    source        TEXT    NOT NULL,
    PRIMARY KEY (place_code, version)
);

-- A logger in a place, with the latest it said.
CREATE TABLE climate_loggers (
    id         BIGINT NOT NULL PRIMARY KEY,
    place_code TEXT   NOT NULL REFERENCES places (code),
    name       TEXT   NOT NULL,
    last_at    BIGINT NOT NULL,
    last_mdegc BIGINT NOT NULL,
    last_mpct  BIGINT NOT NULL,
    UNIQUE (place_code, name)
);

-- Who sent readings, when and how: rows are only ever added.
CREATE TABLE climate_batches (
    id          BIGINT NOT NULL PRIMARY KEY,
    person_code TEXT   NOT NULL REFERENCES people (code),
    entered_at  BIGINT NOT NULL,
    way         TEXT   NOT NULL, -- api, file, hand
    file        TEXT   NOT NULL,
    sha256      TEXT   NOT NULL,
    readings    BIGINT NOT NULL
);

-- The readings themselves; old ones are deleted once they are summed up.
CREATE TABLE climate_readings (
    logger_id BIGINT NOT NULL REFERENCES climate_loggers (id),
    at        BIGINT NOT NULL,
    mdegc     BIGINT NOT NULL,
    mpct      BIGINT NOT NULL,
    batch_id  BIGINT NOT NULL,
    PRIMARY KEY (logger_id, at)
);

-- Readings summed up by the hour and the day (length_s): kept for ever.
CREATE TABLE climate_means (
    logger_id     BIGINT NOT NULL REFERENCES climate_loggers (id),
    length_s      BIGINT NOT NULL,
    from_at       BIGINT NOT NULL,
    readings      BIGINT NOT NULL,
    lowest_mdegc  BIGINT NOT NULL,
    highest_mdegc BIGINT NOT NULL,
    sum_mdegc     BIGINT NOT NULL,
    lowest_mpct   BIGINT NOT NULL,
    highest_mpct  BIGINT NOT NULL,
    sum_mpct      BIGINT NOT NULL,
    PRIMARY KEY (logger_id, length_s, from_at)
);

-- When a place was not dry, up to its settled_at: kept for ever.
CREATE TABLE climate_undry (
    place_code TEXT    NOT NULL REFERENCES places (code),
    from_at    BIGINT  NOT NULL,
    to_at      BIGINT  NOT NULL,
    cause      INTEGER NOT NULL, -- 1 too damp + 2 too cold + 4 too warm; 8 no reading
    PRIMARY KEY (place_code, from_at)
);

-- settled_at is the latest reading of a place: up to there climate_undry is
-- whole. taken_from is the earliest instant of which readings are still taken.
CREATE TABLE climate_places (
    place_code TEXT   NOT NULL PRIMARY KEY REFERENCES places (code),
    settled_at BIGINT NOT NULL,
    taken_from BIGINT NOT NULL
);

-- +goose Down
DROP TABLE climate_places;
DROP TABLE climate_undry;
DROP TABLE climate_means;
DROP TABLE climate_readings;
DROP TABLE climate_batches;
DROP TABLE climate_loggers;
DROP TABLE climate_limits;
