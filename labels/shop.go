package labels

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"wirehold/inventory"
	"wirehold/inventory/unit"
)

// Shop is what a label needs to know of the shop to say what the ledger knows.
type Shop struct {
	Base string         // where phones reach the program: "https://wire.example"; empty puts plain text into QR symbols
	Zone *time.Location // in which times are printed; nil is UTC
}

// link is the address of a page; empty without a base.
func (s Shop) link(path string) string {
	if s.Base == "" {
		return ""
	}
	return strings.TrimSuffix(s.Base, "/") + path
}

func (s Shop) stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	if s.Zone == nil {
		return t.UTC().Format("2006-01-02 15:04")
	}
	return t.In(s.Zone).Format("2006-01-02 15:04")
}

// Spool returns what the label of a spool says: the settings of the wire's
// set-up card, with a caution where one is not sure enough to be used without a
// look at the box.
func (s Shop) Spool(spool inventory.Spool, lot inventory.Lot, w inventory.Wire) (Spool, error) {
	card, err := w.Card()
	if err != nil {
		return Spool{}, err
	}
	l := Spool{
		Code: string(spool.Code), Classification: strings.Join(w.Classifications, " / "), Wire: w.TradeName,
		Diameter: w.Diameter, Marked: w.Marked, Lot: lot.Number, Opened: s.stamp(spool.OpenedAt), URL: s.link("/spools/" + string(spool.Code)),
	}
	for _, line := range card.Lines {
		l.add(line)
	}
	return l, nil
}

// add puts one setting onto the label.
func (l *Spool) add(line inventory.CardLine) {
	if line.Value == "" {
		return
	}
	switch line.Label {
	case "Polarity":
		l.Polarity, l.PolarityWords = line.Value, line.Words
	case "Shielding gas":
		l.Gas = inventory.Spoken(line.Value)
	case "Passes":
		l.Passes = inventory.Spoken(line.Value)
	case "Thickest plate":
		l.Thickness = "up to " + line.Value
	default:
		return
	}
	if !line.Sure {
		l.Cautions = append(l.Cautions, "Confirm "+strings.ToLower(line.Label)+" on the box")
	}
}

// Hold is the tag of a spool that must not be used. Reason is why, since is
// from when on, and empty if that is not known; l is what its own label says.
func (l Spool) Hold(reason, since string) (Label, error) {
	if err := l.check(); err != nil {
		return Label{}, err
	}
	out := Label{Kind: KindHold, Banner: "ON HOLD", Code: l.Code, Link: l.URL, Aid: "Do not use. The welding engineer decides what becomes of it.",
		Offline: []string{l.Code, "ON HOLD: do not use", "why: " + clean(reason)}, Needed: 2,
		Facts: []Fact{
			{Field: "order", Words: "DO NOT USE", Rank: Huge},
			why(reason),
			{Field: "classification", Name: "class", Caption: "CLASS", Words: known(l.Classification), Rank: Middle, Goes: 2},
			{Field: "diameter", Caption: "DIAM.", Words: l.diameter(), Rank: Middle, Goes: 1},
			{Field: "lot", Caption: "LOT", Words: known(l.Lot), Rank: Low, Lines: 1, Goes: 4},
		}}
	if since = clean(since); since != "" {
		out.Facts = append(out.Facts, Fact{Field: "since", Caption: "SINCE", Words: since, Rank: Low, Lines: 1, Goes: 3})
	}
	return out, nil
}

// mostLargeReason is how long a reason may be, in characters, that is set large.
const mostLargeReason = 80

// why is the reason of a hold. A long one, such as the program itself gives, is
// set small rather than that there is no tag; on small stock it is the last to
// go, and the tag says so.
func why(reason string) Fact {
	f := Fact{Field: "reason", Name: "why", Caption: "WHY", Words: said(reason, "no reason is written down"), Rank: Big, Lines: 3}
	if utf8.RuneCountInString(f.Words) > mostLargeReason {
		f.Rank, f.Wide, f.Lines, f.Goes = Middle, true, mostSentenceLines, 5
	}
	return f
}

// said returns text cleaned, or what is printed where there is none.
func said(text, otherwise string) string {
	if text = clean(text); text == "" {
		return otherwise
	}
	return text
}

// Lot is the label of a lot, on its pallet or its box: how to set the machine
// for it, and how much of it came. l is the label of one of its spools.
func (l Spool) lotLabel(lot inventory.Lot, link string, spools int, net unit.Grams, received string) (Label, error) {
	if err := l.check(); err != nil {
		return Label{}, err
	}
	facts := append([]Fact{{Field: "lot", Caption: "LOT", Words: known(lot.Number), Rank: Huge}}, l.setting()...)
	facts[1].Rank, facts[1].Words, facts[1].Beside = Big, clean(facts[1].Words+" "+facts[1].Beside), ""
	certificate := said(lot.Certificate, "none came")
	return Label{Kind: KindLot, Code: clean(lot.Number), free: true, Aid: decides, Link: link,
		Offline: []string{"lot " + clean(lot.Number), "polarity: " + facts[1].Words, "gas: " + facts[2].Words, "passes: " + facts[3].Words, "class: " + known(l.Classification), "size: " + l.diameter()}, Needed: 4,
		Notes: l.Cautions,
		Facts: append(facts,
			Fact{Field: "classification", Name: "class", Caption: "CLASS", Words: known(l.Classification), Rank: Middle, Goes: 6},
			Fact{Field: "diameter", Caption: "DIAM.", Words: l.diameter(), Rank: Middle, Goes: 5},
			Fact{Field: "wire", Name: "trade name", Caption: "WIRE", Words: known(l.Wire), Rank: Middle, Goes: 1},
			Fact{Field: "spools", Caption: "SPOOLS", Words: counted(spools, "spool") + ", " + net.String() + " (" + net.Pounds() + ")", Rank: Middle, Goes: 3},
			Fact{Field: "certificate", Caption: "CERT.", Words: certificate, Rank: Low, Lines: 1, Goes: 2},
			Fact{Field: "received", Caption: "CAME", Words: said(received, "not known"), Rank: Low, Lines: 1, Goes: 4},
		)}, nil
}

// Lot returns the label of a lot with that many spools, weighing net together.
func (s Shop) Lot(lot inventory.Lot, w inventory.Wire, spools int, net unit.Grams) (Label, error) {
	l, err := s.Spool(inventory.Spool{}, lot, w)
	if err != nil {
		return Label{}, err
	}
	return l.lotLabel(lot, s.link("/lots/"+strconv.FormatInt(lot.ID, 10)), spools, net, s.stamp(lot.ReceivedAt))
}
