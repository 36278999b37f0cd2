package main

import (
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"strings"

	"wirehold/inventory"
	"wirehold/inventory/fit"
	"wirehold/labels"
	"wirehold/server/api"
)

type checkCommand struct {
	database
	Spool  string `required:"" help:"The spool's code." placeholder:"CODE"`
	Job    string `required:"" help:"The job's number or code." placeholder:"NUMBER"`
	Feeder string `help:"The code of the feeder it is for." placeholder:"CODE"`
	JSON   bool   `help:"The check as one JSON object." name:"json"`
}

func (c *checkCommand) Run(p *program) error {
	s, ledger, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	spool, err := labels.ReadCode(inventory.SpoolCode, c.Spool)
	if err != nil {
		return fmt.Errorf("--spool: %w", err)
	}
	job, err := ledger.FindJob(p.ctx, c.Job)
	if err != nil {
		return fmt.Errorf("--job: %w", err)
	}
	var feeder inventory.Code
	if c.Feeder != "" {
		if feeder, err = labels.ReadCode(inventory.FeederCode, c.Feeder); err != nil {
			return fmt.Errorf("--feeder: %w", err)
		}
	}
	check, err := ledger.CheckFit(p.ctx, spool, job.Code, feeder)
	if err != nil {
		return err
	}
	if c.JSON {
		return json.NewEncoder(p.out).Encode(api.ViewCheck(check))
	}
	printCheck(p.out, check)
	return nil
}

func printCheck(out io.Writer, c inventory.Check) {
	fmt.Fprintf(out, "%s: spool %s (%s) for job %s, %s, %s\n", strings.ToUpper(string(c.Verdict.Answer)), c.Spool.Code, c.Wire.Name(), c.Job.Number, c.Procedure.Name(), c.Profile.Name)
	for _, outcome := range []fit.Outcome{fit.Stops, fit.Caution, fit.Passed, fit.NotDemanded} {
		for _, f := range c.Verdict.Findings {
			if f.Outcome == outcome {
				fmt.Fprintf(out, "%-12s %-14s %s\n", f.Outcome, f.Rule, f.Says)
				fmt.Fprintf(out, "%27s demanded: %s [%s]\n%27s offered:  %s [%s]\n", "", f.Demanded.Text, f.Demanded.Source, "", f.Offered.Text, f.Offered.Source)
			}
		}
	}
	fmt.Fprintln(out, "An aid: local codes, the contract and qualified people decide.")
}
