package main

import (
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"

	"wirehold/inventory"
	"wirehold/inventory/spreadsheet"
	"wirehold/labels"
)

type importCommand struct {
	database
	DryRun bool   `help:"Check the table, say what would be entered, and enter nothing."`
	Person string `required:"" help:"The badge code of whoever enters the wires: welding engineer, buyer or owner." placeholder:"CODE"`
	File   string `arg:"" help:"The table of wires: CSV in UTF-8, or XLSX." type:"path"`
}

// longTable is from how many rows on the command says how far it is.
const longTable = 500

func (c *importCommand) Run(p *program) error {
	person, err := labels.ReadCode(inventory.PersonCode, c.Person)
	if err != nil {
		return fmt.Errorf("--person: %w", err)
	}
	content, err := readTable(c.File)
	if err != nil {
		return err
	}
	file, err := spreadsheet.Read(content)
	if err != nil {
		return fmt.Errorf("%s: %s", c.File, detail(err))
	}
	s, ledger, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	say := func(format string, args ...any) {
		if len(file.Rows) >= longTable {
			fmt.Fprintf(p.err, format+"\n", args...)
		}
	}
	say("%d rows read; checking them…", len(file.Rows))
	plan, err := ledger.PlanWires(p.ctx, person, file.Rows)
	if err != nil {
		return err
	}
	in := inventory.WireImport{Person: person, RequestKey: "command " + file.SHA256, File: filepath.Base(c.File), SHA256: file.SHA256, Rows: file.Rows}
	if c.DryRun {
		return c.report(p.out, file, plan)
	}
	say("%d rows checked; entering the wires…", plan.Rows)
	done, again, err := ledger.ImportWires(p.ctx, in)
	switch {
	case inventory.CodeOf(err) == "import-faults":
		return c.report(p.out, file, again)
	case err != nil:
		return err
	case len(again.Lines) == 0:
		fmt.Fprintf(p.out, "%s was imported before, at %s: nothing was changed.\n", in.File, done.At.Format("2006-01-02 15:04 UTC"))
		return nil
	}
	if err := c.report(p.out, file, again); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "%d entered.\n", done.Wires)
	return nil
}

// report prints what the table holds; errSaid if that is faults.
func (c *importCommand) report(out io.Writer, file spreadsheet.File, plan inventory.ImportPlan) error {
	fmt.Fprintf(out, "%s (%s)\n", filepath.Base(c.File), file.Format)
	for _, f := range plan.Faults {
		fmt.Fprintln(out, f)
	}
	if plan.Unlisted > 0 {
		fmt.Fprintf(out, "and %d more faults\n", plan.Unlisted)
	}
	for _, l := range plan.Lines {
		fmt.Fprintf(out, "line %d: %s, %s", l.Line, l.Wire.Name(), l.Wire.Maker)
		if l.Typed != "" {
			fmt.Fprintf(out, " (typed %q)", l.Typed)
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, plan.Summary())
	if plan.FaultCount() > 0 {
		return errSaid
	}
	return nil
}

// readTable reads a file, but no more than may be imported and a byte.
func readTable(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, inventory.MostImportBytes+1))
}

// detail returns what is for a person to read of err.
func detail(err error) string {
	if e, ok := errors.AsType[*inventory.Error](err); ok {
		return e.Detail
	}
	return err.Error()
}
