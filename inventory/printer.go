package inventory

import (
	"context"
	"net/url"
	"slices"
	"strconv"
	"time"
)

// Printer is a label printer that is reached by the Internet Printing Protocol.
type Printer struct {
	ID        int64
	Name      string
	Address   string // "ipp://printer.example/ipp/print"
	DPI       int    // dots an inch: 203, 300 or 600
	Size      string // of the labels that are in it: "100x75"
	Format    string // of the documents that it is sent: "pdf" or "png"
	RetiredAt time.Time
	Version   int // counts the changes, from 1
}

// Retired reports whether nothing is printed on it any more.
func (p Printer) Retired() bool { return !p.RetiredAt.IsZero() }

// PrinterReader looks up printers and what was printed.
type PrinterReader interface {
	// Printer returns one printer, retired or not.
	Printer(id int64) (Printer, error)
	// Printers returns them all by name, those that are retired last.
	Printers() ([]Printer, error)
	PrintJob(id int64) (PrintJob, error)
	// PrintJobs returns up to limit print jobs, the latest first.
	PrintJobs(limit int) ([]PrintJob, error)
	// LastPrints returns the last label of the kind that was asked for of each
	// of the things; of one without there is none.
	LastPrints(kind string, of []string) (map[string]PrintedLabel, error)
	// PrintDue reports whether ClaimPrint would lend a job at the instant at.
	PrintDue(at time.Time) (bool, error)
}

// PrinterTx changes printers and queues what is to be printed.
type PrinterTx interface {
	AddPrinter(Printer) (id int64, err error)
	UpdatePrinter(Printer) error
	// PrintRequested returns the print job made by the request key; [NotFound]
	// if it is new.
	PrintRequested(key string) (PrintJob, error)
	AddPrintJob(PrintJob) (id int64, err error)
	// ClaimPrint lends a print job to the holder of the claim until an instant,
	// and counts the try; [NotFound] if none is due. What waits for one printer
	// is printed in the order in which it was asked for: only the first of it is
	// lent, when it is due, and nothing else while that is lent or waits for its
	// next try. So one printer never gets two jobs at once, from however many
	// replicas.
	ClaimPrint(claim string, at, until time.Time) (PrintJob, error)
	// AdvancePrint writes how many labels of a print job that is lent the printer
	// took so far, begins to count its tries anew, and lends it until a later
	// instant; [Conflict] if somebody else has it by now.
	AdvancePrint(id int64, claim string, taken int, until time.Time) error
	// SettlePrint writes how a try went and ends the claim; [Conflict] if
	// somebody else has it by now.
	SettlePrint(j PrintJob, claim string) error
	// DelayPrints counts a try in vain of the print job for all that waits behind
	// it, and says why.
	DelayPrints(behind PrintJob, fault string) error
	// HurryPrints makes what waits for a printer and is not lent due at the
	// instant at, and takes back the count of one try.
	HurryPrints(printer int64, at time.Time) error
	// RetryPrint makes a print job that was given up due again; [Conflict] if it
	// was not given up.
	RetryPrint(id int64, by Code, at time.Time) (PrintJob, error)
}

// PrinterEntry is a printer as somebody enters or edits it.
type PrinterEntry struct {
	Edit
	Of Printer
}

// EnterPrinter enters a printer. The welding engineer or the owner may.
func (l *Ledger) EnterPrinter(ctx context.Context, e PrinterEntry) (Printer, error) {
	p, err := changeRecord(ctx, l, e.deed(RecordEntered, ""))
	return p, taken(err, "name", "there is a printer of that name already")
}

// ChangePrinter writes the printer e.Of.ID as it is now.
func (l *Ledger) ChangePrinter(ctx context.Context, e PrinterEntry) (Printer, error) {
	p, err := changeRecord(ctx, l, e.deed(RecordEdited, strconv.FormatInt(e.Of.ID, 10)))
	return p, taken(err, "name", "there is a printer of that name already")
}

