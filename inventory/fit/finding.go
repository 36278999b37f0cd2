package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wirehold/inventory/filler"
)

// weight orders outcomes, mildest first.
func (o Outcome) weight() int {
	switch o {
	case NotDemanded:
		return 0
	case Passed:
		return 1
	case Caution:
		return 2
	case Stops:
		return 3
	}
	return -1
}

// worst returns the first of the gravest findings; a conflict, which nobody may
// waive, before any other stop.
func worst(fs ...Finding) Finding {
	out := fs[0]
	for _, f := range fs[1:] {
		if f.Outcome.weight() > out.Outcome.weight() || f.Conflict && !out.Conflict {
			out = f
		}
	}
	return out
}

// everyWorst is the worst of findings about one offer, and tells all that are as
// grave: whoever mends one paper learns of the next.
func everyWorst(fs ...Finding) Finding {
	out := worst(fs...)
	var says *Message
	var demanded Claim
	for i, f := range fs {
		switch {
		case f.Outcome != out.Outcome || f.Outcome == NotDemanded:
			continue
		case says == nil:
			says, demanded = f.Message, f.Demanded
			continue
		}
		says = says.and(f.Message)
		if !slices.ContainsFunc(fs[:i], func(o Finding) bool { return o.Outcome == f.Outcome && o.Demanded.text() == f.Demanded.text() }) {
			demanded = demanded.saying("%s, %s", demanded.said(), f.Demanded.said())
		}
	}
	if says != nil {
		out.Message, out.Demanded.Text, out.Demanded.Message = says, demanded.Text, demanded.Message
	}
	return out
}

func finding(o Outcome, demanded, offered Claim, p pattern, parts []any) Finding {
	return Finding{Outcome: o, Demanded: demanded, Offered: offered, Message: say(p, parts...)}
}

func stop(demanded, offered Claim, p pattern, parts ...any) Finding {
	return finding(Stops, demanded, offered, p, parts)
}

func caution(demanded, offered Claim, p pattern, parts ...any) Finding {
	return finding(Caution, demanded, offered, p, parts)
}

func pass(demanded, offered Claim, p pattern, parts ...any) Finding {
	return finding(Passed, demanded, offered, p, parts)
}

// passUnless is a pass, or a caution if there is a doubt.
func passUnless(doubt *Message, demanded, offered Claim, p pattern, parts ...any) Finding {
	if doubt == nil {
		return pass(demanded, offered, p, parts...)
	}
	return caution(demanded, offered, p, parts...).and(doubt)
}

// open is the finding where the job asks nothing: it still says what is offered.
func (c *comparison) open(offered Claim, what any) Finding {
	out := Finding{Outcome: NotDemanded, Demanded: c.procedure("nothing"), Offered: offered}
	if offered.Text == unknown().Text {
		out.Message = say("The job asks nothing about %s.", what)
	} else {
		out.Message = say("The job asks nothing about %s. This wire: %s.", what, offered.said())
	}
	return out
}

// and returns f with what is said after it; f as it is if that is nil.
func (f Finding) and(next *Message) Finding {
	f.Message = f.Message.and(next)
	return f
}

// disagree is the stop where box and data sheet cannot both be right.
func disagree(demanded, offered Claim, conflict *Message) Finding {
	f := stop(demanded, offered, "%s An engineer must settle it before this wire is used.", conflict)
	f.Conflict = true
	return f
}

// saying returns c with a text that is put together. It is written by
// [Finding.of], once the finding stands.
func (c Claim) saying(p pattern, parts ...any) Claim {
	c.Message = say(p, parts...)
	return c
}

// text is the claim's text, written or not.
func (c Claim) text() string {
	if c.Message != nil {
		return c.Message.String()
	}
	return c.Text
}

// said is the claim's text as a part of a sentence.
func (c Claim) said() any {
	if c.Message != nil {
		return c.Message
	}
	return word(c.Text)
}

// procedure, job and store are demands with their authority.
func (c *comparison) procedure(text string) Claim {
	return Claim{Text: text, Source: cmp.Or(c.demand.ProcedureSource, "the procedure"), Provenance: filler.Shop}
}

func (c *comparison) job(text string) Claim {
	return Claim{Text: text, Source: cmp.Or(c.demand.JobSource, "the job"), Provenance: filler.Shop}
}

func (c *comparison) machine(text string) Claim {
	return Claim{Text: text, Source: "feeder " + cmp.Or(c.feeder.called(), "without a name"), Provenance: filler.Shop}
}

// ledger is what the ledger says of the joint.
func (c *comparison) ledger(text string) Claim {
	return Claim{Text: text, Source: "ledger of " + cmp.Or(c.demand.JobSource, "the job"), Provenance: filler.Shop}
}

// record is what the shop's own record of the spool says.
func (c *comparison) record(text string) Claim {
	return Claim{Text: text, Source: "record of spool " + cmp.Or(c.offer.Spool, "without a code"), Provenance: filler.Shop}
}

// anyOf is list as a part of a sentence.
func anyOf[T any](xs []T) word { return word(list(xs)) }

// list writes "a, b or c".
func list[T any](xs []T) string {
	texts := make([]string, len(xs))
	for i, x := range xs {
		if text, ok := any(x).(string); ok {
			texts[i] = text
			continue
		}
		texts[i] = fmt.Sprint(x)
	}
	if len(texts) < 2 {
		return strings.Join(texts, "")
	}
	last := len(texts) - 1
	return strings.Join(texts[:last], ", ") + " or " + texts[last]
}
