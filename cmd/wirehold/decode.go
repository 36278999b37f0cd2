package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"wirehold/inventory/filler"
	"wirehold/server/api"
)

type decodeCommand struct {
	JSON         bool     `help:"One JSON object a designation." name:"json"`
	Designations []string `arg:"" name:"designation" help:"As the box prints it: a classification (E71T-1C-H8), a gas (M21-ArC-18, '82 Ar 18 CO2'), a size ('.045 in') or a package ('12 in spool'); quote one that has spaces."`
}

func (c *decodeCommand) Run(p *program) error {
	decoded := make([]filler.Typed, len(c.Designations))
	for i, text := range c.Designations {
		d, err := filler.DecodeTyped(text)
		if err != nil {
			return err
		}
		decoded[i] = d
	}
	for _, d := range decoded {
		if err := c.print(p.out, d); err != nil {
			return err
		}
	}
	return nil
}

func (c *decodeCommand) print(out io.Writer, d filler.Typed) error {
	v := api.ViewDecoded(d)
	if c.JSON {
		return json.NewEncoder(out).Encode(v)
	}
	by := v.Kind
	if v.Spec != "" {
		by = "by " + v.Spec
	}
	fmt.Fprintf(out, "%s, %s\n", v.Designation, by)
	for _, note := range v.Notes {
		fmt.Fprintf(out, "  note: %s\n", note)
	}
	if v.Gas != nil {
		printGas(out, *v.Gas)
	}
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	at := 1
	for _, p := range v.Parts {
		fmt.Fprintf(w, "  %d\t%s\t%s\n", at, p.Text, p.Means)
		at += len(p.Text)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	printFacts(w, d.Facts())
	for _, n := range v.NotFixed {
		fmt.Fprintf(w, "  %s\tnot fixed by the class\ttake it from\t%s\n", n.Fact, n.TakeFrom)
	}
	return w.Flush()
}

// printFacts prints a fact a line, for a table.
func printFacts(w io.Writer, facts filler.Facts) {
	for _, f := range facts {
		value := f.Value
		if f.Unit != "" {
			value += " " + f.Unit
		}
		if f.Condition != "" {
			value += " (" + f.Condition + ")"
		}
		fmt.Fprintf(w, "  %s\t%s\tfrom %q\t%s\n", f.Name, value, f.From, f.Authority())
	}
}

// printGas prints what is asked first of a gas.
func printGas(out io.Writer, g api.GasView) {
	for _, line := range []struct{ label, says string }{
		{"in ISO 14175", g.ISO}, {"group", g.Group}, {"bounds", g.Bounds}, {"in the AWS M band", g.InMBand}, {"it may mean as well", strings.Join(g.Alternatives, ", ")},
	} {
		if line.says != "" {
			fmt.Fprintf(out, "  %s: %s\n", line.label, line.says)
		}
	}
}
