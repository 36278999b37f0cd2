-- +goose Up
-- What certificate and box say of a lot: empty is not known. Days are ISO 8601
-- without a zone, as they are printed: 2026-03-02.
ALTER TABLE lots ADD COLUMN certificate_type TEXT NOT NULL DEFAULT ''; -- EN 10204
ALTER TABLE lots ADD COLUMN certificate_schedule TEXT NOT NULL DEFAULT ''; -- AWS A5.01, F to K
ALTER TABLE lots ADD COLUMN lot_class TEXT NOT NULL DEFAULT ''; -- AWS A5.01
ALTER TABLE lots ADD COLUMN tested_on TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN melted_in TEXT NOT NULL DEFAULT ''; -- a country
ALTER TABLE lots ADD COLUMN made_in TEXT NOT NULL DEFAULT ''; -- a country
ALTER TABLE lots ADD COLUMN made_on TEXT NOT NULL DEFAULT '';
ALTER TABLE lots ADD COLUMN expires_on TEXT NOT NULL DEFAULT ''; -- the last day the box allows
ALTER TABLE lots ADD COLUMN sealing TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN certificate_type TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN certificate_schedule TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN lot_class TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN tested_on TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN melted_in TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN made_in TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN made_on TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN expires_on TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN sealing TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN note TEXT NOT NULL DEFAULT ''; -- why papers on record were corrected
CREATE INDEX lot_decisions_by_lot ON lot_decisions (lot_id, seq);

-- +goose Down
DROP INDEX lot_decisions_by_lot;
ALTER TABLE lot_decisions DROP COLUMN note;
ALTER TABLE lot_decisions DROP COLUMN sealing;
ALTER TABLE lot_decisions DROP COLUMN expires_on;
ALTER TABLE lot_decisions DROP COLUMN made_on;
ALTER TABLE lot_decisions DROP COLUMN made_in;
ALTER TABLE lot_decisions DROP COLUMN melted_in;
ALTER TABLE lot_decisions DROP COLUMN tested_on;
ALTER TABLE lot_decisions DROP COLUMN lot_class;
ALTER TABLE lot_decisions DROP COLUMN certificate_schedule;
ALTER TABLE lot_decisions DROP COLUMN certificate_type;
ALTER TABLE lots DROP COLUMN sealing;
ALTER TABLE lots DROP COLUMN expires_on;
ALTER TABLE lots DROP COLUMN made_on;
ALTER TABLE lots DROP COLUMN made_in;
ALTER TABLE lots DROP COLUMN melted_in;
ALTER TABLE lots DROP COLUMN tested_on;
ALTER TABLE lots DROP COLUMN lot_class;
ALTER TABLE lots DROP COLUMN certificate_schedule;
ALTER TABLE lots DROP COLUMN certificate_type;
