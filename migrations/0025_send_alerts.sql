-- +goose Up
-- How alerts reach a person. Whoever is not here has no address, and the kinds
-- of their role.
CREATE TABLE contacts (
    person_code TEXT    NOT NULL PRIMARY KEY REFERENCES people (code),
    email       TEXT    NOT NULL, -- empty is none
    kinds       TEXT    NOT NULL,
    version     INTEGER NOT NULL
);

CREATE TABLE webhooks (
    id         BIGINT  NOT NULL PRIMARY KEY,
    name       TEXT    NOT NULL,
    url        TEXT    NOT NULL,
    secret     TEXT    NOT NULL, -- in the clear: what is posted is signed with it
    kinds      TEXT    NOT NULL,
    retired_at BIGINT,
    version    INTEGER NOT NULL
);

-- The outbox: a row is written in the transaction that raises its alert.
CREATE TABLE messages (
    id            BIGINT  NOT NULL PRIMARY KEY,
    alert_id      BIGINT  NOT NULL REFERENCES alerts (id),
    channel       TEXT    NOT NULL, -- e-mail, webhook
    recipient     TEXT    NOT NULL, -- a person's code, a webhook's id
    message_key   TEXT    NOT NULL UNIQUE,
    urgent        BOOLEAN NOT NULL,
    made_at       BIGINT  NOT NULL,
    due_at        BIGINT  NOT NULL,
    tries         INTEGER NOT NULL,
    claim         TEXT    NOT NULL, -- of whoever it is lent to; empty if to nobody
    claimed_until BIGINT  NOT NULL, -- 0 if it is lent to nobody
    sent_at       BIGINT,
    dead_at       BIGINT,
    fault         TEXT    NOT NULL,
    again_by      TEXT    REFERENCES people (code),
    UNIQUE (alert_id, channel, recipient)
);
CREATE INDEX messages_waiting ON messages (channel, due_at) WHERE sent_at IS NULL AND dead_at IS NULL;

-- +goose Down
DROP TABLE messages;
DROP TABLE webhooks;
DROP TABLE contacts;
