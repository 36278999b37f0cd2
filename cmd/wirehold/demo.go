package main

import (
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/inventory/store"
)

type demoCommand struct {
	listen
	DB string `help:"Keep the demo's database in this file, which must not be there yet." name:"db"`
}

const demoBanner = "Demo: an invented yard. Nobody, no maker and no job here is real."

func (c *demoCommand) Run(p *program) error {
	path := c.DB
	if path == "" {
		dir, err := os.MkdirTemp("", "wirehold-demo-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		path = filepath.Join(dir, "demo.db")
	} else if _, err := os.Stat(path); err == nil {
		return fmt.Errorf("--db %s: there is a file already: name another, or run serve on it", path)
	}
	log := p.log(slog.LevelWarn)
	fmt.Fprintln(p.out, "Making six months of ledger for an invented yard…")
	y, err := makeDemo(p, path, log)
	if err != nil {
		return fmt.Errorf("make the demo: %w", err)
	}
	s, ledger, err := openAt(p, path, log, p.now)
	if err != nil {
		return err
	}
	defer s.Close()
	try, err := y.things(s.Catalog(p.ctx))
	if err != nil {
		return err
	}
	return c.serve(p, s, ledger, log, site{demo: demoBanner, ready: func(address string) {
		fmt.Fprintf(p.out, "Wirehold is at http://%s/ . Stop it with Ctrl-C.\n\n%s", address, try)
	}})
}

// makeDemo fills the database at path with the yard and its ledger, up to now.
func makeDemo(p *program, path string, log *slog.Logger) (*yard, error) {
	end := p.now().UTC().Truncate(time.Second)
	start := end.AddDate(0, 0, -demoDays+1).Truncate(24 * time.Hour)
	h := &history{start: start, end: end, clock: start}
	s, ledger, err := openAt(p, path, log, h.now)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	h.read = func() inventory.Reader { return s.Read(p.ctx) }
	y, err := enter(p.ctx, ledger)
	if err != nil {
		return nil, err
	}
	if err := work(p.ctx, y, h); err != nil {
		return nil, err
	}
	if err := h.printSome(); err != nil {
		return nil, err
	}
	if err := h.readClimate(); err != nil {
		return nil, fmt.Errorf("climate: %w", err)
	}
	if err := h.lotsWithPapers(); err != nil {
		return nil, err
	}
	if err := h.askWaivers(); err != nil {
		return nil, err
	}
	return y, h.showClocks()
}

// things returns seven things to try, with codes to scan.
func (y *yard) things(c *store.Catalog) (string, error) {
	wrong, err := y.sealed(c, "Cobalt Wren 14")
	if err != nil {
		return "", err
	}
	right, err := y.sealed(c, "Amber Kestrel 71M")
	if err != nil {
		return "", err
	}
	out, err := c.Spools(inventory.Query{State: string(inventory.StateIssued), Limit: 1})
	if err != nil || len(out) == 0 {
		return "", fmt.Errorf("no spool is out: %w", err)
	}
	papered, err := y.sealed(c, "B26-911")
	if err != nil {
		return "", err
	}
	badge, engineer, job := y.withRole(inventory.Attendant)[0], y.withRole(inventory.Engineer)[0], y.jobs[0]
	return fmt.Sprintf(`Seven things to try. On the counter page, type a code and press Enter, as a scanner does:

 1. Badge %s (%s), job %s (%s), spool %s:
    single-pass self-shielded wire for a multi-pass gas-shielded joint. It is refused, and why is on the page.
 2. Now spool %s: it fits. Issue it.
 3. Spool %s is out: scan it at the counter to see who has it, then take it back under Returns.
 4. Box and data sheet of %s disagree on its polarity: none of it is issued. On its page under
    Wires, badge %s (%s) settles it.
 5. Receive a lot of %s: what is known of it from memory alone is asked of the box.
 6. Job %s demands a certificate 3.1, a lot class and an origin. Spool %s has them; a spool of
    lot B26-914 shows what is missing. On a lot's page somebody with a badge records its papers.
 7. Look at the exposure board under Watch. Spool %s stands in a dry cabinet and its clock with it; %s
    was dried. %s came in a torn package: nobody knows its exposure, and no job gets it. On the page
    of %s say that it was dried: that is refused, for its spool is plastic. Under Watch, Climate: the
    door of Dry cabinet 1 stood open one evening, and one of its two loggers is silent.
`, badge.Code, badge.Name, job.Code, job.Name, wrong, right, out[0].Code, disagreeing, engineer.Code, engineer.Name, readFromBox, contractJob, papered, y.clocks.paused, y.clocks.dried, y.clocks.damaged, y.clocks.plastic), nil
}

// sealed returns a sealed spool of the wire that may be used.
func (y *yard) sealed(c *store.Catalog, tradeName string) (inventory.Code, error) {
	spools, err := c.Spools(inventory.Query{Text: tradeName, State: string(inventory.StateSealed), Limit: 200})
	if err != nil {
		return "", err
	}
	for _, s := range spools {
		lot, err := c.Lot(s.LotID)
		if err != nil {
			return "", err
		}
		if lot.Status == fit.LotAccepted {
			return s.Code, nil
		}
	}
	return "", fmt.Errorf("no sealed spool of %s is left", tradeName)
}
