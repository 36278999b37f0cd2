package fit

import (
	"slices"

	"wirehold/inventory/filler"
)

// quantity is how a fact that is a number with its unit is held against a
// demand.
type quantity[T any] struct {
	parse func(string) (T, error)
	meets func(have, want T) bool
	name  word    // "tensile strength"
	wants pattern // the demand in a sentence: "The procedure wants at least %s."
}

// measure is one fact as a number.
type measure[T any] struct {
	fact  filler.Fact
	value T
}

// check holds the facts against one demand. Any classification that meets it
// will do; a data sheet or shop value weaker than every classification is a
// conflict.
func (q quantity[T]) check(facts filler.Facts, demanded Claim, want T) Finding {
	ms, conflict := q.measures(facts)
	if conflict != nil {
		return disagree(demanded, claimOf(ms[0].fact), conflict)
	}
	for _, m := range ms {
		if q.meets(m.value, want) {
			c := claimOf(m.fact)
			return passUnless(strengthOf(m.fact).doubt(), demanded, c, "The wire's %s is %s; %s is wanted.", q.name, c.said(), demanded.said())
		}
	}
	if len(ms) == 0 {
		return stop(demanded, q.claim(facts), "Nobody says what %s this wire gives: the class and the box do not promise it. %s", q.name, q.want(demanded))
	}
	offered := claimOf(ms[0].fact)
	return stop(demanded, offered, "The wire's %s is %s, which is not enough. %s", q.name, offered.said(), q.want(demanded))
}

// want is the demand in a sentence.
func (q quantity[T]) want(demanded Claim) *Message { return say(q.wants, demanded.said()) }

// claim is what the facts come to without a demand: the strongest.
func (q quantity[T]) claim(facts filler.Facts) Claim {
	for _, f := range inOrder(facts) {
		if strengthOf(f) < byPractice {
			return claimOf(f)
		}
	}
	return unknown()
}

// measures reads the facts that count, strongest first. On a conflict the
// first measure is the one in the wrong.
func (q quantity[T]) measures(facts filler.Facts) (out []measure[T], conflict *Message) {
	var class []measure[T]
	for _, f := range inOrder(facts) {
		value, err := q.parse(textOf(f))
		if err != nil || strengthOf(f) == byPractice {
			continue
		}
		out = append(out, measure[T]{f, value})
		if strengthOf(f) > bySheet {
			class = append(class, measure[T]{f, value})
		}
	}
	out, class = q.settled(out, class)
	for _, m := range out {
		if strengthOf(m.fact) > bySheet || len(class) == 0 {
			break
		}
		weaker := true
		for _, k := range class {
			weaker = weaker && !q.meets(m.value, k.value)
		}
		if weaker {
			return []measure[T]{m}, say("The %s says %s, the classification promises %s.", authority(m.fact), claimOf(m.fact).said(), claimOf(class[0].fact).said())
		}
	}
	return out, nil
}

// settled leaves out what the shop has decided against: the sheet's weaker
// values where the shop took a value of the classification, and the
// classification where it took the weaker one of the sheet.
func (q quantity[T]) settled(all, class []measure[T]) (kept, keptClass []measure[T]) {
	alike := func(a, b measure[T]) bool { return q.meets(a.value, b.value) && q.meets(b.value, a.value) }
	for _, shop := range all {
		if strengthOf(shop.fact) != byShop {
			continue
		}
		same := func(m measure[T]) bool { return alike(shop, m) }
		sheet := slices.DeleteFunc(slices.Clone(all), func(m measure[T]) bool { return strengthOf(m.fact) != bySheet })
		switch {
		case slices.ContainsFunc(class, same):
			return slices.DeleteFunc(all, func(m measure[T]) bool { return strengthOf(m.fact) == bySheet && !q.meets(m.value, shop.value) }), class
		case slices.ContainsFunc(sheet, same):
			return slices.DeleteFunc(all, func(m measure[T]) bool { return strengthOf(m.fact) > bySheet }), nil
		}
	}
	return all, class
}
