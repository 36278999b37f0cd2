//go:build !cgo

package store_test

const driver = "sqlite"

// bareDSN opens path with the settings of the store's writer.
func bareDSN(path string) string {
	return "file:" + path + "?_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_pragma=busy_timeout(5000)&_txlock=immediate"
}
