// Package web holds the templates of the pages and their static files, built
// into the program.
package web

import "embed"

// Files has templates/ (layout.html, partials/, pages/<page>/page.html) and
// static/ (css, js, fonts, img).
//
//go:embed templates static
var Files embed.FS
