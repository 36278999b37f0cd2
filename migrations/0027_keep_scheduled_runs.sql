-- +goose Up
-- What the schedule did. A run of a turn has no request key.
CREATE TABLE scheduled_runs (
    id          BIGINT NOT NULL PRIMARY KEY,
    job         TEXT   NOT NULL,
    turn_at     BIGINT NOT NULL, -- when it was due, or asked for
    cause       TEXT   NOT NULL,
    person_code TEXT   REFERENCES people (code), -- who asked for it; NULL if nobody did
    request_key TEXT   UNIQUE,
    started_at  BIGINT NOT NULL,
    held_until  BIGINT NOT NULL, -- after which it counts as lost
    ended_at    BIGINT,          -- NULL while it is under way
    result      TEXT   NOT NULL, -- empty while it is under way
    says        TEXT   NOT NULL
);
-- One run a turn, and one at a time, however many replicas there are.
CREATE UNIQUE INDEX scheduled_runs_turn ON scheduled_runs (job, turn_at) WHERE request_key IS NULL;
CREATE UNIQUE INDEX scheduled_runs_under_way ON scheduled_runs (job) WHERE ended_at IS NULL;
CREATE INDEX scheduled_runs_by_start ON scheduled_runs (job, started_at);

-- +goose Down
DROP TABLE scheduled_runs;
