-- +goose Up
-- Nothing used it: a run of the schedule is a row of scheduled_runs (0027).
DROP TABLE leases;

-- +goose Down
CREATE TABLE leases (
    name        TEXT   NOT NULL PRIMARY KEY,
    held_until  BIGINT NOT NULL
);
