-- +goose Up
-- The wire of each spool that went into each job: the sum of its movements, kept
-- for speed and compared by verify.
CREATE TABLE job_uses (
    job_code   TEXT    NOT NULL REFERENCES jobs (code),
    spool_code TEXT    NOT NULL REFERENCES spools (code),
    wire_id    BIGINT  NOT NULL REFERENCES wires (id),
    used_g     BIGINT  NOT NULL, -- lighter by this than it went out
    laid       BOOLEAN NOT NULL,
    scrapped_g BIGINT  NOT NULL, -- on it when it was scrapped while out, unweighed
    PRIMARY KEY (spool_code, job_code)
);
-- All that the check of a job adds up is in the index.
CREATE INDEX job_uses_by_job ON job_uses (job_code, spool_code, wire_id, used_g, laid, scrapped_g);

-- A spool that is out and was loaded or weighed since it was issued.
ALTER TABLE spools ADD COLUMN touched BOOLEAN NOT NULL DEFAULT FALSE;
UPDATE spools SET touched = TRUE WHERE job_code IS NOT NULL AND EXISTS (
    SELECT 1 FROM movements m WHERE m.spool_code = spools.code AND (m.type = 'loaded' OR m.net_g IS NOT NULL)
        AND m.version > (SELECT MAX(i.version) FROM movements i WHERE i.spool_code = spools.code AND i.type = 'issued'));

-- Spools whose uses the program works out from their movements when it next
-- opens. Empty from then on.
CREATE TABLE job_uses_due (spool_code TEXT NOT NULL PRIMARY KEY REFERENCES spools (code));
INSERT INTO job_uses_due (spool_code) SELECT DISTINCT spool_code FROM movements WHERE type = 'issued';

-- +goose Down
ALTER TABLE spools DROP COLUMN touched;
DROP TABLE job_uses_due;
DROP TABLE job_uses;
