-- +goose Up
-- What the contract demands of a lot's papers: empty asks nothing.
ALTER TABLE jobs ADD COLUMN certificate_type TEXT NOT NULL DEFAULT '';
ALTER TABLE jobs ADD COLUMN certificate_schedule TEXT NOT NULL DEFAULT '';
ALTER TABLE jobs ADD COLUMN certificate_lot_class TEXT NOT NULL DEFAULT '';
ALTER TABLE jobs ADD COLUMN origin_clause TEXT NOT NULL DEFAULT '';
ALTER TABLE jobs ADD COLUMN origin_melted TEXT NOT NULL DEFAULT ''; -- countries, one a line
ALTER TABLE jobs ADD COLUMN origin_made TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE jobs DROP COLUMN origin_made;
ALTER TABLE jobs DROP COLUMN origin_melted;
ALTER TABLE jobs DROP COLUMN origin_clause;
ALTER TABLE jobs DROP COLUMN certificate_lot_class;
ALTER TABLE jobs DROP COLUMN certificate_schedule;
ALTER TABLE jobs DROP COLUMN certificate_type;
