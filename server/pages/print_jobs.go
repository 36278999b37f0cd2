package pages

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/labels"
)

// PrintJobsPage is the print queue: what waits, what was given up, what was
// sent.
type PrintJobsPage struct {
	Base
	Tabs  []NavItem
	Jobs  []PrintJobRow
	Again *Form // has one tried again that was given up; nil if there is none
}

// PrintJobRow is a print job in words.
type PrintJobRow struct {
	inventory.PrintJob
	What  string   // it prints: "spool: how to set the machine"
	Named []string // the first of its labels
	More  int      // how many are not named
	Part  string   // how far it came, if the printer took some of its labels alone
	Dead  bool
}

// mostNamed is how many labels of a print job are named in a list.
const mostNamed = 3

func printJobRow(j inventory.PrintJob) PrintJobRow {
	row := PrintJobRow{PrintJob: j, What: labels.Kind(j.Kind).Words(), More: max(0, len(j.Labels)-mostNamed), Dead: j.State() == inventory.MessageDead}
	for _, l := range j.Labels[:len(j.Labels)-row.More] {
		name := l.Of
		if l.Number > 1 {
			name += " (print " + strconv.Itoa(l.Number) + ")"
		}
		row.Named = append(row.Named, name)
	}
	if j.Taken > 0 && j.SentAt.IsZero() {
		row.Part = strconv.Itoa(j.Taken) + " of " + strconv.Itoa(len(j.Labels)) + " labels sent"
	}
	return row
}

// says is what the row prints, in one line.
func (r PrintJobRow) says() string {
	text := r.What + ": " + strings.Join(r.Named, ", ")
	if r.More > 0 {
		text += " and " + strconv.Itoa(r.More) + " more"
	}
	if r.Part != "" {
		text += " (" + r.Part + ": it goes on from there)"
	}
	return text
}

// printJobs answers GET /print-jobs.
func (p *Pages) printJobs(c *gin.Context) error {
	page, err := p.printJobsPage(c)
	if err != nil {
		return err
	}
	if c.Query("done") != "" {
		page.Flash = "It is on its way to the printer."
	}
	return p.show(c, http.StatusOK, "printjobs", page)
}

func (p *Pages) printJobsPage(c *gin.Context) (*PrintJobsPage, error) {
	page := &PrintJobsPage{Base: p.base(c, "Print queue", "printers"), Tabs: printTabs("queue")}
	jobs, err := p.Ledger.PrintJobs(c.Request.Context())
	if err != nil {
		return nil, err
	}
	which := Field{Name: "print_job", Label: "Print job", Type: "select", Required: true}
	for _, j := range jobs {
		row := printJobRow(j)
		page.Jobs = append(page.Jobs, row)
		if row.Dead {
			which.Options = append(which.Options, Option{Value: j.Name(), Label: j.Name() + ": " + row.says() + ", on " + j.Printer})
		}
	}
	if len(which.Options) > 0 {
		form := Form{Name: "again", Action: "/print-jobs/again", Submit: "Print it now"}.fields(which, badgeField(c.Query("badge")))
		page.Again = &form
	}
	return page, nil
}

// retryPrint answers POST /print-jobs/again.
func (p *Pages) retryPrint(c *gin.Context) error {
	in := p.posted(c)
	badge, id := in.badge(), in.whole("print_job")
	err := in.err()
	if err == nil {
		if _, err = p.Ledger.RetryPrint(c.Request.Context(), id, badge); err == nil {
			return saved(c, "/print-jobs", 1, badge)
		}
	}
	if !again(err) {
		return err
	}
	page, failed := p.printJobsPage(c)
	if failed != nil {
		return failed
	}
	page.Trouble = trouble(c, err)
	if page.Again != nil {
		f := page.Again.filled(in.get, err)
		page.Again = &f
	}
	return p.show(c, page.Trouble.status(), "printjobs", page)
}

