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
	Spool     string `arg:"" help:"The spool's code."`
	Job       string `arg:"" help:"The job's number or code."`
	Procedure string `help:"Which of the job's procedures, where it has several: its number." placeholder:"NUMBER"`
	Feeder    string `help:"The code of the feeder it is for." placeholder:"CODE"`
	Explain   bool   `help:"Every rule, with what is demanded and offered and who says so."`
	JSON      bool   `help:"The check as one JSON object, with every rule." name:"json"`
}

func (c *checkCommand) Run(p *program) error {
	s, ledger, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	check, err := c.check(p, ledger)
	if err != nil {
		return err
	}
	switch {
	case c.JSON:
		return json.NewEncoder(p.out).Encode(api.ViewCheck(check))
	case c.Explain:
		explainCheck(p.out, check)
	default:
		printCheck(p.out, check)
	}
	return nil
}

func (c *checkCommand) check(p *program, ledger *inventory.Ledger) (inventory.Check, error) {
	spool, err := labels.ReadCode(inventory.SpoolCode, c.Spool)
	if err != nil {
		return inventory.Check{}, fmt.Errorf("spool: %w", err)
	}
	job, err := ledger.FindJob(p.ctx, c.Job)
	if err != nil {
		return inventory.Check{}, fmt.Errorf("job: %w", err)
	}
	var feeder inventory.Code
	if c.Feeder != "" {
		if feeder, err = labels.ReadCode(inventory.FeederCode, c.Feeder); err != nil {
			return inventory.Check{}, fmt.Errorf("--feeder: %w", err)
		}
	}
	procedure, err := ledger.FindProcedure(p.ctx, job.Code, c.Procedure)
	if err != nil {
		return inventory.Check{}, fmt.Errorf("--procedure: %w", err)
	}
	check, err := ledger.CheckFitUnder(p.ctx, spool, job.Code, procedure, feeder)
	if inventory.KindOf(err) == inventory.Invalid {
		return check, fmt.Errorf("--procedure: %w", err)
	}
	return check, err
}

const decides = "An aid: local codes, the contract and qualified people decide."

func printAnswer(out io.Writer, c inventory.Check) {
	fmt.Fprintf(out, "%s: spool %s (%s) for job %s, %s, %s\n", strings.ToUpper(string(c.Verdict.Answer)), c.Spool.Code, c.Wire.Name(), c.Job.Number, c.Procedure.Name(), c.Profile.Name)
}

// printCheck writes the verdict with what stops and what is to be looked at.
func printCheck(out io.Writer, c inventory.Check) {
	printAnswer(out, c)
	for _, outcome := range []fit.Outcome{fit.Stops, fit.Caution} {
		for _, f := range c.Verdict.Findings {
			if f.Outcome == outcome {
				fmt.Fprintf(out, "%-8s %-14s %s\n", f.Outcome, f.Rule, f.Says)
			}
		}
	}
	fmt.Fprintln(out, decides)
}

// explainCheck writes every rule with both sides and their sources.
func explainCheck(out io.Writer, c inventory.Check) {
	printAnswer(out, c)
	for _, outcome := range []fit.Outcome{fit.Stops, fit.Caution, fit.Passed, fit.NotDemanded} {
		for _, f := range c.Verdict.Findings {
			if f.Outcome == outcome {
				fmt.Fprintf(out, "%-12s %-14s %s\n", f.Outcome, f.Rule, f.Says)
				fmt.Fprintf(out, "%27s demanded: %s [%s]\n%27s offered:  %s [%s]\n", "", f.Demanded.Text, f.Demanded.Source, "", f.Offered.Text, f.Offered.Source)
			}
		}
	}
	fmt.Fprintln(out, decides)
}
