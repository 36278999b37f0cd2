-- +goose Up
-- What the lot's own exposure test found: the hours, and the diffusible hydrogen
-- after them, "120 h, 9 mL/100 g"; empty is not known.
ALTER TABLE lots ADD COLUMN tested_exposure TEXT NOT NULL DEFAULT '';
ALTER TABLE lot_decisions ADD COLUMN tested_exposure TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE lot_decisions DROP COLUMN tested_exposure;
ALTER TABLE lots DROP COLUMN tested_exposure;
