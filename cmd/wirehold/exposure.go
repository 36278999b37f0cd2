package main

import (
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"strconv"
	"time"

	"wirehold/inventory"
	"wirehold/server/api"
)

type exposureCommand struct {
	database
	Spool string  `arg:"" help:"The spool's code." placeholder:"SPOOL"`
	At    instant `help:"The instant, past or to come, such as 2026-03-09T05:00:00Z; left out for now. For one to come nothing moves and the air stays as it is." placeholder:"TIME"`
	JSON  bool    `help:"The clock as one JSON object." name:"json"`
}

// instant is a time with its zone, as it is given to a command.
type instant struct{ time.Time }

// UnmarshalText reads the time; the error is for who typed it.
func (i *instant) UnmarshalText(text []byte) (err error) {
	if i.Time, err = time.Parse(time.RFC3339, string(text)); err != nil {
		return fmt.Errorf("%q is no instant: give date, time and zone, such as 2026-03-09T05:00:00Z or 2026-03-09T07:00:00+02:00", text)
	}
	return nil
}

func (c *exposureCommand) Run(p *program) error {
	s, ledger, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	spool, err := inventory.ParseCodeOf(inventory.SpoolCode, c.Spool)
	if err != nil {
		return err
	}
	e, err := ledger.Exposure(p.ctx, spool, c.At.Time)
	if err != nil {
		return err
	}
	if c.JSON {
		return json.NewEncoder(p.out).Encode(api.ViewExposure(e))
	}
	printExposure(p.out, e)
	return nil
}

func printExposure(out io.Writer, e inventory.Exposure) {
	exposed := inventory.HoursText(e.Exposed)
	if e.Unknown {
		exposed = "not known: the package was damaged while it was sealed"
	}
	fmt.Fprintf(out, "spool %s, %s, at %s\nexposed     %s (%s", e.Spool.Code, e.Spool.TradeName, stampSeconds(e.At), exposed, api.ExposureState(e))
	if e.Dryings > 0 {
		fmt.Fprintf(out, "; dried %d times", e.Dryings)
	}
	fmt.Fprintln(out, ")")
	for _, l := range e.Limits {
		left, runsOut := inventory.HoursText(l.Left), "does not run out while nothing moves"
		if e.Unknown {
			left, runsOut = "not known", "not known"
		}
		if !l.RunsOut.IsZero() {
			runsOut = "runs out " + stampSeconds(l.RunsOut)
		}
		fmt.Fprintf(out, "%-11s %s, left %s, %s [%s: %s]\n", l.Outcome, inventory.HoursText(l.After), left, runsOut, l.Demanded.Provenance, l.Demanded.Source)
	}
	if len(e.Limits) == 0 {
		fmt.Fprintf(out, "limit       nobody gives one (%s)\n", e.Profile)
	}
	for _, in := range e.Intervals {
		counts := "does not count"
		if in.Counts {
			counts = "counts"
		}
		fmt.Fprintf(out, "%s  %s  %-14s %-10s %s (movement %s to %s)\n", stampSeconds(in.From), stampSeconds(in.To), counts, inventory.HoursText(in.To.Sub(in.From)), in.Why, movementOrAir(in.Began), movementOrAir(in.Ended))
	}
	fmt.Fprintln(out, "An aid: local codes, the contract and qualified people decide.")
}

func movementOrAir(seq int64) string {
	if seq == 0 {
		return "-"
	}
	return strconv.FormatInt(seq, 10)
}

func stampSeconds(t time.Time) string { return t.UTC().Format("2006-01-02 15:04:05Z") }
