package pages

import (
	"strconv"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// lotPaperFields are the fields of what certificate and box say of a lot.
func lotPaperFields(p inventory.LotPapers) []Field {
	return []Field{
		{Name: "papers_type", Label: "Certificate type", Type: "select", Options: words(options("Not known", inventory.CertificateTypes(), p.Type), "Not known"), Hint: "EN 10204: 2.2 has typical values, 3.1 the lot's own results"},
		{Name: "papers_schedule", Label: "Testing schedule", Type: "select", Options: scheduleOptions(p.Schedule), Hint: "AWS A5.01, by letter or number"},
		{Name: "papers_lot_class", Label: "Lot class", Type: "select", Options: words(options("Not known", inventory.LotClassNames(), p.LotClass), "Not known"), Hint: "AWS A5.01: T of tubular, S of solid wire"},
		{Name: "papers_tested_on", Label: "Tested on", Type: "date", Value: string(p.Tested), Hint: "On the certificate"},
		{Name: "papers_melted_in", Label: "Melted in", Type: "text", Value: p.Melted, Suggest: fit.CountryNames(), Hint: "The country, by name or code: Germany, DE"},
		{Name: "papers_made_in", Label: "Made in", Type: "text", Value: p.Made, Suggest: fit.CountryNames(), Hint: "The country where it was drawn and filled"},
		{Name: "papers_made_on", Label: "Made on", Type: "date", Value: string(p.MadeOn), Hint: "On the box"},
		{Name: "papers_expires_on", Label: "Use by", Type: "date", Value: string(p.Expires), Hint: "The last day the box allows. Of “use before”, the day before it"},
		{Name: "papers_sealing", Label: "Sealed in", Type: "select", Options: options("Not known", inventory.Sealings(), p.Sealing), Hint: "Vacuum foil keeps wire longest"},
		{Name: "papers_tested_exposure", Label: "Tested for an exposure of", Type: "text", Value: p.Exposure, Hint: "From a test report of this very lot: the hours in the test climate (27 °C, 80 % RH in AWS D1.8) and the hydrogen after them, such as 120 h, 9 mL/100 g"},
	}
}

// scheduleOptions names each schedule by its letter and its number: orders have
// both.
func scheduleOptions(chosen string) []Option {
	out := words(options("Not known", inventory.Schedules(), chosen), "Not known")
	for i := range out[1:] {
		out[i+1].Label += " (" + strconv.Itoa(i+1) + ")"
	}
	return out
}

// lotPapers reads what certificate and box say.
func (in *input) lotPapers() inventory.LotPapers {
	return inventory.LotPapers{Type: in.get("papers_type"), Schedule: in.get("papers_schedule"), LotClass: in.get("papers_lot_class"), Tested: inventory.Day(in.get("papers_tested_on")),
		Melted: in.get("papers_melted_in"), Made: in.get("papers_made_in"), MadeOn: inventory.Day(in.get("papers_made_on")), Expires: inventory.Day(in.get("papers_expires_on")),
		Sealing: in.get("papers_sealing"), Exposure: in.get("papers_tested_exposure")}
}

// papersForm records what certificate and box say of the lot.
func (p *Pages) papersForm(lot inventory.Lot, badge string) Form {
	path := "/lots/" + strconv.FormatInt(lot.ID, 10)
	form := p.recordForm("papers", path+"/papers", "Record the papers", lot.Version)
	fields := append([]Field{badgeField(badge),
		{Name: "certificate", Label: "Certificate", Type: "text", Value: lot.Certificate, Hint: "Its number"}}, lotPaperFields(lot.Papers)...)
	return form.fields(append(fields, Field{Name: "note", Label: "Why", Type: "text", Hint: "Needed where something on record is changed or taken away"})...)
}

// recordPapers answers POST /lots/:id/papers.
func (p *Pages) recordPapers(c *gin.Context) error {
	id, err := number(c, "id")
	if err != nil {
		return err
	}
	in := p.posted(c)
	edit := in.edit()
	change := inventory.PapersChange{LotID: id, Person: edit.Person, RequestKey: edit.RequestKey, Version: edit.Version, Certificate: in.get("certificate"),
		Papers: in.lotPapers(), Note: in.get("note")}
	if err = in.err(); err == nil {
		_, err = p.Ledger.RecordPapers(c.Request.Context(), change)
	}
	if err == nil {
		return seeOther(c, "/lots/"+c.Param("id")+"?done=papers")
	}
	if !again(err) {
		return err
	}
	page, errPage := p.lotPage(c)
	if errPage != nil {
		return errPage
	}
	page.Trouble, page.PapersForm = trouble(c, err), page.PapersForm.filled(in.get, err)
	return p.show(c, page.Trouble.status(), "lot", page)
}
