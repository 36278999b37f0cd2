package fit

import (
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// trait is how the facts of one name are read, as sets of what they allow.
type trait[T any] struct {
	parse  func(string) (set []T, ok bool)
	within func(x T, set []T) bool
	either bool // of two classifications either will do; otherwise both must allow it
}

// reading is a fact with the set it allows.
type reading[T any] struct {
	fact filler.Fact
	set  []T
}

// evidence is what the facts of one name come to.
type evidence[T any] struct {
	trait    trait[T]
	allowed  []T
	known    bool
	readings []reading[T] // strongest first
	claim    Claim        // what is allowed, in words
	conflict *Message     // why box and data sheet cannot both be right; nil if they agree
	doubt    *Message     // why every match is a caution; nil if none
	advice   *Message     // common practice, where nothing is known
}

// resolve weighs facts of one name. A data sheet narrows the classification,
// the shop narrows both; what is not within the other is a conflict. The shop
// may settle a conflict and overrule memory. Practice never counts.
func resolve[T any](facts filler.Facts, t trait[T]) evidence[T] {
	e := evidence[T]{trait: t, claim: unknown(), advice: advice(facts)}
	var class, sheet, shop []reading[T]
	for _, f := range inOrder(facts) {
		s := strengthOf(f)
		if s == byPractice {
			continue
		}
		set, ok := t.parse(f.Value)
		switch {
		case saysNothing(f.Value):
			e.claim = claimOf(f)
		case !ok && s <= bySheet:
			e.conflict = say("The %s says %q, which cannot be read.", f.Provenance, f.Value)
		case !ok:
		case s == byShop:
			shop = append(shop, reading[T]{f, set})
		case s == bySheet:
			sheet = append(sheet, reading[T]{f, set})
		default:
			class = append(class, reading[T]{f, set})
		}
	}
	e.take(class, "classification")
	e.narrow(sheet, "data sheet")
	e.settle(shop, class, sheet)
	if e.known {
		e.claim = e.words()
	}
	return e
}

// take starts from what the classifications allow.
func (e *evidence[T]) take(rs []reading[T], who word) {
	if len(rs) == 0 {
		return
	}
	e.known, e.readings, e.allowed = true, rs, rs[0].set
	for _, r := range rs[1:] {
		e.allowed = e.trait.join(e.allowed, r.set)
	}
	if len(e.allowed) == 0 && e.conflict == nil {
		e.conflict = say("The %s says both %s and %s.", who, word(rs[0].fact.Value), word(rs[len(rs)-1].fact.Value))
	}
}

// narrow takes the stronger readings if they lie within what is allowed so far.
func (e *evidence[T]) narrow(rs []reading[T], who word) {
	if len(rs) == 0 {
		return
	}
	before := *e
	e.take(rs, who)
	if before.known && e.conflict == nil && !e.trait.subset(e.allowed, before.allowed) {
		e.conflict = say("The %s says %s, the %s says %s.", authority(before.readings[0].fact),
			word(before.readings[0].fact.Value), who, word(rs[0].fact.Value))
	}
	e.readings = append(slices.Clone(rs), before.readings...)
}

// settle is narrow for the shop, which may also decide between the others.
func (e *evidence[T]) settle(shop, class, sheet []reading[T]) {
	if len(shop) == 0 {
		return
	}
	before := *e
	e.narrow(shop, "shop")
	if e.conflict == nil || len(e.allowed) == 0 {
		return
	}
	fromMemory := len(class) > 0 && strengthOf(class[0].fact) > byPublication
	if before.conflict == nil && !(fromMemory && len(sheet) == 0) {
		return
	}
	set, against := shop[0].set, before.conflict
	if against == nil {
		against = overruled(class)
	}
	switch {
	case before.conflict != nil && e.sidesWith(set, class):
		e.conflict = nil
	case before.conflict != nil && e.sidesWith(set, sheet), fromMemory && len(sheet) == 0:
		e.conflict, e.readings = nil, shop
		e.doubt = say("The shop settled on %s: %s", word(shop[0].fact.Value), against)
	}
}

// sidesWith reports whether set is what one of the readings allows, or, where
// either of them will do, all of them together.
func (e *evidence[T]) sidesWith(set []T, side []reading[T]) bool {
	if len(side) == 0 {
		return false
	}
	together := side[0].set
	for _, r := range side {
		if e.trait.subset(set, r.set) {
			return true
		}
		together = e.trait.join(together, r.set)
	}
	return e.trait.either && e.trait.subset(set, together)
}

// overruled says what the shop has overruled.
func overruled[T any](class []reading[T]) *Message {
	return say("the classification, from memory, says %s.", word(class[0].fact.Value))
}

// authority names who stands behind a fact in a sentence.
func authority(f filler.Fact) word {
	switch f.Provenance {
	case filler.Shop:
		return "shop"
	case filler.DataSheet:
		return "data sheet"
	}
	return "classification"
}

// join is what two classifications of one wire allow together.
func (t trait[T]) join(a, b []T) []T {
	out := slices.Clone(a)
	if !t.either {
		return slices.DeleteFunc(out, func(x T) bool { return !t.within(x, b) })
	}
	for _, x := range b {
		if !t.within(x, out) {
			out = append(out, x)
		}
	}
	return out
}

func (t trait[T]) subset(a, b []T) bool {
	return !slices.ContainsFunc(a, func(x T) bool { return !t.within(x, b) })
}

// words is the claim for all that is allowed: one fact's if it says it all,
// otherwise those of the facts that say it together.
func (e *evidence[T]) words() Claim {
	for _, r := range e.readings {
		if e.trait.subset(r.set, e.allowed) && e.trait.subset(e.allowed, r.set) {
			return claimOf(r.fact)
		}
	}
	var texts, sources []string
	var c Claim
	for _, r := range e.readings {
		c = claimOf(r.fact)
		if !slices.Contains(texts, c.Text) {
			texts = append(texts, c.Text)
		}
		if !slices.Contains(sources, c.Source) {
			sources = append(sources, c.Source)
		}
	}
	return Claim{Text: strings.Join(texts, " or "), Source: strings.Join(sources, "; "), Provenance: c.Provenance}
}

// admits reports whether x is allowed, and if so why that is a caution only;
// doubt is nil if a publication, the data sheet or the shop vouches for it.
func (e *evidence[T]) admits(x T) (ok bool, doubt *Message) {
	if !e.known || !e.trait.within(x, e.allowed) {
		return false, nil
	}
	for _, r := range e.readings {
		if e.trait.within(x, r.set) {
			if e.doubt != nil {
				return true, e.doubt
			}
			return true, strengthOf(r.fact).doubt()
		}
	}
	return true, e.doubt
}

// vouch is the claim of the strongest fact that allows x; the claim for all of
// them if none does.
func (e *evidence[T]) vouch(x T) Claim {
	for _, r := range e.readings {
		if e.known && e.trait.within(x, r.set) {
			return claimOf(r.fact)
		}
	}
	return e.claim
}
