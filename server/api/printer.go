package api

import (
	"context"
	"errors"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wirehold/inventory"
	"wirehold/labels"
)

func (h *handlers) registerPrinters(a huma.API) {
	bounded := func(o *huma.Operation) { o.MaxBodyBytes = MaxBody }
	huma.Get(a, "/api/v1/printers", h.printers)
	huma.Post(a, "/api/v1/printers", entered[printerBody](h, h.Ledger.EnterPrinter, viewPrinter), bounded)
	huma.Get(a, "/api/v1/printers/{id}/answer", h.askPrinter)
	huma.Put(a, "/api/v1/printers/{id}", h.changePrinter, bounded)
	huma.Post(a, "/api/v1/printers/{id}/retire", h.retirePrinter(true), bounded)
	huma.Post(a, "/api/v1/printers/{id}/reinstate", h.retirePrinter(false), bounded)
	huma.Get(a, "/api/v1/print-jobs", h.printJobs)
	huma.Post(a, "/api/v1/print-jobs", h.print, bounded)
	huma.Post(a, "/api/v1/print-jobs/{id}/retry", h.retryPrint, bounded)
}

// PrinterFields is what is entered of a printer.
type PrinterFields struct {
	Name    string `json:"name" maxLength:"120"`
	Address string `json:"address" maxLength:"120" doc:"ipp://printer.example/ipp/print"`
	DPI     int    `json:"dpi" enum:"203,300,600" doc:"Dots an inch of its print head."`
	Size    string `json:"size" doc:"Of the labels in it: 100x75."`
	Format  string `json:"format" enum:"pdf,png" doc:"Of the documents that it is sent."`
}

func (b PrinterFields) printer(f *faults) inventory.Printer {
	if _, err := labels.ParseSize(b.Size); err != nil {
		f.add("size", inventory.Invalidf("size", "%q is no size of label: 100x75 is one", b.Size))
	}
	return inventory.Printer{Name: b.Name, Address: b.Address, DPI: b.DPI, Size: b.Size, Format: b.Format}
}

type printerBody struct {
	Edit
	PrinterFields
}

func (b printerBody) entry(f *faults) inventory.PrinterEntry {
	return inventory.PrinterEntry{Edit: b.read(f, 0), Of: b.printer(f)}
}

type printerView struct {
	ID int64 `json:"id"`
	PrinterFields
	RetiredAt *time.Time `json:"retired_at,omitempty" doc:"Since when nothing is printed on it."`
	Version   int        `json:"version"`
}

func viewPrinter(p inventory.Printer) printerView {
	return printerView{p.ID, PrinterFields{p.Name, p.Address, p.DPI, p.Size, p.Format}, known(p.RetiredAt), p.Version}
}

func (h *handlers) printers(ctx context.Context, _ *struct{}) (*bodyOf[listOf[printerView]], error) {
	printers, err := h.Ledger.Printers(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(printers, viewPrinter), nil
}

func (h *handlers) changePrinter(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		EditSeen
		PrinterFields
	}
}) (*bodyOf[printerView], error) {
	var f faults
	e := inventory.PrinterEntry{Edit: in.Body.read(&f, in.Body.Version), Of: in.Body.printer(&f)}
	e.Of.ID = in.ID
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	p, err := h.Ledger.ChangePrinter(ctx, e)
	return answered(ctx, h, p, err, viewPrinter)
}

func (h *handlers) retirePrinter(retired bool) func(context.Context, *struct {
	ID   int64 `path:"id"`
	Body Edit
}) (*bodyOf[printerView], error) {
	return func(ctx context.Context, in *struct {
		ID   int64 `path:"id"`
		Body Edit
	}) (*bodyOf[printerView], error) {
		var f faults
		e := in.Body.read(&f, 0)
		if err := f.err(); err != nil {
			return nil, h.fail(ctx, err)
		}
		p, err := h.Ledger.RetirePrinter(ctx, e, in.ID, retired)
		return answered(ctx, h, p, err, viewPrinter)
	}
}

// printJobView is labels on their way to a printer.
type printJobView struct {
	ID        int64         `json:"id"`
	PrinterID int64         `json:"printer_id"`
	Person    string        `json:"person"`
	Kind      string        `json:"kind"`
	Labels    []printedView `json:"labels"`
	Reason    string        `json:"reason,omitempty"`
	AskedAt   time.Time     `json:"asked_at"`
	State     string        `json:"state" doc:"waiting, sent to the printer, or given up"`
	Taken     int           `json:"taken,omitempty" doc:"How many of its labels the printer took; it goes on from there."`
	Tries     int           `json:"tries"`
	Fault     string        `json:"fault,omitempty" doc:"What went wrong at the last try."`
	SentAt    *time.Time    `json:"sent_at,omitempty"`
	Remote    int           `json:"printer_job,omitempty" doc:"The printer's own number of it."`
}

