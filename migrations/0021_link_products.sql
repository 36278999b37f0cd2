-- +goose Up
-- The product numbers (GTIN) that boxes bear, and the wire each stands for; who
-- linked it is a line of the wire's history.
CREATE TABLE wire_products (
    product TEXT   NOT NULL PRIMARY KEY, -- 14 digits
    wire_id BIGINT NOT NULL REFERENCES wires (id)
);
CREATE INDEX wire_products_wire ON wire_products (wire_id);

-- +goose Down
DROP TABLE wire_products;
