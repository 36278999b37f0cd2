package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"strings"
	"time"

	"wirehold/inventory"
	"wirehold/labels"
)

type labelsCommand struct {
	database
	Codes   []string `arg:"" optional:"" help:"What to label: codes of spools, places, feeders, jobs or people; - reads them from standard input, one a line."`
	Lot     int64    `help:"Label every spool of the lot with this number in the register." placeholder:"ID"`
	Kind    string   `help:"The kind of label: spool, hub, hold or slip of a spool; lot, spool or hub of a lot. The usual one if left out." placeholder:"KIND"`
	Size    string   `help:"The stock: 50x25, 75x50, 100x75 or 100x150 mm; 2x1in, 3x2in, 4x3in or 4x6in." default:"100x75"`
	Format  string   `help:"pdf, png or svg." default:"pdf"`
	DPI     int      `help:"The printer's resolution, 203, 300 or 600: bars are whole dots of it." default:"203" name:"dpi"`
	Sheet   string   `help:"A4 or Letter: as many labels on a sheet as go." placeholder:"PAPER"`
	Columns int      `help:"Labels across the sheet; as many as go if left out."`
	Rows    int      `help:"Labels down the sheet; as many as go if left out."`
	Start   int      `help:"The first free place of the sheet, from 1, row by row."`
	Out     string   `help:"The file to write; - is standard output." default:"-"`
	Base    string   `help:"Where phones reach the program: a QR symbol then holds a link." placeholder:"URL"`
	Zone    string   `help:"The time zone of times on labels." default:"UTC"`
}

// mostLabels is how many labels one run draws.
const mostLabels = 20_000

func (c *labelsCommand) Run(p *program) error {
	order := labels.Order{Size: c.Size, Format: c.Format, DPI: c.DPI, Sheet: c.Sheet, Columns: c.Columns, Rows: c.Rows, Start: c.Start}
	how, format, err := order.Print()
	if err != nil {
		return err
	}
	zone, err := time.LoadLocation(c.Zone)
	if err != nil {
		return fmt.Errorf("--zone %q: there is no such time zone: give one such as Europe/Lisbon", c.Zone)
	}
	s, _, err := c.open(p, p.log(slog.LevelWarn), false)
	if err != nil {
		return err
	}
	defer s.Close()
	shop := labels.Shop{Base: c.Base, Zone: zone}
	all, err := c.wanted(p, shop, s.Catalog(p.ctx))
	if err != nil {
		return err
	}
	press, err := labels.NewPress()
	if err != nil {
		return err
	}
	return c.write(p, func(w io.Writer) error { return press.Draw(w, all, how, format, progress(p.err, len(all), p.now)) })
}

// wanted looks up the labels that are asked for, in the order of the codes.
func (c *labelsCommand) wanted(p *program, shop labels.Shop, cat labels.Catalog) ([]labels.Label, error) {
	if c.Lot != 0 {
		if len(c.Codes) > 0 {
			return nil, errors.New("give codes or --lot, not both")
		}
		kind, err := labels.ParseLotKind(c.Kind)
		if err != nil {
			return nil, err
		}
		return shop.OfLot(cat, kind, c.Lot)
	}
	codes, err := c.codes(os.Stdin)
	if err != nil {
		return nil, err
	}
	out := make([]labels.Label, 0, len(codes))
	for i, text := range codes {
		l, err := c.one(shop, cat, text)
		if err != nil {
			return nil, fmt.Errorf("code %d, %q: %w", i+1, text, err)
		}
		out = append(out, l)
	}
	return out, nil
}

func (c *labelsCommand) one(shop labels.Shop, cat labels.Catalog, text string) (labels.Label, error) {
	code, err := inventory.ParseCode(text)
	if err != nil {
		return labels.Label{}, err
	}
	kind, err := labels.ParseKind(code.Kind(), c.Kind)
	if err != nil {
		return labels.Label{}, err
	}
	return shop.Of(cat, kind, code)
}

// codes returns what is to be labelled; - stands for the lines of in.
func (c *labelsCommand) codes(in io.Reader) ([]string, error) {
	var out []string
	for _, text := range c.Codes {
		if text != "-" {
			out = append(out, text)
			continue
		}
		lines := bufio.NewScanner(in)
		for lines.Scan() {
			if line := strings.TrimSpace(lines.Text()); line != "" {
				out = append(out, line)
			}
			if len(out) > mostLabels {
				return nil, fmt.Errorf("more than %d codes: draw them in several runs", mostLabels)
			}
		}
		if err := lines.Err(); err != nil {
			return nil, fmt.Errorf("read codes: %w", err)
		}
	}
	if len(out) == 0 {
		return nil, errors.New("nothing to label: give codes, - to read them from standard input, or --lot")
	}
	return out, nil
}

// write hands draw the file, which is whole or not there: a drawing that fails
// leaves what was there before.
func (c *labelsCommand) write(p *program, draw func(io.Writer) error) error {
	if c.Out == "-" {
		return draw(p.out)
	}
	partial := c.Out + ".part"
	file, err := os.Create(partial)
	if err != nil {
		return fmt.Errorf("--out %s: %w", c.Out, err)
	}
	err = draw(file)
	if errClose := file.Close(); err == nil {
		err = errClose
	}
	if err == nil {
		err = os.Rename(partial, c.Out)
	}
	if err != nil {
		os.Remove(partial) // what is left of it is of no use; the first error counts
		return fmt.Errorf("--out %s: %w", c.Out, err)
	}
	return nil
}

// longRun is how long a run may take before it says how far it is.
const longRun = 2 * time.Second

// progress says on w how many of all labels are done, in runs that take long:
// every two seconds, on one line.
func progress(w io.Writer, all int, now func() time.Time) func(int) {
	last, told := now(), false
	return func(done int) {
		switch at := now(); {
		case done == all && told:
			fmt.Fprintf(w, "\r%d of %d labels\n", done, all)
		case at.Sub(last) >= longRun && done < all:
			last, told = at, true
			fmt.Fprintf(w, "\r%d of %d labels", done, all)
		}
	}
}
