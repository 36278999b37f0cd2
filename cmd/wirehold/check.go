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
	Language  string `help:"The language of the findings: en or es (Spanish)." enum:"en,es" default:"en" placeholder:"LANGUAGE"`
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
	l := fit.Language(c.Language)
	switch {
	case c.JSON:
		return json.NewEncoder(p.out).Encode(api.ViewCheckIn(l, check))
	case c.Explain:
		explainCheck(p.out, l, check)
	default:
		printCheck(p.out, l, check)
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

// printAid writes what a verdict is worth, and what its translation is.
func printAid(out io.Writer, l fit.Language) {
	fmt.Fprintln(out, l.Aid())
	if l != fit.English {
		fmt.Fprintf(out, "%s\n%s\n%s\n", fit.Aid, l.NotReviewed(), fit.NotReviewed)
	}
}

func printAnswer(out io.Writer, l fit.Language, c inventory.Check) {
	fmt.Fprintf(out, "%s: spool %s (%s) for job %s, %s, %s\n", strings.ToUpper(c.Verdict.Answer.In(l)), c.Spool.Code, c.Wire.Name(), c.Job.Number, c.Procedure.Name(), c.Profile.Name)
}

// printCheck writes the verdict with what stops and what is to be looked at.
func printCheck(out io.Writer, l fit.Language, c inventory.Check) {
	printAnswer(out, l, c)
	for _, outcome := range []fit.Outcome{fit.Stops, fit.Caution} {
		for _, f := range c.Verdict.In(l).Findings {
			if f.Outcome == outcome {
				fmt.Fprintf(out, "%-8s %-14s %s\n", f.Outcome.In(l), f.Rule.In(l), f.Says)
			}
		}
	}
	printAid(out, l)
}

// explainCheck writes every rule with both sides and their sources.
func explainCheck(out io.Writer, l fit.Language, c inventory.Check) {
	printAnswer(out, l, c)
	demanded, offered := l.Sides()
	for _, outcome := range []fit.Outcome{fit.Stops, fit.Caution, fit.Passed, fit.NotDemanded} {
		for _, f := range c.Verdict.In(l).Findings {
			if f.Outcome == outcome {
				fmt.Fprintf(out, "%-12s %-14s %s\n", f.Outcome.In(l), f.Rule.In(l), f.Says)
				fmt.Fprintf(out, "%27s %-9s %s [%s]\n%27s %-9s %s [%s]\n", "", demanded+":", f.Demanded.Text, f.Demanded.Source, "", offered+":", f.Offered.Text, f.Offered.Source)
			}
		}
	}
	printAid(out, l)
}
