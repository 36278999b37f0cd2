package main

import (
	"fmt"
	"log/slog"
)

type verifyCommand struct {
	database
}

func (c *verifyCommand) Run(p *program) error {
	s, ledger, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	v, err := ledger.Verify(p.ctx)
	if err != nil {
		return err
	}
	for _, fault := range v.Faults {
		fmt.Fprintln(p.out, fault)
	}
	if len(v.Faults) > 0 {
		fmt.Fprintf(p.out, "%d faults in %d movements of %d spools.\n", len(v.Faults), v.Movements, v.Spools)
		return errSaid
	}
	fmt.Fprintf(p.out, "%d movements replayed, %d spools, %d lots, %d waivers and %d of the shop's rule profiles compared: the ledger is whole and every spool is the sum of its movements.\n", v.Movements, v.Spools, v.Lots, v.Waivers, v.Profiles)
	fmt.Fprintf(p.out, "Last movement %d, hash %s. Keep this line elsewhere: a ledger that was cut short cannot show it again.\n", v.Movements, v.Head)
	return nil
}
