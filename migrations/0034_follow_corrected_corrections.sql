-- +goose Up
-- 0026 filled in what went into jobs and followed a correction to the movement
-- that it sets right, and not a correction of a correction. What is kept of the
-- spools that have one is worked out anew. It says what the ledger writes, so
-- that nothing changes where the spool was touched since.
CREATE TABLE corrected_roots (
    seq  BIGINT NOT NULL PRIMARY KEY, -- a correction
    root BIGINT NOT NULL              -- what it sets right in the end
);
INSERT INTO corrected_roots (seq, root)
WITH RECURSIVE roots (seq, root) AS (
    SELECT c.seq, c.corrects FROM movements c JOIN movements m ON m.seq = c.corrects WHERE c.type = 'corrected' AND m.type <> 'corrected'
    UNION ALL
    SELECT c.seq, r.root FROM movements c JOIN roots r ON r.seq = c.corrects WHERE c.type = 'corrected'
)
SELECT seq, root FROM roots;

CREATE TABLE corrected_twice (spool_code TEXT NOT NULL PRIMARY KEY);
INSERT INTO corrected_twice (spool_code)
SELECT DISTINCT c.spool_code FROM movements c JOIN movements m ON m.seq = c.corrects
WHERE c.type = 'corrected' AND m.type = 'corrected' AND c.net_g IS NOT NULL;

DELETE FROM job_uses WHERE spool_code IN (SELECT spool_code FROM corrected_twice);

INSERT INTO job_uses (job_code, spool_code, wire_id, used_g, laid, scrapped_g)
WITH parts AS (
    SELECT seq, spool_code, version, type, job_code, net_g, corrects,
           SUM(CASE WHEN type = 'corrected' AND net_g IS NOT NULL THEN 1 ELSE 0 END) OVER (PARTITION BY spool_code ORDER BY version) AS part,
           SUM(CASE WHEN type = 'issued' THEN 1 ELSE 0 END) OVER (PARTITION BY spool_code ORDER BY version) AS outing
    FROM movements WHERE spool_code IN (SELECT spool_code FROM corrected_twice)
), weights AS (
    SELECT p.*, MIN(net_g) OVER (PARTITION BY spool_code, part ORDER BY version) AS left_g FROM parts p
), issues AS (
    SELECT w.*, (SELECT MAX(n.seq) FROM movements n WHERE n.spool_code = w.spool_code AND n.version <= w.version AND n.net_g IS NOT NULL AND n.type <> 'corrected') AS weighed
    FROM weights w WHERE w.type = 'issued'
), trips AS (
    SELECT i.spool_code, i.job_code, l.wire_id, e.type AS ended, e.left_g AS end_g,
           COALESCE((SELECT c.net_g FROM movements c JOIN corrected_roots r ON r.seq = c.seq WHERE r.root = i.weighed AND c.spool_code = i.spool_code AND c.net_g IS NOT NULL ORDER BY c.seq DESC LIMIT 1), i.left_g) AS from_g,
           (SELECT c.net_g FROM movements c JOIN corrected_roots r ON r.seq = c.seq WHERE r.root = e.seq AND c.spool_code = i.spool_code AND c.net_g IS NOT NULL ORDER BY c.seq DESC LIMIT 1) AS set_g,
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

DROP TABLE corrected_twice;
DROP TABLE corrected_roots;

-- +goose Down
-- What is kept is right for the program before, too.
SELECT 1;