// printForm sends labels of the kind to a printer; nil if there is no printer.
func (p *Pages) printForm(c *gin.Context, action, kind string, count int) (*Form, error) {
	printers, err := p.Ledger.Printers(c.Request.Context())
	if err != nil {
		return nil, err
	}
	on := Field{Name: "printer", Label: "Printer", Type: "select", Required: true}
	for _, printer := range printers {
		if !printer.Retired() {
			id := strconv.FormatInt(printer.ID, 10)
			on.Options = append(on.Options, Option{Value: id, Label: printer.Name + ": " + printerHolds(printer), Chosen: id == c.Query("printer")})
		}
	}
	if len(on.Options) == 0 {
		return nil, nil
	}
	submit := "Print it"
	if count > 1 {
		submit = "Print " + strconv.Itoa(count) + " labels"
	}
	form := Form{Name: "print", Action: action, Submit: submit, Hidden: []Hidden{{"request_key", p.NewKey()}, {"kind", kind}}}.fields(on, badgeField(c.Query("badge")),
		Field{Name: "reason", Label: "Why again", Type: "text", Hint: "Only if it was printed before: torn, unreadable, lost"})
	return &form, nil
}

// printCode answers POST /labels/:code/print.
func (p *Pages) printCode(c *gin.Context) error {
	code, err := anyCodeIn(c)
	if err != nil {
		return err
	}
	in := p.posted(c)
	kind, err := labels.ParseKind(code.Kind(), in.get("kind"))
	if err != nil {
		return labelError(err)
	}
	l, err := p.LabelShop().Of(p.Catalog(c.Request.Context()), kind, code)
	if err != nil {
		return labelError(err)
	}
	return p.print(c, in, string(kind), []string{string(code)}, []labels.Label{l}, "/labels/"+string(code))
}

// printLot answers POST /lots/:id/labels/print.
func (p *Pages) printLot(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	kind, err := labels.ParseLotKind(in.get("kind"))
	if err != nil {
		return labelError(err)
	}
	all, err := p.LabelShop().OfLot(p.Catalog(c.Request.Context()), kind, id)
	if err != nil {
		return labelError(err)
	}
	of := []string{inventory.LotLabel(id)}
	if kind != labels.KindLot {
		of = of[:0]
		for _, l := range all {
			of = append(of, l.Code)
		}
	}
	return p.print(c, in, string(kind), of, all, "/lots/"+strconv.FormatInt(id, 10)+"/labels")
}

// print queues the labels of the things, all; page is where they are offered,
// and where one goes back to if something is wrong.
func (p *Pages) print(c *gin.Context, in *input, kind string, of []string, all []labels.Label, page string) error {
	order := inventory.PrintOrder{Person: in.badge(), RequestKey: in.get("request_key"), PrinterID: in.whole("printer"), Kind: kind, Of: of, Reason: in.get("reason")}
	err := in.err()
	if err == nil {
		err = p.fits(c, order.PrinterID, all)
	}
	if err == nil {
		if _, err = p.Ledger.Print(c.Request.Context(), order); err == nil {
			return saved(c, "/print-jobs", 1, order.Person)
		}
	}
	if !again(err) {
		return err
	}
	return p.showPrintAgain(c, in, kind, len(of), page, err)
}

// fits refuses what the labels in the printer have no room for.
func (p *Pages) fits(c *gin.Context, printer int64, all []labels.Label) error {
	on, err := p.Ledger.PrinterOf(c.Request.Context(), printer)
	if err != nil {
		return err
	}
	return p.press.Fits(all, on, "printer")
}

// showPrintAgain shows the form again with what was wrong with it.
func (p *Pages) showPrintAgain(c *gin.Context, in *input, kind string, count int, page string, err error) error {
	form, failed := p.printForm(c, page+"/print", kind, count)
	if failed != nil || form == nil {
		return err
	}
	out := entry(p.base(c, "Print labels", ""), *form, FormPart{Title: "Print", Fields: form.Fields})
	out.Kicker, out.Heading, out.Back = "Labels", "Print labels", page
	return p.showEntry(c, out, in, err)
}
