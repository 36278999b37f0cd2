package main

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wirehold/inventory"
	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
	"wirehold/inventory/unit"
)

// demoFiles is the invented yard: its wires, people, places, procedures and
// jobs. Nobody and nothing in it is real.
//
//go:embed demo/*.csv
var demoFiles embed.FS

// cells is one line of a demo table, by column. The first cell that makes no
// sense is kept in err, so that a table is read without a test at every cell.
type cells struct {
	byName map[string]string
	err    error
}

func (c *cells) text(name string) string {
	v, ok := c.byName[name]
	if !ok && c.err == nil {
		c.err = fmt.Errorf("no column %q", name)
	}
	return v
}

func (c *cells) list(name string) []string {
	if v := c.text(name); v != "" {
		return strings.Split(v, ";")
	}
	return nil
}

func (c *cells) yes(name string) bool { return c.text(name) == "yes" }

// parse reads a cell; an empty one is the zero value.
func parse[T any](c *cells, name string, read func(string) (T, error)) (v T) {
	return parseText(c, c.text(name), read)
}

func parseText[T any](c *cells, text string, read func(string) (T, error)) (v T) {
	if text == "" {
		return v
	}
	v, err := read(text)
	if err != nil && c.err == nil {
		c.err = err
	}
	return v
}

func parseList[T any](c *cells, name string, read func(string) (T, error)) (out []T) {
	for _, text := range c.list(name) {
		out = append(out, parseText(c, text, read))
	}
	return out
}

func words[T ~string](texts []string) (out []T) {
	for _, t := range texts {
		out = append(out, T(t))
	}
	return out
}

func (c *cells) gas(name string) *fit.Gas {
	if c.text(name) == "" {
		return nil
	}
	g := parse(c, name, fit.ParseGas)
	return &g
}

// table reads demo/NAME.csv, each line with read.
func table[T any](name string, read func(*cells) T) ([]T, error) {
	file, err := demoFiles.Open("demo/" + name + ".csv")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s.csv: %w", name, err)
	}
	var out []T
	for i, record := range records[1:] {
		c := &cells{byName: map[string]string{}}
		for j, column := range records[0] {
			c.byName[column] = record[j]
		}
		out = append(out, read(c))
		if c.err != nil {
			return nil, fmt.Errorf("%s.csv line %d: %w", name, i+2, c.err)
		}
	}
	return out, nil
}

func readPerson(c *cells) inventory.Person {
	return inventory.Person{Name: c.text("name"), Role: inventory.Role(c.text("role"))}
}

func readPlace(c *cells) inventory.Place {
	return inventory.Place{Name: c.text("name"), Kind: inventory.PlaceKind(c.text("kind")), DryKept: c.yes("dry_kept")}
}

func readFeeder(c *cells) inventory.Feeder {
	return inventory.Feeder{Place: inventory.Place{Name: c.text("name")}, Polarities: words[fit.Polarity](c.list("polarities")),
		Gas: c.gas("gas"), Diameters: parseList(c, "diameters", unit.ParseLength)}
}

func readWire(c *cells) inventory.Wire {
	w := inventory.Wire{Maker: c.text("maker"), TradeName: c.text("trade_name"), Classifications: c.list("classifications"),
		Diameter: parse(c, "diameter", unit.ParseLength), Marked: c.text("marked"), Package: c.text("package"),
		Net: parse(c, "net", unit.ParseGrams), Tare: parse(c, "tare", unit.ParseGrams), Minimum: parse(c, "minimum", unit.ParseGrams)}
	for _, text := range c.list("facts") {
		w.Supplied = append(w.Supplied, readFact(text, w.TradeName))
	}
	return w
}

// readFact reads "max_thickness=8 mm". A unit is what follows a lone number.
func readFact(text, wire string) filler.Fact {
	name, value, _ := strings.Cut(text, "=")
	f := filler.Fact{Name: name, Value: value, Provenance: filler.DataSheet, Source: "invented sheet of " + wire}
	if number, unit, ok := strings.Cut(value, " "); ok && strings.Trim(number, "0123456789.-") == "" && !strings.Contains(unit, " ") {
		f.Value, f.Unit = number, unit
	}
	return f
}

func readProcedure(c *cells) inventory.Procedure {
	return inventory.Procedure{Number: c.text("number"), Revision: c.text("revision"), Title: c.text("title"),
		Processes: words[fit.Process](c.list("processes")), Classifications: c.list("classifications"),
		Diameters: parseList(c, "diameters", unit.ParseLength), Polarity: fit.Polarity(c.text("polarity")), Gas: c.gas("gas"),
		Passes: fit.Passes(c.text("passes")), Positions: words[fit.Position](c.list("positions")),
		Tensile: parse(c, "tensile", unit.ParseStress), Toughness: parse(c, "toughness", unit.ParseToughness),
		Hydrogen: parse(c, "hydrogen", strconv.Atoi), Prequalified: c.yes("prequalified"),
		Qualified: fit.Qualified{Least: parse(c, "thickness_least", unit.ParseLength), Most: parse(c, "thickness_most", unit.ParseLength), Metals: parseList(c, "base_metals", inventory.ParseMetal)}}
}

// demoJob is a job with the numbers of its procedures.
type demoJob struct {
	inventory.Job
	procedures []string
}

func readJob(c *cells) demoJob {
	j := demoJob{procedures: c.list("procedure")}
	j.Number, j.Name, j.ProfileID = c.text("number"), c.text("name"), c.text("profile")
	for _, text := range c.list("base_metals") {
		name, family, _ := strings.Cut(text, "=")
		j.BaseMetals = append(j.BaseMetals, fit.BaseMetal{Name: name, Family: family})
	}
	j.Thickness, j.Wind = parse(c, "thickness", unit.ParseLength), parse(c, "wind", unit.ParseSpeed)
	j.Site, j.WindKnown = inventory.Site(c.text("site")), c.text("wind") != ""
	if j.Thickness != 0 {
		j.Plates = slices.Repeat([]unit.Length{j.Thickness}, len(j.BaseMetals))
	}
	j.Joint, j.Sheltered, j.Closed = c.text("joint"), c.yes("sheltered"), c.yes("closed")
	return j
}
