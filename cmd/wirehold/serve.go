package main

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"time"

	"golang.org/x/sync/errgroup"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/server"
	"wirehold/server/schedule"
)

type serveCommand struct {
	database
	listen
}

// listen is how the pages are reached.
type listen struct {
	Listen string `help:"Address to listen on. There is no sign-in yet: anything but loopback lets whoever reaches it issue wire." default:"127.0.0.1:8080" env:"WIREHOLD_LISTEN"`
	Base   string `help:"Where phones reach the pages, such as https://wire.example; it goes into the labels' QR codes." env:"WIREHOLD_BASE"`
	Zone   string `help:"The shop's time zone." default:"Local" env:"WIREHOLD_ZONE"`
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
	zone, err := time.LoadLocation(l.Zone)
	if err != nil {
		return fmt.Errorf("--zone %q: there is no such time zone: give one such as Europe/Lisbon", l.Zone)
	}
	handler, err := server.New(server.Deps{
		Ledger: ledger, Catalog: func(ctx context.Context) server.Catalog { return s.Catalog(ctx) },
		Healthy: s.Ping, Log: log, Now: p.now, Zone: zone, Base: l.Base, Demo: o.demo,
	})
	if err != nil {
		return err
	}
	listener, err := new(net.ListenConfig).Listen(p.ctx, "tcp", l.Listen)
	if err != nil {
		return fmt.Errorf("--listen %s: %w", l.Listen, err)
	}
	group, ctx := errgroup.WithContext(p.ctx)
	group.Go(func() error { return server.Serve(ctx, listener, handler) })
	group.Go(func() error {
		return schedule.NewRunner(s, log, p.now).Run(ctx, sweeps(ledger, log))
	})
	o.ready(listener.Addr().String())
	return group.Wait()
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
	return []schedule.Job{sweep("exposure sweep", ledger.SweepExposure), sweep("reorder sweep", ledger.SweepReorder)}
}
