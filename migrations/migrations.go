// Package migrations holds the versioned SQL of the database, in the order in
// which it is applied. A file is never edited once it has landed.
//
// Instants are whole seconds since 1970-01-01 UTC; NULL is none. Weights are
// whole grams (_g), lengths whole nanometres (_nm), speeds whole millimetres a
// second (_mm_s). Lists are one item a line.
package migrations

import "embed"

// Files are the migrations, named NNNN_what_they_do.sql.
//
//go:embed *.sql
var Files embed.FS
