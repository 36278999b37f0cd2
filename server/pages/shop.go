package pages

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// shop answers GET /shop.
func (p *Pages) shop(c *gin.Context) error {
	s, err := p.Catalog(c.Request.Context()).Shop()
	if err != nil {
		return err
	}
	now := p.Now().In(p.Zone)
	ends := "none: nobody is told that a spool is not returned"
	if next, ok := s.NextShiftEnd(now); ok {
		ends = shiftEnds(s, "; ") + " (next: " + next.Format("Mon 2006-01-02 15:04 MST") + ")"
	}
	quiet := "none: messages go out at any hour"
	if !s.Quiet.None() {
		quiet = s.Quiet.String() + ": only used-up exposure time is sent then; the rest waits for their end"
	}
	page := &RecordPage{Base: p.base(c, "Shifts and hours", "alerts"), Kicker: "Alerts", Heading: "Shifts and hours", Subject: "shop", Path: "/shop", Edit: "/shop/edit", Tabs: alertTabs("shop"),
		Lead: "When somebody is told. Times are those of the clock on the shop's wall: " + now.Format("MST") + ".",
		Facts: []DemandLine{fact("Shifts end", ends), fact("Time to bring spools back", inWords(s.Grace)+" after the end of a shift"), fact("Quiet hours", quiet),
			fact("Told before a spool runs out of hours", inWords(s.NearBefore)+" before"),
			fact("Told before a lot is past its date", fmt.Sprintf("%d days before", s.ShelfBefore))}}
	return p.showRecord(c, page, inventory.ShopRecord, nil, "", nil)
}

// inWords writes whole minutes: "4 h", "30 min", "1 h 30 min".
func inWords(d time.Duration) string {
	h, m := int(d/time.Hour), int(d%time.Hour/time.Minute)
	switch {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	}
	return fmt.Sprintf("%d h %d min", h, m)
}

func shiftEnds(s inventory.Shop, between string) string {
	texts := make([]string, len(s.ShiftEnds))
	for i, e := range s.ShiftEnds {
		texts[i] = e.String()
	}
	return strings.Join(texts, between)
}

// editShop answers GET /shop/edit.
func (p *Pages) editShop(c *gin.Context) error {
	s, err := p.Catalog(c.Request.Context()).Shop()
	if err != nil {
		return err
	}
	return p.showEntry(c, p.shopForm(c, s), nil, nil)
}

func (p *Pages) shopForm(c *gin.Context, s inventory.Shop) *EntryPage {
	minutes := func(d time.Duration) string { return strconv.Itoa(int(d / time.Minute)) }
	page := entry(p.base(c, "Shifts and hours", "alerts"), p.recordForm("shop", "/shop", "Save", s.Version),
		FormPart{Title: "Shifts", Fields: []Field{workBadge(c),
			{Name: "shift_ends", Label: "Shifts end", Type: "textarea", Value: shiftEnds(s, "\n"), Hint: "One a line, days and time: Mon-Fri 15:30"},
			{Name: "grace", Label: "Minutes to bring spools back", Type: "text", Value: minutes(s.Grace), Required: true, Hint: "After the end of a shift: 0 to 240"}}},
		FormPart{Title: "Messages", Fields: []Field{
			{Name: "quiet", Label: "Quiet hours", Type: "text", Value: s.Quiet.String(), Hint: "Such as 20:00-06:00. Only used-up exposure time is sent then"},
			{Name: "near_before", Label: "Minutes before a spool runs out of hours", Type: "text", Value: minutes(s.NearBefore), Required: true, Hint: "Somebody is told then: 240 is four hours"},
			{Name: "shelf_before", Label: "Days before a lot is past its date", Type: "text", Value: strconv.Itoa(s.ShelfBefore), Required: true, Hint: "Somebody is told then"}}})
	page.Kicker, page.Heading, page.Back = "Alerts", "Shifts and hours", "/shop"
	page.Lead = "These say when somebody is told. They change no rule: how long a spool may be open is in its data sheet and the rule profile."
	return page
}

// saveShop answers POST /shop.
func (p *Pages) saveShop(c *gin.Context) error {
	in := p.posted(c)
	e := inventory.ShopEntry{Edit: in.edit(), Of: inventory.Shop{Grace: in.minutes("grace"), NearBefore: in.minutes("near_before"), ShelfBefore: int(in.whole("shelf_before"))}}
	for _, line := range in.rows("shift_ends") {
		end, err := inventory.ParseShiftEnd(line)
		if err != nil {
			in.fault("shift_ends", detailOf(err))
			break
		}
		e.Of.ShiftEnds = append(e.Of.ShiftEnds, end)
	}
	quiet, err := inventory.ParseQuietHours(in.get("quiet"))
	if err != nil {
		in.fault("quiet", detailOf(err))
	}
	e.Of.Quiet = quiet
	if err = in.err(); err == nil {
		var s inventory.Shop
		if s, err = p.Ledger.ChangeShop(c.Request.Context(), e); err == nil {
			return saved(c, "/shop", s.Version, e.Person)
		}
	}
	before, failed := p.Catalog(c.Request.Context()).Shop()
	if failed != nil {
		return failed
	}
	return p.showEntry(c, p.shopForm(c, before), in, err)
}

// minutes reads a whole number of minutes; more than a year is none.
func (in *input) minutes(field string) time.Duration {
	n := in.whole(field)
	if n < 0 || n > 525_600 {
		in.fault(field, "give a whole number of minutes")
		return 0
	}
	return time.Duration(n) * time.Minute
}
