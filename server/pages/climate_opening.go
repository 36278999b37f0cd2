package pages

import (
	"fmt"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
)

// OpeningNote cautions whoever is about to open a cold spool.
type OpeningNote struct{ Title, Text, Source string }

// opening returns the caution for a sealed spool that lies in the store; nil
// where there is nothing to say or nothing is known. feeder is where it goes;
// empty is anywhere.
func (p *Pages) opening(c *gin.Context, line inventory.SpoolLine, feeder inventory.Code) (*OpeningNote, error) {
	if line.Opened() || line.Out() || line.Scrapped {
		return nil, nil
	}
	places, err := p.Catalog(c.Request.Context()).PlaceClimates()
	if err != nil {
		return nil, err
	}
	var from, into inventory.PlaceClimate
	for _, place := range places {
		switch place.Code {
		case line.Place:
			from = place
		case feeder:
			into = place
		}
	}
	o, known := inventory.OpeningIn(from, into, p.Now())
	if !known {
		o, known = inventory.OpeningSomewhere(from, places, p.Now())
	}
	if !known || !o.Caution() {
		return nil, nil
	}
	return openingNote(o), nil
}

func openingNote(o inventory.Opening) *OpeningNote {
	n := &OpeningNote{Title: "Let it warm up before it is opened", Source: o.Source()}
	n.Text = fmt.Sprintf("%s has %s; the air at %s has a dew point of %s.", o.From.Name, o.Surface.Tenth(), o.Into.Name, o.Dew.Tenth())
	if o.Does == exposure.Sweats {
		n.Text += " Opened there, the wire would sweat: leave the package closed until it is as warm as the air around it."
	} else {
		n.Text += fmt.Sprintf(" That is less than %s below the wire: leave the package closed until it is warmer.", exposure.DewMargin)
	}
	return n
}