// RetirePrinter ends printing on a printer, or begins it again. What waits for
// it is given up when its turn comes.
func (l *Ledger) RetirePrinter(ctx context.Context, e Edit, id int64, retired bool) (Printer, error) {
	deed := RecordReinstated
	if retired {
		deed = RecordRetired
	}
	return changeRecord(ctx, l, recordDeed[Printer]{Edit: e, keeper: printerKeeper(), deed: deed, subject: strconv.FormatInt(id, 10), wish: wish(deed, id), may: mayEnterPrinters,
		decide: func(_ Tx, p Printer, at time.Time) (Printer, []string, error) {
			if p.Retired() == retired {
				return p, nil, nil
			}
			p.RetiredAt = time.Time{}
			if retired {
				p.RetiredAt = at
			}
			return p, []string{"printer " + string(deed)}, nil
		}})
}

func mayEnterPrinters(by Person) error {
	if by.Role.MayEnterWork() {
		return nil
	}
	return Forbiddenf("may-not-enter-printers", "%s is a %s: the welding engineer or the owner enters printers", by.Name, by.Role)
}

func (e PrinterEntry) deed(deed RecordDeed, subject string) recordDeed[Printer] {
	return recordDeed[Printer]{Edit: e.Edit, keeper: printerKeeper(), deed: deed, subject: subject, may: mayEnterPrinters,
		wish: wish(deed, subject, e.Version, e.Of.Name, e.Of.Address, e.Of.DPI, e.Of.Size, e.Of.Format),
		decide: func(_ Tx, before Printer, _ time.Time) (Printer, []string, error) {
			after := before
			after.Name, after.Address, after.DPI, after.Size, after.Format = e.Of.Name, e.Of.Address, e.Of.DPI, e.Of.Size, e.Of.Format
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			return after, toldDifferences(differ(Difference{"name", before.Name, after.Name}, Difference{"address", before.Address, after.Address},
				Difference{"resolution", dpiText(before.DPI), dpiText(after.DPI)}, Difference{"labels in it", before.Size, after.Size}, Difference{"documents", before.Format, after.Format})), nil
		}}
}

func dpiText(dpi int) string {
	if dpi == 0 {
		return ""
	}
	return strconv.Itoa(dpi) + " dpi"
}

// PrinterResolutions are the resolutions of label printers, in dots an inch
// (printer_module rows of testdata/barcodes.csv).
func PrinterResolutions() []int { return []int{203, 300, 600} }

// ready tidies the printer and says what is wrong.
func (p *Printer) ready() error {
	faults := tidyAll(map[string]*string{"name": &p.Name, "address": &p.Address, "size": &p.Size})
	fault := func(wrong bool, field, says string) {
		if wrong {
			faults = append(faults, FieldFault{field, says})
		}
	}
	u, err := url.Parse(p.Address)
	fault(p.Name == "", "name", "say where it stands: receiving desk")
	fault(err != nil || u.Hostname() == "" || !slices.Contains([]string{"ipp", "ipps"}, u.Scheme), "address", "give its address as the printer's own page shows it, such as ipp://printer.example/ipp/print")
	fault(err == nil && u.User != nil, "address", "leave name and password out")
	fault(!slices.Contains(PrinterResolutions(), p.DPI), "dpi", "choose the dots an inch of its print head: bars must be whole dots")
	fault(p.Size == "", "size", "choose the size of the labels that are in it")
	fault(p.Format != "pdf" && p.Format != "png", "format", "choose PDF, or PNG for a printer that takes no PDF")
	return faultsError(faults)
}

func printerKeeper() recordKeeper[Printer] {
	return recordKeeper[Printer]{kind: PrinterRecord,
		name: func(p Printer) string { return "printer " + p.Name },
		mark: func(p *Printer) (string, *int) { return strconv.FormatInt(p.ID, 10), &p.Version },
		read: func(tx Tx, id string) (Printer, error) {
			n, err := strconv.ParseInt(id, 10, 64)
			if err != nil {
				return Printer{}, NotFoundf("no-such-printer", "there is no printer %q", clip(id))
			}
			return tx.Printer(n)
		},
		add: func(tx Tx, p Printer) (_ Printer, err error) {
			p.ID, err = tx.AddPrinter(p)
			return p, err
		},
		update: Tx.UpdatePrinter}
}
