package fit

// Language is one in which findings and settings are said, by its tag (BCP 47).
// The English text counts; the ledger keeps no other.
type Language string

// The languages, each a column of tables/sentences.csv and tables/words.csv.
// The Spanish is our own translation, and common practice in the choice of its
// words: no qualified person has reviewed it.
const (
	English Language = "en"
	Spanish Language = "es"
)

// Languages returns every language, English first.
func Languages() []Language { return []Language{English, Spanish} }

// ParseLanguage reads the tag of one of the languages: "es".
func ParseLanguage(tag string) (Language, bool) { return parseWord(tag, Languages()...) }

// Name is what the language calls itself.
func (l Language) Name() string {
	if l == Spanish {
		return "Español"
	}
	return "English"
}

// NotReviewed is what stands beside findings said in l, in that language; empty
// for English. In English it is the sentence of the same name.
func (l Language) NotReviewed() string {
	if l == English {
		return ""
	}
	return say(NotReviewed).In(l)
}

// NotReviewed says what a translation is worth.
const NotReviewed = "Translation not yet reviewed by a qualified person: the English text counts."

// Aid is what stands under every verdict.
const Aid = "An aid: local codes, the contract and qualified people decide."

// Aid is [Aid] in l.
func (l Language) Aid() string { return say(Aid).In(l) }

// In says m in a language.
func (m *Message) In(l Language) string {
	t := translations()[l]
	if m == nil || t == nil {
		return m.String()
	}
	return t.say(m)
}

// In is the finding with its sentence and both claims in a language; the names
// of sources stay.
func (f Finding) In(l Language) Finding {
	f.Demanded, f.Offered = f.Demanded.In(l), f.Offered.In(l)
	if f.Message != nil {
		f.Says = f.Message.In(l)
	}
	return f
}

// In is the claim in a language.
func (c Claim) In(l Language) Claim {
	t := translations()[l]
	if t == nil {
		return c
	}
	c.Text, c.Source = t.part(c.said()).(string), t.source(c.Source)
	return c
}

// In is the verdict with every finding in a language; its answer is what it
// was.
func (v Verdict) In(l Language) Verdict {
	if translations()[l] == nil {
		return v
	}
	out := Verdict{Answer: v.Answer, Findings: make([]Finding, len(v.Findings))}
	for i, f := range v.Findings {
		out.Findings[i] = f.In(l)
	}
	return out
}

// In is the setting in a language.
func (s Setting) In(l Language) Setting {
	if s.Message != nil {
		s.Says = s.Message.In(l)
	}
	if t := translations()[l]; t != nil {
		s.Source = t.source(s.Source)
	}
	return s
}

// In is the verdict's word in a language: "does not fit".
func (a Answer) In(l Language) string { return l.lookUp("verdict", string(a)) }

// In is the outcome's word in a language: "stops".
func (o Outcome) In(l Language) string { return l.lookUp("outcome", string(o)) }

// In is what the rule is called in a language: "base-metal".
func (r Rule) In(l Language) string { return l.lookUp("rule", string(r)) }

// In is what the part is called in a language: "gun and liner".
func (p Part) In(l Language) string { return l.lookUp("setting", string(p)) }

func (l Language) lookUp(kind, text string) string {
	if t := translations()[l]; t != nil {
		if said, ok := t.words[kind][text]; ok {
			return said
		}
	}
	return text
}
