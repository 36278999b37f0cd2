//go:build cgo

package main

const sqlDriver = "sqlite3"
