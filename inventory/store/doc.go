// Package store keeps the inventory in a database. It is the only place that
// knows SQL.
//
// GORM reads and writes what is looked up now and then. The path of one spool
// across the counter is SQL prepared by hand ([statements]): there GORM costs
// half the throughput. Both run in the same transaction.
//
// SQLite is opened with a write-ahead log, synchronous=FULL, foreign keys and
// immediate transactions; one connection writes, others read. Built with cgo
// the driver is mattn/go-sqlite3, without it modernc.org/sqlite.
package store
