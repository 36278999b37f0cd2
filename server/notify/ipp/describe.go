package ipp

import (
	"context"
	"encoding/binary"
	"fmt"
	"slices"
)

// Description is what a printer says of itself.
type Description struct {
	Name        string
	Model       string
	State       string   // "idle", "processing", "stopped"
	Reasons     []string // why: "media-empty"; nil if all is well
	Accepting   bool
	Formats     []string // media types of documents
	Resolutions []int    // dots an inch, least first; nil if it does not say
	Media       []string // names of sizes
	Versions    []string // of the protocol
}

// Describe asks the printer what it is and can.
func (p *Printer) Describe(ctx context.Context) (Description, error) {
	answer, err := p.ask(ctx, getPrinterAttributes, nil, func(g *group) {
		g.add("requested-attributes", text(keywordValue, "printer-name"), text(keywordValue, "printer-make-and-model"), text(keywordValue, "printer-state"),
			text(keywordValue, "printer-state-reasons"), text(keywordValue, "printer-is-accepting-jobs"), text(keywordValue, "document-format-supported"),
			text(keywordValue, "printer-resolution-supported"), text(keywordValue, "media-supported"), text(keywordValue, "ipp-versions-supported"))
	})
	if err != nil {
		return Description{}, err
	}
	i := slices.IndexFunc(answer.groups, func(g group) bool { return g.tag == printerGroup })
	if i < 0 {
		return Description{}, fmt.Errorf("%w: it says nothing of the printer", errAnswer)
	}
	return describe(answer.groups[i]), nil
}

func describe(g group) Description {
	d := Description{Name: g.text("printer-name"), Model: g.text("printer-make-and-model"), Formats: g.texts("document-format-supported"),
		Media: g.texts("media-supported"), Versions: g.texts("ipp-versions-supported")}
	state, _ := g.number("printer-state") // not there: unknown
	d.State = map[int]string{3: "idle", 4: "processing", 5: "stopped"}[state]
	d.Reasons = slices.DeleteFunc(g.texts("printer-state-reasons"), func(r string) bool { return r == "none" })
	if v := g.first("printer-is-accepting-jobs"); v != nil {
		d.Accepting = len(v.data) == 1 && v.data[0] == 1
	}
	for _, a := range g.attributes {
		if a.name == "printer-resolution-supported" {
			d.Resolutions = resolutions(a.values)
		}
	}
	return d
}

// resolutions returns the dots an inch of each value that is the same both ways:
// two numbers and a unit, 3 for an inch and 4 for a centimetre (RFC 8011 section
// 5.1.16).
func resolutions(values []value) (out []int) {
	for _, v := range values {
		if v.tag != resolutionValue || len(v.data) != 9 {
			continue
		}
		across, along := binary.BigEndian.Uint32(v.data), binary.BigEndian.Uint32(v.data[4:])
		dpi := float64(across)
		if v.data[8] == 4 {
			dpi *= 2.54
		}
		if across == along {
			out = append(out, int(dpi+0.5))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
