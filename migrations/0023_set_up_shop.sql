-- +goose Up
-- What the shop says of its own days: one row. Who changed it is in
-- record_changes.
CREATE TABLE shop_settings (
    id              INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
    shift_ends      TEXT    NOT NULL, -- one a line: "Mon-Fri 15:30"
    grace_min       INTEGER NOT NULL, -- after the end of a shift
    quiet           TEXT    NOT NULL, -- "20:00-06:00"; empty is none
    near_before_min INTEGER NOT NULL, -- before a spool runs out of hours
    shelf_before_d  INTEGER NOT NULL, -- before a lot is past its date
    version         INTEGER NOT NULL
);
INSERT INTO shop_settings (id, shift_ends, grace_min, quiet, near_before_min, shelf_before_d, version) VALUES (1, '', 30, '', 240, 30, 1);

-- +goose Down
DROP TABLE shop_settings;
