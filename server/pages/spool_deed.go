package pages

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// Deed is one thing that can be done to a spool, with its form.
type Deed struct {
	Name  string // "weigh", as in the form's address
	Title string // "Weigh it"
	Form  Form
}

// deeds returns what can be done to the spool now.
func (p *Pages) deeds(line inventory.SpoolLine, w inventory.Wire, places []inventory.Place, history []HistoryLine, badge string) []Deed {
	var out []Deed
	add := func(name, title, submit, tone string, fields ...Field) {
		form := Form{Name: name, Action: "/spools/" + string(line.Code) + "/" + name, Submit: submit, Tone: tone,
			Hidden: []Hidden{{"request_key", p.NewKey()}}}
		out = append(out, Deed{name, title, form.fields(append([]Field{badgeField(badge)}, fields...)...)})
	}
	if !line.Scrapped {
		if !line.Opened() {
			add("open", "Open the package", "It is open", "", whenField())
			add("damaged", "The package is damaged", "Record the damage", "stop", reasonField("What is torn or punctured. Its exposure is then not known"), whenField())
		} else if !line.Out() {
			add("dry", "It was dried", "Record the drying", "", dryFields(w, places)...)
			form := &out[len(out)-1].Form
			says, may := w.DryingNote()
			form.Note, form.Warns = says, !may
		}
		add("weigh", "Weigh it", "Record the weight", "", grossField(true), whenField())
		if !line.Out() {
			add("move", "Move it", "Move it", "", placeField(places, "", true), whenField())
		}
		if line.Held == "" {
			add("hold", "Put it on hold", "Put it on hold", "", reasonField("What is wrong, and who decides"))
		} else {
			add("release", "Release it from hold", "Release it", "", reasonField("Why it may be used again. The welding engineer decides"))
		}
		add("scrap", "Scrap it", "Scrap it for good", "stop", reasonField("Why it cannot be used"))
	}
	add("correct", "Correct an entry", "Enter the correction", "", correctionFields(places, history)...)
	if fields := redryFields(w, places, history); fields != nil {
		add("redry", "Set a drying right", "Enter the correction", "", fields...)
	}
	return out
}

func correctionFields(places []inventory.Place, history []HistoryLine) []Field {
	wrong := Field{Name: "corrects", Label: "The entry that was wrong", Type: "select", Required: true, Options: []Option{{Label: "Choose an entry"}}}
	for _, h := range history {
		wrong.Options = append(wrong.Options, Option{Value: strconv.FormatInt(h.Seq, 10), Label: fmt.Sprintf("%d: %s", h.Seq, h.Says)})
	}
	gross := grossField(false)
	gross.Hint = "Only if the weight was wrong. " + gross.Hint
	place := placeField(places, "", false)
	place.Hint = "Only if the place was wrong"
	return []Field{wrong, gross, place,
		{Name: "opened_at", Label: "Opened at", Type: "datetime-local", Hint: "Only if the opening time was wrong. The welding engineer decides"},
		{Name: "undone", Label: "It never was", Type: "checkbox", Value: "yes", Hint: "Only of a drying or a damaged package. The welding engineer decides"},
		{Name: "still_sealed", Label: "It is still sealed", Type: "checkbox", Value: "yes", Hint: "It was never opened. The welding engineer decides"},
		reasonField("What was wrong and how you know. Both entries are kept")}
}

// changeSpool answers POST /spools/:code/:deed.
func (p *Pages) changeSpool(c *gin.Context) error {
	code, err := codeIn(c, inventory.SpoolCode)
	if err != nil {
		return err
	}
	in := p.posted(c)
	spool, err := p.do(c.Request.Context(), c.Param("deed"), in.entry(code), in)
	if err == nil {
		return seeOther(c, fmt.Sprintf("/spools/%s?done=%d", code, spool.Version))
	}
	if !again(err) || inventory.CodeOf(err) == "no-such-page" {
		return err
	}
	page, errPage := p.spoolPage(c, code)
	if errPage != nil {
		return errPage
	}
	page.Trouble = trouble(c, err)
	for i := range page.Deeds {
		if page.Deeds[i].Name == c.Param("deed") {
			page.Deeds[i].Form = page.Deeds[i].Form.filled(in.get, err)
		}
	}
	return p.show(c, page.Trouble.status(), "spool", page)
}

// do takes the deed that is named to the ledger. What makes no sense in the
// form is [inventory.Invalid] and nothing is done.
func (p *Pages) do(ctx context.Context, deed string, e inventory.Entry, in *input) (inventory.Spool, error) {
	gross, place, reason := in.grams("gross"), in.code("place", inventory.PlaceCode), in.get("reason")
	correction := inventory.Correction{Entry: e, Corrects: in.whole("corrects"), Reason: reason, Gross: gross, Place: place, OpenedAt: in.openedAt(), Undone: in.get("undone") != ""}
	if deed == "weigh" && gross == nil && len(in.faults) == 0 {
		in.fault("gross", "give the weight on the scale")
	}
	var drying inventory.Dry
	if deed == "dry" {
		drying = in.dry(e)
	}
	if deed == "redry" {
		correction = inventory.Correction{Entry: e, Corrects: in.whole("corrects"), Reason: reason, Dry: in.redry()}
	}
	if err := in.err(); err != nil {
		return inventory.Spool{}, err
	}
	switch deed {
	case "dry":
		return p.Ledger.Dry(ctx, drying)
	case "damaged":
		return p.Ledger.FoundDamaged(ctx, e, reason)
	case "open":
		return p.Ledger.Open(ctx, e)
	case "weigh":
		return p.Ledger.Weigh(ctx, e, *gross)
	case "move":
		return p.Ledger.Move(ctx, e, place)
	case "hold":
		return p.Ledger.Hold(ctx, e, reason)
	case "release":
		return p.Ledger.Release(ctx, e, reason)
	case "scrap":
		return p.Ledger.Scrap(ctx, e, reason)
	case "correct", "redry":
		return p.Ledger.Correct(ctx, correction)
	}
	return inventory.Spool{}, inventory.NotFoundf("no-such-page", "nothing called %q is done to a spool", deed)
}

// openedAt reads a corrected opening time: nil if it stays, the zero time if
// the package is still sealed.
func (in *input) openedAt() *time.Time {
	at := in.when("opened_at")
	if in.get("still_sealed") == "" && at.IsZero() {
		return nil
	}
	return &at
}
