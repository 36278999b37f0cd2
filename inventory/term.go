package inventory

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/fit"
)

// TradeTerm is one process that a name people use may stand for.
type TradeTerm struct {
	Name       string      // as the table or the shop spells it: "gasless"
	Process    fit.Process // "FCAW-S"
	Provenance filler.Provenance
	Source     string // who in the shop says so; empty for common practice
	Note       string
}

// SMAW is welding with covered electrodes. A store keeps them, though no fit
// rule knows the process.
const SMAW fit.Process = "SMAW"

// Words says the process of the term in plain words.
func (t TradeTerm) Words() string { return ProcessWords(t.Process) }

// ProcessWords says a process in plain words; the process itself if it has none.
func ProcessWords(p fit.Process) string {
	switch p {
	case fit.FCAWG:
		return "flux cored wire with shielding gas"
	case fit.FCAWS:
		return "self-shielded flux cored wire, no gas"
	case fit.GMAWC:
		return "metal cored wire with shielding gas"
	case fit.GMAW:
		return "solid wire with shielding gas"
	case fit.GTAW:
		return "bare rod"
	case SMAW:
		return "covered electrode"
	}
	return string(p)
}

// TermProcesses lists the processes that a term may stand for.
func TermProcesses() []fit.Process {
	return []fit.Process{fit.FCAWG, fit.FCAWS, fit.GMAWC, fit.GMAW, fit.GTAW, SMAW}
}

// ProcessTerm returns the processes that a name people use stands for: one for
// "gasless", two for a bare "flux core", which asks which, none for a text that
// is no such name. Case, hyphens and a "wire" at the end do not matter. It is
// pure and knows tables/terms.csv alone; see [Vocabulary] for the shop's own
// names.
func ProcessTerm(text string) []TradeTerm { return Vocabulary{}.Terms(text) }

// Vocabulary is the names people use: the trade's, and the shop's nicknames.
// The zero value knows the trade's alone. It is safe for concurrent use.
type Vocabulary struct {
	nicknames map[string]TradeTerm
}

// NewVocabulary returns the trade's names and the nicknames.
func NewVocabulary(nicknames []Nickname) Vocabulary {
	v := Vocabulary{map[string]TradeTerm{}}
	for _, n := range nicknames {
		v.nicknames[plain(n.Name)] = n.term()
	}
	return v
}

// Terms is [ProcessTerm] with the shop's nicknames.
func (v Vocabulary) Terms(text string) []TradeTerm {
	name := plain(text)
	for name != "" {
		if t, ok := v.nicknames[name]; ok {
			return []TradeTerm{t}
		}
		if ts := tradeTerms()[name]; len(ts) > 0 {
			return slices.Clone(ts)
		}
		shorter := strings.TrimSuffix(name, " wire")
		if shorter == name {
			shorter = strings.TrimSuffix(name, " electrode")
		}
		if shorter == name {
			return nil
		}
		name = shorter
	}
	return nil
}

// tradeTerms are the rows of tables/terms.csv by the plain spelling.
var tradeTerms = sync.OnceValue(func() map[string][]TradeTerm {
	out := map[string][]TradeTerm{}
	for _, t := range TradeTerms() {
		out[plain(t.Name)] = append(out[plain(t.Name)], t)
	}
	return out
})

// plain writes a name so that two spellings of it are alike: lower case, words
// set apart by one space, no plural of wire, rod or electrode.
func plain(text string) string {
	text = strings.Map(func(r rune) rune {
		switch r {
		case '-', '/', '_', '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\u2212':
			return ' '
		}
		return r
	}, strings.ToLower(text))
	words := strings.Fields(text)
	for i, w := range words {
		switch singular := strings.TrimSuffix(w, "s"); singular {
		case "wire", "rod", "electrode":
			words[i] = singular
		}
	}
	return strings.Join(words, " ")
}

// processesOf returns the processes of terms, each once, in the usual order.
func processesOf(terms []TradeTerm) []fit.Process {
	var out []fit.Process
	for _, t := range terms {
		if !slices.Contains(out, t.Process) {
			out = append(out, t.Process)
		}
	}
	order := TermProcesses()
	slices.SortFunc(out, func(a, b fit.Process) int { return cmp.Compare(slices.Index(order, a), slices.Index(order, b)) })
	return out
}

// TradeTerms returns every name of the trade, in the order of
// tables/terms.csv; one that may stand for several processes stands there
// several times. The caller owns the slice.
func TradeTerms() []TradeTerm {
	var out []TradeTerm
	for _, r := range readTable("terms.csv") {
		out = append(out, TradeTerm{Name: r["phrase"], Process: fit.Process(r["process"]), Provenance: filler.Provenance(r["provenance"]), Note: r["note"]})
	}
	return out
}
