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

-- What the ledger says already. The weight left is the least weighed since the
-- last correction; a correction of the weight that a spool went out or came
-- back with sets that right.
INSERT INTO job_uses (job_code, spool_code, wire_id, used_g, laid, scrapped_g)
WITH parts AS (
    SELECT seq, spool_code, version, type, job_code, net_g, corrects,
           SUM(CASE WHEN type = 'corrected' AND net_g IS NOT NULL THEN 1 ELSE 0 END) OVER (PARTITION BY spool_code ORDER BY version) AS part,
           SUM(CASE WHEN type = 'issued' THEN 1 ELSE 0 END) OVER (PARTITION BY spool_code ORDER BY version) AS outing
    FROM movements
), weights AS (
    SELECT p.*, MIN(net_g) OVER (PARTITION BY spool_code, part ORDER BY version) AS left_g FROM parts p
), issues AS (
    SELECT w.*, (SELECT MAX(n.seq) FROM movements n WHERE n.spool_code = w.spool_code AND n.version <= w.version AND n.net_g IS NOT NULL AND n.type <> 'corrected') AS weighed
    FROM weights w WHERE w.type = 'issued'
), trips AS (
    SELECT i.spool_code, i.job_code, l.wire_id, e.type AS ended, e.left_g AS end_g,
           COALESCE((SELECT c.net_g FROM movements c WHERE c.type = 'corrected' AND c.corrects = i.weighed AND c.spool_code = i.spool_code AND c.net_g IS NOT NULL ORDER BY c.seq DESC LIMIT 1), i.left_g) AS from_g,
           (SELECT c.net_g FROM movements c WHERE c.type = 'corrected' AND c.corrects = e.seq AND c.spool_code = i.spool_code AND c.net_g IS NOT NULL ORDER BY c.seq DESC LIMIT 1) AS set_g,
           EXISTS (SELECT 1 FROM movements o WHERE o.spool_code = i.spool_code AND o.type = 'loaded' AND o.version > i.version AND o.version < e.version) AS loaded
    FROM issues i
    JOIN weights e ON e.spool_code = i.spool_code AND e.outing = i.outing AND e.type IN ('returned', 'scrapped')
        AND e.version = (SELECT MIN(f.version) FROM movements f WHERE f.spool_code = i.spool_code AND f.version > i.version AND f.type IN ('returned', 'scrapped'))
    JOIN spools s ON s.code = i.spool_code
    JOIN lots l ON l.id = s.lot_id
)
SELECT job_code, spool_code, wire_id,
       SUM(CASE WHEN from_g > COALESCE(set_g, end_g) THEN from_g - COALESCE(set_g, end_g) ELSE 0 END), TRUE,
       SUM(CASE WHEN ended = 'scrapped' AND set_g IS NULL THEN end_g ELSE 0 END)
FROM trips
WHERE from_g > COALESCE(set_g, end_g) OR loaded OR (ended = 'scrapped' AND set_g IS NULL)
GROUP BY job_code, spool_code, wire_id;

-- +goose Down
ALTER TABLE spools DROP COLUMN touched;
DROP TABLE job_uses;
