-- +goose Up
-- The procedures of a job, in order. jobs.procedure_id stays the first of them,
-- for programs that know of one.
CREATE TABLE job_procedures (
    job_code     TEXT    NOT NULL REFERENCES jobs (code),
    line         INTEGER NOT NULL, -- from 1
    procedure_id BIGINT  NOT NULL REFERENCES procedures (id),
    PRIMARY KEY (job_code, line),
    UNIQUE (procedure_id, job_code)
);
INSERT INTO job_procedures (job_code, line, procedure_id) SELECT code, 1, procedure_id FROM jobs;

-- Which of them; NULL, and 0, where it was not kept.
ALTER TABLE movements ADD COLUMN procedure_id BIGINT REFERENCES procedures (id);
ALTER TABLE spools ADD COLUMN procedure_id BIGINT REFERENCES procedures (id);
ALTER TABLE waivers ADD COLUMN procedure_id BIGINT REFERENCES procedures (id);
ALTER TABLE waiver_deeds ADD COLUMN procedure_id BIGINT NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE waiver_deeds DROP COLUMN procedure_id;
ALTER TABLE waivers DROP COLUMN procedure_id;
ALTER TABLE spools DROP COLUMN procedure_id;
ALTER TABLE movements DROP COLUMN procedure_id;
DROP TABLE job_procedures;
