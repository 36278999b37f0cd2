package fit

import (
	"fmt"
	"strings"

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
			out.Unknown = append(out.Unknown, l.Used.String()+" of "+l.Wire)
			continue
		}
		out.Used += l.Used
		metal -= float64(l.Used) * becomes / 100
		if becomes != percent {
			out.Others = append(out.Others, fmt.Sprintf("%s of %s at %s", l.Used, l.Wire, perCent(becomes)))
		}
	}
	out.Left = gramsUp(consumed(max(metal, 0), percent))
	return out, nil
}

// progress says what of the wire is used, to go, and out of sight, with a space
// after it; empty where the job has had no wire yet.
func (c *comparison) progress(n WireLeft) string {
	var out strings.Builder
	if n.Used > 0 {
		left := "nothing"
		if n.Left > 0 {
			left = n.Left.String()
		}
		fmt.Fprintf(&out, "The job needs %s of wire in all; %s used; %s to go. ", n.Wire, n.Used, left)
	}
	if n.Others != nil {
		fmt.Fprintf(&out, "Of other wire was used %s deposition efficiency. ", strings.Join(n.Others, " and "))
	}
	if n.Unknown != nil {
		fmt.Fprintf(&out, "Not counted is %s: nobody says how much of it becomes weld. ", strings.Join(n.Unknown, " and "))
	}
	if a := c.demand.Out; a.Spools > 0 {
		fmt.Fprintf(&out, "%s more is out with %s. ", a.Net, otherSpools(a.Spools))
	}
	if a := c.demand.Scrapped; a.Spools > 0 {
		fmt.Fprintf(&out, "%s more went out on %s and was scrapped unweighed. ", a.Net, otherSpools(a.Spools))
	}
	return out.String()
}

func otherSpools(n int) string {
	if n == 1 {
		return "1 other spool"
	}
	return fmt.Sprintf("%d other spools", n)
}
