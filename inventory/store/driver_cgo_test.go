//go:build cgo

package store_test

const driver = "sqlite3"

// bareDSN opens path with the settings of the store's writer.
func bareDSN(path string) string {
	return "file:" + path + "?_journal_mode=WAL&_synchronous=FULL&_foreign_keys=on&_busy_timeout=5000&_txlock=immediate"
}
