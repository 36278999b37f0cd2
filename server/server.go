// Package server puts the pages and the API behind one HTTP server.
package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"maps"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/server/api"
	"wirehold/server/live"
	"wirehold/server/pages"
	"wirehold/server/schedule"
)

// Deps is what the server is made from.
type Deps struct {
	Ledger  *inventory.Ledger
	Catalog func(context.Context) Catalog
	Healthy func(context.Context) error // nil if the database answers
	// Schedule runs the jobs; nil if this program runs none.
	Schedule *schedule.Runner
	// Live keeps open pages up to date; nil if none is.
	Live  *live.Hub
	Log   *slog.Logger
	Now   func() time.Time
	Zone  *time.Location
	Base  string        // where phones reach the program; empty puts plain text on labels
	Demo  string        // shown on every page where the data are not real
	NewID func() string // a word that was never given out: of a request, or of its key
	Hosts []string      // the names it answers to; empty is every name
	Files fs.FS         // of the pages; nil is what is built in
	Email bool          // e-mail is sent
	// AskPrinter asks a printer what it is and does; nil if nothing is printed.
	AskPrinter func(ctx context.Context, address string) (inventory.PrinterAnswer, error)
	Dev        bool // read Files again for each page
}

// Catalog is what pages and API look up.
type Catalog interface {
	pages.Catalog
	api.Catalog
}

// New returns the whole site as a handler.
func New(d Deps) (http.Handler, error) {
	r, err := engine(d)
	if err != nil {
		return nil, err
	}
	return http.NewCrossOriginProtection().Handler(r), nil
}

// Route is an address that the site answers: "POST", "/spools/:code/:deed".
type Route struct{ Method, Path string }

// Routes returns every address that the site of [New] answers, pages and API.
func Routes(d Deps) ([]Route, error) {
	r, err := engine(d)
	if err != nil {
		return nil, err
	}
	var out []Route
	for _, i := range r.Routes() {
		out = append(out, Route{i.Method, i.Path})
	}
	return out, nil
}

func engine(d Deps) (*gin.Engine, error) {
	gin.SetMode(gin.ReleaseMode)
	r := gin.New()
	r.HandleMethodNotAllowed = true
	if err := r.SetTrustedProxies(nil); err != nil {
		return nil, err
	}
	larger := pages.LargeBodies()
	maps.Copy(larger, api.LargeBodies())
	r.Use(identify(d.NewID), known(d.Hosts), record(d.Log, d.Now), recoverPanic(d.Log), bounded(larger), tell(d.Live))
	site, err := pages.New(pages.Deps{
		Ledger: d.Ledger, Catalog: func(ctx context.Context) pages.Catalog { return d.Catalog(ctx) },
		Log: d.Log, Now: d.Now, NewKey: d.NewID, Zone: d.Zone, Base: d.Base, Demo: d.Demo, Files: d.Files, Dev: d.Dev, Email: d.Email,
		Schedule: d.schedule(), Live: d.live(), AskPrinter: d.AskPrinter,
	})
	if err != nil {
		return nil, fmt.Errorf("pages: %w", err)
	}
	site.Register(r)
	api.Register(r, api.Deps{
		Ledger: d.Ledger, Catalog: func(ctx context.Context) api.Catalog { return d.Catalog(ctx) }, Now: d.Now,
		Press: site.Press(), Shop: site.LabelShop(), Schedule: d.schedule(), AskPrinter: d.AskPrinter,
		Failed: func(ctx context.Context, err error) {
			d.Log.ErrorContext(ctx, "request_failed", "error", err)
		},
	})
	r.GET("/health", health(d))
	r.GET("/ready", ready(d))
	r.NoRoute(below("/api/", api.NotFound, site.NotFound))
	r.NoMethod(below("/api/", api.NotAllowed, site.NotAllowed))
	return r, nil
}

// scheduler is what pages and API know of the schedule.
type scheduler interface {
	Jobs(context.Context) ([]inventory.ScheduledJob, error)
	RunNow(context.Context, inventory.RunRequest) (inventory.Run, error)
}

// schedule returns the schedule; nil if there is none.
func (d Deps) schedule() scheduler {
	if d.Schedule == nil {
		return nil
	}
	return d.Schedule
}

// live returns the hub as the pages know it; nil if there is none.
func (d Deps) live() pages.Live {
	if d.Live == nil {
		return nil
	}
	return d.Live
}

// below answers addresses below prefix with one handler and the rest with the
// other.
func below(prefix string, inside, outside gin.HandlerFunc) gin.HandlerFunc {
	return func(c *gin.Context) {
		if strings.HasPrefix(c.Request.URL.Path, prefix) {
			inside(c)
			return
		}
		outside(c)
	}
}

// Serve answers on l until ctx ends, then lets the requests under way finish.
func Serve(ctx context.Context, l net.Listener, h http.Handler) error {
	s := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 2 * time.Minute}
	done := make(chan error, 1)
	go func() { done <- s.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := s.Shutdown(grace); err != nil {
		return fmt.Errorf("shut down: %w", err)
	}
	if err := <-done; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
