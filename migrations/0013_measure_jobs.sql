-- +goose Up
ALTER TABLE jobs ADD COLUMN plates_nm TEXT NOT NULL DEFAULT ''; -- thickness of each side of base_metals; 0 is not stated
ALTER TABLE jobs ADD COLUMN welds TEXT NOT NULL DEFAULT '';     -- one a line, as a drawing would write it

-- +goose Down
ALTER TABLE jobs DROP COLUMN welds;
ALTER TABLE jobs DROP COLUMN plates_nm;
