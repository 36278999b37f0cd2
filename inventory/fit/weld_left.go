package fit

import (
	"strconv"

	"wirehold/inventory/unit"
)

// Away is wire that went out for a job and of which nobody has weighed what is
// left.
type Away struct {
	Net    unit.Grams // as it was last weighed
	Spools int
}

// WireLeft is the wire that welds take and what of it is still to lay.
type WireLeft struct {
	WireNeed
	Used    unit.Grams // wire that went into the welds already, by weight; of every kind that can be reckoned
	Left    unit.Grams // wire of this kind that is still to lay, rounded up; zero if nothing is
	Unknown []string   // wires that went into the welds and of which nobody knows how much becomes weld: they count for nothing
	Others  []string   // wires of another deposition efficiency among Used: "2 kg of Birch Reed 5 at 85 %"

	unknown, others []*Message // Unknown and Others before they are said
}

// Left returns the wire of this kind that welds take, less what was laid
// already: the weld metal of each wire that was used, at its own deposition
// efficiency, is taken off the weld metal that is needed. The error is that of
// [Offer.Need]. Left is pure.
func (o Offer) Left(welds []Weld, laid []Laid) (WireLeft, error) {
	c := &comparison{offer: o}
	return c.left(welds, laid)
}

func (c *comparison) left(welds []Weld, laid []Laid) (out WireLeft, err error) {
	metal, percent, need, err := c.reckon(welds)
	if err != nil {
		return out, err
	}
	out.WireNeed = need
	for _, l := range laid {
		if l.Used == 0 {
			continue
		}
		of := &comparison{offer: Offer{Facts: l.Facts}, demand: Demand{Processes: c.demand.Processes}}
		becomes, _, err := of.efficiency()
		if err != nil {
			of := say("%s of %s", l.Used, l.Wire)
			out.unknown, out.Unknown = append(out.unknown, of), append(out.Unknown, of.String())
			continue
		}
		out.Used += l.Used
		metal -= float64(l.Used) * becomes / 100
		if becomes != percent {
			at := say("%s of %s at %s", l.Used, l.Wire, perCent(becomes))
			out.others, out.Others = append(out.others, at), append(out.Others, at.String())
		}
	}
	out.Left = gramsUp(consumed(max(metal, 0), percent))
	return out, nil
}

// progress says what of the wire is used, to go, and out of sight; nil where
// the job has had no wire yet.
func (c *comparison) progress(n WireLeft) (out *Message) {
	more := func(p pattern, parts ...any) {
		if out == nil {
			out = say(p, parts...)
			return
		}
		out = out.and(say(p, parts...))
	}
	if n.Used > 0 {
		left := word("nothing")
		if n.Left > 0 {
			left = word(n.Left.String())
		}
		more("The job needs %s of wire in all; %s used; %s to go.", n.Wire, n.Used, left)
	}
	if n.Others != nil {
		more("Of other wire was used %s deposition efficiency.", allOf(n.others))
	}
	if n.Unknown != nil {
		more("Not counted is %s: nobody says how much of it becomes weld.", allOf(n.unknown))
	}
	if a := c.demand.Out; a.Spools > 0 {
		more("%s more is out with %s.", a.Net, otherSpools(a.Spools))
	}
	if a := c.demand.Scrapped; a.Spools > 0 {
		more("%s more went out on %s and was scrapped unweighed.", a.Net, otherSpools(a.Spools))
	}
	return out
}

func otherSpools(n int) word {
	if n == 1 {
		return "1 other spool"
	}
	return word(strconv.Itoa(n) + " other spools")
}
