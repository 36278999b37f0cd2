package main

import (
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"wirehold/inventory/filler"
	"wirehold/server/api"
)

type decodeCommand struct {
	JSON         bool     `help:"One JSON object a designation." name:"json"`
	Designations []string `arg:"" name:"designation" help:"As the box prints it, such as E71T-1C-H8; quote one that has spaces."`
}

func (c *decodeCommand) Run(p *program) error {
	decoded := make([]filler.Decoded, len(c.Designations))
	for i, text := range c.Designations {
		d, err := filler.Decode(text)
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

func (c *decodeCommand) print(out io.Writer, d filler.Decoded) error {
	if c.JSON {
		return json.NewEncoder(out).Encode(api.ViewDecoded(d))
	}
	fmt.Fprintf(out, "%s, by %s\n", d.Designation, d.Spec)
	for _, note := range d.Notes {
		fmt.Fprintf(out, "  note: %s\n", note)
	}
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, p := range d.Parts {
		fmt.Fprintf(w, "  %d\t%s\t%s\n", p.At+1, p.Text, p.Means)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	for _, f := range d.Facts {
		value := f.Value
		if f.Unit != "" {
			value += " " + f.Unit
		}
		if f.Condition != "" {
			value += " (" + f.Condition + ")"
		}
		fmt.Fprintf(w, "  %s\t%s\tfrom %q\t%s\n", f.Name, value, f.From, f.Authority())
	}
	for _, n := range d.NotFixed {
		fmt.Fprintf(w, "  %s\tnot fixed by the class\ttake it from\t%s\n", n.Fact, n.TakeFrom)
	}
	return w.Flush()
}
