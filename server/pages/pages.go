package pages

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
	"wirehold/web"
)

// Deps is what the pages are made from.
type Deps struct {
	Ledger  *inventory.Ledger
	Catalog func(context.Context) Catalog
	Log     *slog.Logger
	Now     func() time.Time
	NewKey  func() string  // a request key that was never given out, such as crypto/rand.Text
	Zone    *time.Location // in which times are shown and typed; nil is UTC
	Files   fs.FS          // templates/ and static/; nil is what is built in
	Dev     bool           // read templates again for each page, and let no browser keep a file
	Email   bool           // e-mail is sent: there is a mail server
	Base    string         // where phones reach the program: "https://wire.example"; empty puts plain text into labels
	// Schedule runs the jobs that recur; nil if this program runs none.
	Schedule Schedule
	// Live tells of changes of the board; nil if no page is kept live.
	Live Live
	// AskPrinter asks the printer at an address what it is and does, as of
	// [inventory.Unavailable] if it does not answer; nil if this program prints
	// nothing.
	AskPrinter func(ctx context.Context, address string) (inventory.PrinterAnswer, error)
	Demo       string // shown on top of every page where the data are not real; empty is none
}

// Pages answers with the HTML pages. It is safe for concurrent use.
type Pages struct {
	Deps
	templates *templates
	assets    assets
	drawn     drawn
	press     *labels.Press
}

// New returns pages that are ready. A template that cannot be parsed, or a
// dependency that is missing, is an error.
func New(d Deps) (*Pages, error) {
	if d.Ledger == nil || d.Catalog == nil || d.Log == nil || d.Now == nil || d.NewKey == nil {
		return nil, errors.New("pages: ledger, catalog, log, now and new key must be given")
	}
	if d.Files == nil {
		d.Files = web.Files
	}
	if d.Zone == nil {
		d.Zone = time.UTC
	}
	assets, err := newAssets(d.Files, d.Dev)
	if err != nil {
		return nil, err
	}
	templates, err := newTemplates(d.Files, d.Dev, clock{d.Zone, d.Now}, assets)
	if err != nil {
		return nil, err
	}
	press, err := labels.NewPress()
	if err != nil {
		return nil, err
	}
	return &Pages{Deps: d, templates: templates, assets: assets, press: press}, nil
}
