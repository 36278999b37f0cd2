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
	var says, demanded []string
	for _, f := range fs {
		if f.Outcome != out.Outcome || f.Outcome == NotDemanded {
			continue
		}
		says = append(says, f.Says)
		if !slices.Contains(demanded, f.Demanded.Text) {
			demanded = append(demanded, f.Demanded.Text)
		}
	}
	if len(says) > 1 {
		out.Says, out.Demanded.Text = strings.Join(says, " "), strings.Join(demanded, ", ")
	}
	return out
}

func finding(o Outcome, demanded, offered Claim, format string, args []any) Finding {
	return Finding{Outcome: o, Demanded: demanded, Offered: offered, Says: write(format, args)}
}

// write is [fmt.Sprintf] for sentences: nearly all of them put texts in the
// place of %s, which needs none of its machinery.
func write(format string, args []any) string {
	size := len(format)
	for _, arg := range args {
		if text, ok := arg.(string); ok {
			size += len(text)
		}
	}
	var out strings.Builder
	out.Grow(size)
	rest := format
	for _, arg := range args {
		before, after, ok := strings.Cut(rest, "%s")
		if !ok || strings.Contains(before, "%") {
			return fmt.Sprintf(format, args...)
		}
		out.WriteString(before)
		switch arg := arg.(type) {
		case string:
			out.WriteString(arg)
		case Polarity:
			out.WriteString(string(arg))
		case Process:
			out.WriteString(string(arg))
		default:
			out.WriteString(fmt.Sprint(arg)) // not Fprint, for which out would leave the stack
		}
		rest = after
	}
	if strings.Contains(rest, "%") {
		return fmt.Sprintf(format, args...)
	}
	out.WriteString(rest)
	return out.String()
}

func stop(demanded, offered Claim, format string, args ...any) Finding {
	return finding(Stops, demanded, offered, format, args)
}

func caution(demanded, offered Claim, format string, args ...any) Finding {
	return finding(Caution, demanded, offered, format, args)
}

func pass(demanded, offered Claim, format string, args ...any) Finding {
	return finding(Passed, demanded, offered, format, args)
}

// passUnless is a pass, or a caution if there is a doubt.
func passUnless(doubt string, demanded, offered Claim, format string, args ...any) Finding {
	if doubt == "" {
		return pass(demanded, offered, format, args...)
	}
	f := caution(demanded, offered, format, args...)
	f.Says += " " + doubt
	return f
}

// open is the finding where the job asks nothing: it still says what is offered.
func (c *comparison) open(offered Claim, what string) Finding {
	says := "The job asks nothing about " + what + "."
	if offered.Text != unknown().Text {
		says += " This wire: " + offered.Text + "."
	}
	return Finding{Outcome: NotDemanded, Demanded: c.procedure("nothing"), Offered: offered, Says: says}
}

// disagree is the stop where box and data sheet cannot both be right.
func disagree(demanded, offered Claim, conflict string) Finding {
	f := stop(demanded, offered, "%s An engineer must settle it before this wire is used.", conflict)
	f.Conflict = true
	return f
}

// procedure, job and store are demands with their authority.
func (c *comparison) procedure(text string) Claim {
	return Claim{text, cmp.Or(c.demand.ProcedureSource, "the procedure"), filler.Shop}
}

func (c *comparison) job(text string) Claim {
	return Claim{text, cmp.Or(c.demand.JobSource, "the job"), filler.Shop}
}

func (c *comparison) machine(text string) Claim {
	return Claim{text, "feeder " + cmp.Or(c.feeder.called(), "without a name"), filler.Shop}
}

// ledger is what the ledger says of the joint.
func (c *comparison) ledger(text string) Claim {
	return Claim{text, "ledger of " + cmp.Or(c.demand.JobSource, "the job"), filler.Shop}
}

// record is what the shop's own record of the spool says.
func (c *comparison) record(text string) Claim {
	return Claim{text, "record of spool " + cmp.Or(c.offer.Spool, "without a code"), filler.Shop}
}

// capital writes text with its first letter large.
func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

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
