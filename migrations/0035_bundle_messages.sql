-- +goose Up
-- Messages that go out in one e-mail have one bundle, from when they are first
-- lent; it is their name outside the program. One that goes alone has its key.
ALTER TABLE messages ADD COLUMN bundle TEXT NOT NULL DEFAULT '';
-- What was tried before went alone, under its key, and goes on so.
UPDATE messages SET bundle = message_key WHERE tries > 0;
CREATE INDEX messages_waiting_for ON messages (channel, recipient, bundle) WHERE sent_at IS NULL AND dead_at IS NULL;

-- +goose Down
DROP INDEX messages_waiting_for;
ALTER TABLE messages DROP COLUMN bundle;
