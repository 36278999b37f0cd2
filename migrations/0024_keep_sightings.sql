-- +goose Up
-- Who saw an alert, and when.
CREATE TABLE alert_sightings (
    alert_id    BIGINT NOT NULL REFERENCES alerts (id),
    person_code TEXT   NOT NULL REFERENCES people (code),
    seen_at     BIGINT NOT NULL,
    PRIMARY KEY (alert_id, person_code)
);
CREATE INDEX alerts_cleared ON alerts (cleared_at, id);

-- +goose Down
DROP INDEX alerts_cleared;
DROP TABLE alert_sightings;
