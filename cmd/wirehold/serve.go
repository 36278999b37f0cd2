package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/url"
	"os"
	"time"

	"golang.org/x/sync/errgroup"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/labels"
	"wirehold/server"
	"wirehold/server/live"
	"wirehold/server/schedule"
)

type serveCommand struct {
	database
	listen
}

// listen is how the pages are reached.
type listen struct {
	Listen string `help:"Address to listen on. There is no sign-in yet: anything but loopback lets whoever reaches it issue wire." default:"127.0.0.1:8080"`
	Base   string `help:"Where phones reach the pages, such as https://wire.example; it goes into the labels' QR codes."`
	Zone   string `help:"The shop's time zone." default:"Local"`
	delivery
	Dev bool `help:"Read templates and static files from ./web for each page, to work on them."`
}

func (c *serveCommand) Run(p *program) error {
	log := p.log(slog.LevelInfo)
	s, ledger, err := c.open(p, log, true)
	if err != nil {
		return err
	}
	defer s.Close()
	return c.serve(p, s, ledger, log, site{ready: func(address string) {
		fmt.Fprintf(p.out, "Wirehold is at http://%s/ on %s. Stop it with Ctrl-C.\n", address, c.DB)
	}})
}

// site is what differs between a real store and the demo.
type site struct {
	demo  string               // shown on every page
	ready func(address string) // told when the server answers
}

// serve runs the server and the schedule until the program is stopped.
func (l listen) serve(p *program, s *store.Store, ledger *inventory.Ledger, log *slog.Logger, o site) error {
	zone, hosts, err := l.check()
	if err != nil {
		return err
	}
	ledger = ledger.In(zone)
	workers, err := l.workers(p, ledger, log, zone, o.demo != "")
	if err != nil {
		return err
	}
	catalog := func(ctx context.Context) labels.Register { return s.Catalog(ctx) }
	printing, err := newPrinting(p, ledger, catalog, labels.Shop{Base: l.Base, Zone: zone}, log)
	if err != nil {
		return err
	}
	ask := askPrinter
	if o.demo != "" {
		invented := &paperless{}
		printing.Reach, ask = invented.reach(printing.Reach), invented.ask
	}
	deps := server.Deps{
		Ledger: ledger, Catalog: func(ctx context.Context) server.Catalog { return s.Catalog(ctx) },
		Healthy: s.Ping, Log: log, Now: p.now, Zone: zone, Base: l.Base, Demo: o.demo, NewID: rand.Text, Hosts: hosts, Email: l.SMTP != "", AskPrinter: ask,
	}
	if deps.Schedule, err = schedule.NewRunner(ledger, zone, log, p.now, sweeps(ledger, log)); err != nil {
		return err
	}
	deps.Live = newHub(ledger, log)
	if l.Dev {
		deps.Files, deps.Dev = os.DirFS("web"), true
	}
	handler, err := server.New(deps)
	if err != nil {
		return err
	}
	listener, err := new(net.ListenConfig).Listen(p.ctx, "tcp", l.Listen)
	if err != nil {
		return fmt.Errorf("--listen %s: %w", l.Listen, err)
	}
	group, ctx := errgroup.WithContext(p.ctx)
	group.Go(func() error { return server.Serve(ctx, listener, handler) })
	group.Go(func() error { return deps.Schedule.Run(ctx) })
	for _, w := range workers {
		group.Go(func() error { return w.Run(ctx) })
	}
	group.Go(func() error { return deps.Live.Run(ctx) })
	group.Go(func() error { return printing.Run(ctx) })
	if deps.Hosts == nil {
		fmt.Fprintf(p.out, "Careful: there is no sign-in yet, and %s is not loopback. Whoever reaches it can issue wire.\n", l.Listen)
	}
	o.ready(listener.Addr().String())
	return group.Wait()
}

// check returns what the flags say, or every fault of them at once.
func (l listen) check() (zone *time.Location, hosts []string, err error) {
	zone, errZone := time.LoadLocation(l.Zone)
	if errZone != nil {
		errZone = fmt.Errorf("--zone %q: there is no such time zone: give one such as Europe/Lisbon", l.Zone)
	}
	hosts, errHosts := l.hosts()
	_, _, errMail := l.read()
	return zone, hosts, errors.Join(errZone, errHosts, errMail)
}

// newHub returns the hub of the pages that are kept live. It looks every second
// for what another replica did.
func newHub(ledger *inventory.Ledger, log *slog.Logger) *live.Hub {
	const mostLive = 200
	return live.NewHub(ledger.BoardVersion, time.Second, mostLive, log)
}

// hosts returns the names the server answers to: where it listens on loopback,
// the names of loopback and of --base; else every name, with a warning.
func (l listen) hosts() ([]string, error) {
	host, _, err := net.SplitHostPort(l.Listen)
	if err != nil {
		return nil, fmt.Errorf("--listen %s: give an address and a port, such as 127.0.0.1:8080", l.Listen)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, nil
	}
	names := []string{"localhost", "127.0.0.1", "::1", host}
	if l.Base != "" {
		base, err := url.Parse(l.Base)
		if err != nil || base.Hostname() == "" {
			return nil, fmt.Errorf("--base %s: give a whole address, such as https://wire.example", l.Base)
		}
		names = append(names, base.Hostname())
	}
	return names, nil
}

// sweeps are the jobs that raise and clear alerts.
func sweeps(ledger *inventory.Ledger, log *slog.Logger) []schedule.Job {
	sweep := func(name string, do func(context.Context, time.Time) (int, int, error)) schedule.Job {
		return schedule.Job{Name: name, Spec: "*/5 * * * *", Timeout: 2 * time.Minute, Do: func(ctx context.Context, at time.Time) error {
			raised, cleared, err := do(ctx, at)
			log.Info("swept", "job", name, "raised", raised, "cleared", cleared)
			return err
		}}
	}
	return []schedule.Job{sweep("exposure sweep", ledger.SweepExposure), sweep("climate sweep", ledger.SweepClimate), dropReadings(ledger, log), sweep("return sweep", ledger.SweepReturns), sweep("lot sweep", ledger.SweepLots), sweep("reorder sweep", ledger.SweepReorder), sweep("waiver summary", ledger.SummariseWaivers)}
}
