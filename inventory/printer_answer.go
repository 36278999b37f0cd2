package inventory

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// PrinterAnswer is what a printer says of itself when it is asked (RFC 8011
// section 5.4).
type PrinterAnswer struct {
	Name        string
	Model       string
	State       string   // "idle", "processing", "stopped"; empty if it does not say
	Reasons     []string // why, in the words of the protocol: "media-empty"; nil if all is well
	Accepting   bool     // jobs
	Formats     []string // media types of documents
	Resolutions []int    // dots an inch, least first; nil if it does not say
	Media       []string // names of sizes
	Jobs        []PrinterJob
}

// PrinterJob is a job that the printer has and is not done with, whoever sent it.
type PrinterJob struct {
	Number int // the printer's own
	Name   string
	State  string
}

// Doubts says what in the answer does not go with the printer as it is entered,
// and what keeps it from printing; nil if nothing does.
func (a PrinterAnswer) Doubts(p Printer) []string {
	var out []string
	doubt := func(wrong bool, format string, args ...any) {
		if wrong {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	doubt(a.State == "stopped", "It has stopped. Look at the printer: paper, cover, ribbon.")
	doubt(!a.Accepting, "It accepts no jobs now.")
	doubt(len(a.Resolutions) == 0, "It does not say at how many dots an inch it prints: compare %d dpi with its rating plate.", p.DPI)
	doubt(len(a.Resolutions) > 0 && !slices.Contains(a.Resolutions, p.DPI),
		"It prints at %s dpi, and %d dpi is entered: bars would not be whole dots of it. Edit the printer.", wholeNumbers(a.Resolutions), p.DPI)
	doubt(len(a.Formats) > 0 && !slices.Contains(a.Formats, p.mediaType()), "It takes no %s, and is sent that: edit the printer.", strings.ToUpper(p.Format))
	return out
}

// mediaType is the media type of the documents that the printer is sent (IANA).
func (p Printer) mediaType() string {
	return map[string]string{"pdf": "application/pdf", "png": "image/png"}[p.Format]
}

func wholeNumbers(all []int) string {
	words := make([]string, len(all))
	for i, n := range all {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}
