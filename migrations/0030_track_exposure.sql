-- +goose Up
-- What happened to a spool's exposure, in the form of exposure.Track. Empty
-- until the program has made it from the movements, when it next opens.
ALTER TABLE spools ADD COLUMN track TEXT NOT NULL DEFAULT '';
CREATE INDEX spools_untracked ON spools (code) WHERE track = '';

-- How a spool was dried, or as a correction sets a drying right; all NULL of
-- any other movement.
ALTER TABLE movements ADD COLUMN dried_from BIGINT;
ALTER TABLE movements ADD COLUMN dried_until BIGINT;
ALTER TABLE movements ADD COLUMN oven_code TEXT REFERENCES places (code);
ALTER TABLE movements ADD COLUMN dried_mdegc BIGINT;  -- thousandths of a degree Celsius
ALTER TABLE movements ADD COLUMN dried_held_s BIGINT; -- how long the oven held that
ALTER TABLE movements ADD COLUMN dried_takes_s BIGINT; -- off the exposure; -1 is all
ALTER TABLE movements ADD COLUMN drying_rule TEXT;
ALTER TABLE movements ADD COLUMN undone BOOLEAN NOT NULL DEFAULT FALSE;

-- When a place was dry-kept by the shop's word: from_at 0 is since ever, to_at
-- NULL is until now.
CREATE TABLE dry_keeping (
    place_code TEXT   NOT NULL REFERENCES places (code),
    from_at    BIGINT NOT NULL,
    to_at      BIGINT,
    PRIMARY KEY (place_code, from_at)
);

-- Each time that dry-kept was ticked, up to the next time it was unticked. Who
-- entered a place as dry-kept ticked it for all time before.
INSERT INTO dry_keeping (place_code, from_at, to_at)
SELECT t.subject, t.changed_at, (
    SELECT MIN(u.changed_at) FROM record_changes u
    WHERE u.kind = 'place' AND u.subject = t.subject AND u.version > t.version AND u.what LIKE '%dry-kept: no, before yes%')
FROM record_changes t
WHERE t.kind = 'place' AND t.what LIKE '%dry-kept: yes, before no%';

INSERT INTO dry_keeping (place_code, from_at, to_at)
SELECT p.code, 0, (
    SELECT MIN(u.changed_at) FROM record_changes u
    WHERE u.kind = 'place' AND u.subject = p.code AND u.what LIKE '%dry-kept: no, before yes%')
FROM places p
WHERE COALESCE((
    SELECT CASE WHEN c.what LIKE '%dry-kept: no, before yes%' THEN 1 ELSE 0 END FROM record_changes c
    WHERE c.kind = 'place' AND c.subject = p.code AND (c.what LIKE '%dry-kept: no, before yes%' OR c.what LIKE '%dry-kept: yes, before no%')
    ORDER BY c.version LIMIT 1), CASE WHEN p.dry_kept THEN 1 ELSE 0 END) = 1;

-- Who the program's own movements are by: the hold of a spool that passed its
-- limit. Nobody wears the badge.
INSERT INTO people (code, name, role) VALUES ('PTRACK-2', 'The exposure clock', 'program');

-- +goose Down
DELETE FROM people WHERE code = 'PTRACK-2';
DROP TABLE dry_keeping;
ALTER TABLE movements DROP COLUMN undone;
ALTER TABLE movements DROP COLUMN drying_rule;
ALTER TABLE movements DROP COLUMN dried_takes_s;
ALTER TABLE movements DROP COLUMN dried_held_s;
ALTER TABLE movements DROP COLUMN dried_mdegc;
ALTER TABLE movements DROP COLUMN oven_code;
ALTER TABLE movements DROP COLUMN dried_until;
ALTER TABLE movements DROP COLUMN dried_from;
DROP INDEX spools_untracked;
ALTER TABLE spools DROP COLUMN track;
