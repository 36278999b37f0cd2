-- +goose Up
-- 0030 filled in when places were dry-kept and left feeders, which may be too,
-- as they were ticked that day; and until now ticking or unticking one was not
-- kept. Theirs are written anew from their histories.
DELETE FROM dry_keeping WHERE place_code IN (SELECT code FROM feeders);

INSERT INTO dry_keeping (place_code, from_at, to_at)
SELECT t.subject, t.changed_at, (
    SELECT MIN(u.changed_at) FROM record_changes u
    WHERE u.kind = 'feeder' AND u.subject = t.subject AND u.version > t.version AND u.what LIKE '%dry-kept: no, before yes%')
FROM record_changes t
WHERE t.kind = 'feeder' AND t.what LIKE '%dry-kept: yes, before no%';

INSERT INTO dry_keeping (place_code, from_at, to_at)
SELECT p.code, 0, (
    SELECT MIN(u.changed_at) FROM record_changes u
    WHERE u.kind = 'feeder' AND u.subject = p.code AND u.what LIKE '%dry-kept: no, before yes%')
FROM places p JOIN feeders f ON f.code = p.code
WHERE COALESCE((
    SELECT CASE WHEN c.what LIKE '%dry-kept: no, before yes%' THEN 1 ELSE 0 END FROM record_changes c
    WHERE c.kind = 'feeder' AND c.subject = p.code AND (c.what LIKE '%dry-kept: no, before yes%' OR c.what LIKE '%dry-kept: yes, before no%')
    ORDER BY c.version LIMIT 1), CASE WHEN p.dry_kept THEN 1 ELSE 0 END) = 1;

-- +goose Down
-- What is kept is right for the program before, too.
SELECT 1;
