-- +goose Up
-- Spools of which the program works out anew, when it next opens, what went
-- into jobs: SQL filled that in (0026, 0034) and knew less than the program of
-- weights that do not count, as of a sealed package, which is full whatever the
-- scale says. Empty from then on.
CREATE TABLE job_uses_due (spool_code TEXT NOT NULL PRIMARY KEY REFERENCES spools (code));
INSERT INTO job_uses_due (spool_code) SELECT DISTINCT spool_code FROM movements WHERE type = 'issued';

-- +goose Down
DROP TABLE job_uses_due;
