package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// WireNeed is the wire that welds take, with the figures behind it.
type WireNeed struct {
	Metal      unit.Grams // weld metal, rounded up
	Wire       unit.Grams // wire that is consumed for it, rounded up
	Efficiency string     // deposited by consumed wire: "78 %"
	Source     string     // who gives the efficiency
	Welds      string     // "12 m of 8 mm fillet; 3 m of square groove 6 mm deep, gap 2 mm"

	says *Message // Welds before it is said
}

// Need returns the wire of this kind that welds take: weld metal divided by
// the deposition efficiency of its data sheet, or else the least that is
// published for its process. The error says what is not known or makes no
// sense. Need is pure.
func (o Offer) Need(welds []Weld) (WireNeed, error) {
	c := &comparison{offer: o}
	_, _, n, err := c.reckon(welds)
	return n, err
}

// reckon also returns the weld metal in grams and the efficiency in per cent
// before they are rounded and written.
func (c *comparison) reckon(welds []Weld) (metal, percent float64, n WireNeed, err error) {
	density := c.density()
	var says *Message
	for _, w := range welds {
		if err := w.Validate(); err != nil {
			return 0, 0, n, err
		}
		metal += w.metal(density)
		if says == nil {
			says = w.message()
			continue
		}
		says = say("%s; %s", says, w.message())
	}
	percent, source, err := c.efficiency()
	if err != nil {
		return 0, 0, n, err
	}
	return metal, percent, WireNeed{
		Metal: gramsUp(metal), Wire: gramsUp(consumed(metal, percent)),
		Efficiency: perCent(percent), Source: source, Welds: says.String(), says: says,
	}, nil
}

func perCent(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) + " %" }

// consumed is the wire that leaves so much weld metal at an efficiency in per
// cent, both in one unit of weight.
func consumed(metal, percent float64) float64 { return metal / percent * 100 }

// gramsUp rounds up to the whole gram, but for what a float leaves behind.
func gramsUp(g float64) unit.Grams { return unit.Grams(math.Ceil(g - 1e-6)) }

// density is that of the wire's deposit in g/cm3; steel's if it is not known,
// which is the heaviest but for stainless.
func (c *comparison) density() float64 {
	e := c.deposit()
	switch {
	case is(e, stainlessSteel):
		return densities()["austenitic stainless"]
	case is(e, aluminiumAlloy):
		return densities()["aluminium"]
	}
	return densities()["carbon steel, metric practice"]
}

// efficiency is the share of this wire that becomes weld, in per cent.
func (c *comparison) efficiency() (percent float64, source string, err error) {
	if f, ok := c.strongest("deposition_efficiency", bySheet); ok {
		number, ok := strings.CutSuffix(textOf(f), " %")
		percent, err := strconv.ParseFloat(number, 64)
		if !ok || err != nil || percent <= 0 || percent > 100 {
			return 0, "", cannotReckon("the %s gives a deposition efficiency of %q, which cannot be read", f.Provenance, textOf(f))
		}
		return percent, sourceOf(f), nil
	}
	e := c.process()
	if !e.known || e.conflict != nil {
		return 0, "", cannotReckon("nobody says what kind of wire this is, nor how much of it becomes weld")
	}
	process := e.allowed[0]
	for _, p := range c.demand.Processes {
		if slices.Contains(e.allowed, p) {
			process = p
			break
		}
	}
	y := yields()[process]
	return y.percent, "least published for " + string(process) + ": " + y.source, nil
}

// yield is a deposition efficiency with its source.
type yield struct {
	percent float64
	source  string
}

// yields are the least published efficiencies by process; where sources
// disagree the least is the one that does not run short.
var yields = sync.OnceValue(func() map[Process]yield {
	names := map[string]Process{"FCAW-G": FCAWG, "FCAW-S": FCAWS, "GMAW": GMAW, "MCAW": GMAWC, "GTAW": GTAW}
	out := map[Process]yield{}
	for _, m := range readTable("tables/weld_metal.csv") {
		name, ok := strings.CutPrefix(m["inputs"], "process=")
		process := names[name]
		if !ok || process == "" || filler.Provenance(m["provenance"]) != filler.Published {
			continue
		}
		low, _, _ := strings.Cut(m["value"], "-")
		percent, err := strconv.ParseFloat(low, 64)
		if err != nil {
			panic(fmt.Sprintf("fit: weld_metal.csv: %s is %q", m["id"], m["value"]))
		}
		if least, ok := out[process]; !ok || percent < least.percent {
			out[process] = yield{percent, m["source_or_command"]}
		}
	}
	return out
})

// densities are in g/cm3, by what they are of.
var densities = sync.OnceValue(func() map[string]float64 {
	out := map[string]float64{}
	for _, m := range readTable("tables/weld_metal.csv") {
		if m["kind"] != "density" {
			continue
		}
		value, err := strconv.ParseFloat(m["value"], 64)
		if err != nil || m["unit"] != "g/cm3" {
			panic(fmt.Sprintf("fit: weld_metal.csv: %s is %q %s", m["id"], m["value"], m["unit"]))
		}
		out[m["inputs"]] = value
	}
	return out
})
