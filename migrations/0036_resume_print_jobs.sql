-- +goose Up
-- How many of a print job's labels its printer took: it goes on from there.
ALTER TABLE print_jobs ADD COLUMN taken INTEGER NOT NULL DEFAULT 0;
-- What waits for one printer is printed in order.
DROP INDEX print_jobs_waiting;
CREATE INDEX print_jobs_waiting ON print_jobs (printer_id, id) WHERE sent_at IS NULL AND dead_at IS NULL;

-- +goose Down
DROP INDEX print_jobs_waiting;
CREATE INDEX print_jobs_waiting ON print_jobs (due_at) WHERE sent_at IS NULL AND dead_at IS NULL;
ALTER TABLE print_jobs DROP COLUMN taken;