type printedView struct {
	Of     string `json:"of" doc:"A code, or \"lot 12\"."`
	Number int    `json:"number" doc:"Of its print, from 1."`
}

func viewPrintJob(j inventory.PrintJob) printJobView {
	v := printJobView{ID: j.ID, PrinterID: j.PrinterID, Person: string(j.Person), Kind: j.Kind, Labels: []printedView{}, Reason: j.Reason, AskedAt: j.AskedAt,
		State: j.State(), Taken: j.Taken, Tries: j.Tries, Fault: j.Fault, SentAt: known(j.SentAt), Remote: j.Remote}
	for _, l := range j.Labels {
		v.Labels = append(v.Labels, printedView{l.Of, l.Number})
	}
	return v
}

func (h *handlers) printJobs(ctx context.Context, _ *struct{}) (*bodyOf[listOf[printJobView]], error) {
	jobs, err := h.Ledger.PrintJobs(ctx)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	return list(jobs, viewPrintJob), nil
}

// print queues labels of codes of one sort.
func (h *handlers) print(ctx context.Context, in *struct {
	Body struct {
		Edit
		PrinterID int64    `json:"printer_id"`
		Kind      string   `json:"kind,omitempty" doc:"Of the labels; left out, the usual one of what the codes name."`
		Codes     []string `json:"codes" minItems:"1" maxItems:"500" doc:"Of spools, places, feeders, jobs or people, all of one sort."`
		Reason    string   `json:"reason,omitempty" maxLength:"500" doc:"Needed where one of them was printed before."`
	}
}) (*bodyOf[printJobView], error) {
	var f faults
	b := in.Body
	order := inventory.PrintOrder{Person: b.read(&f, 0).Person, RequestKey: b.RequestKey, PrinterID: b.PrinterID, Reason: b.Reason}
	for _, text := range b.Codes {
		code, err := inventory.ParseCode(strings.TrimSpace(text))
		if err != nil {
			f.add("codes", inventory.Invalidf("codes", "%s", detailOf(err)))
			continue
		}
		kind, err := labels.ParseKind(code.Kind(), b.Kind)
		if err == nil && order.Kind != "" && order.Kind != string(kind) {
			err = inventory.Invalidf("codes", "%s is a %s: labels of one sort are printed together", code, code.Kind())
		}
		f.add("kind", err)
		order.Kind, order.Of = string(kind), append(order.Of, string(code))
	}
	if err := f.err(); err != nil {
		return nil, h.fail(ctx, err)
	}
	if err := h.printable(ctx, order); err != nil {
		return nil, h.fail(ctx, err)
	}
	job, err := h.Ledger.Print(ctx, order)
	return answered(ctx, h, job, err, viewPrintJob)
}

// printable refuses labels that would only fail in the queue: of what is not
// there, or on stock that has no room for them.
func (h *handlers) printable(ctx context.Context, o inventory.PrintOrder) error {
	printer, err := h.Ledger.PrinterOf(ctx, o.PrinterID)
	if err != nil {
		return err
	}
	codes := make([]inventory.Code, len(o.Of))
	for i, of := range o.Of {
		codes[i] = inventory.Code(of)
	}
	all, err := h.Shop.Each(h.Catalog(ctx), labels.Kind(o.Kind), codes)
	if e, ok := errors.AsType[*labels.FieldError](err); ok {
		return inventory.Invalidf("codes", "%s: %s", codes[len(all)], e)
	}
	if err != nil {
		return err
	}
	return h.Press.Fits(all, printer, "printer_id")
}

func (h *handlers) retryPrint(ctx context.Context, in *struct {
	ID   int64 `path:"id"`
	Body struct {
		Person string `json:"person" doc:"The badge code of whoever wants it."`
	}
}) (*bodyOf[printJobView], error) {
	person, err := codeOf(inventory.PersonCode, "person", in.Body.Person)
	if err != nil {
		return nil, h.fail(ctx, err)
	}
	job, err := h.Ledger.RetryPrint(ctx, in.ID, person)
	return answered(ctx, h, job, err, viewPrintJob)
}
