-- +goose Up
-- The shop's own rule profiles. Those that come with the program are not here.
CREATE TABLE rule_profiles (
    id          TEXT    NOT NULL PRIMARY KEY,
    name        TEXT    NOT NULL UNIQUE,
    base        TEXT    NOT NULL, -- the profile of the program it was copied from
    waiver_days INTEGER NOT NULL, -- the longest waiver; 0 is the program's own
    version     INTEGER NOT NULL
);

-- The limits of each version: rows are only ever added.
CREATE TABLE profile_limits (
    profile_id   TEXT    NOT NULL REFERENCES rule_profiles (id),
    version      INTEGER NOT NULL,
    line         INTEGER NOT NULL,
    rule         TEXT    NOT NULL,
    parameter    TEXT    NOT NULL,
    value        TEXT    NOT NULL,
    condition    TEXT    NOT NULL,
    action       TEXT    NOT NULL,
    provenance   TEXT    NOT NULL,
    source       TEXT    NOT NULL,
    note         TEXT    NOT NULL,
    confirmed_by TEXT    NOT NULL,
    confirmed_on TEXT    NOT NULL,
    loosened_by  TEXT    NOT NULL,
    loosened_on  TEXT    NOT NULL,
    loosened_why TEXT    NOT NULL,
    PRIMARY KEY (profile_id, version, line)
);

-- Who changed a profile, when and what: rows are only ever added.
CREATE TABLE profile_changes (
    profile_id  TEXT    NOT NULL REFERENCES rule_profiles (id),
    version     INTEGER NOT NULL, -- of the profile, as the change leaves it
    person_code TEXT    NOT NULL REFERENCES people (code),
    changed_at  BIGINT  NOT NULL,
    request_key TEXT    NOT NULL UNIQUE,
    request     TEXT    NOT NULL, -- SHA-256 of what was asked for
    deed        TEXT    NOT NULL, -- copied, edited, confirmed, limit set
    what        TEXT    NOT NULL, -- one change a line
    PRIMARY KEY (profile_id, version)
);

-- +goose Down
DROP TABLE profile_changes;
DROP TABLE profile_limits;
DROP TABLE rule_profiles;
