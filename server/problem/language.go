package problem

import (
	"errors"

	"golang.org/x/text/language"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

// Language returns the language of findings for who prefers what accept lists,
// in the words of the header Accept-Language (RFC 9110, RFC 4647); English if
// none of them is there, or the list cannot be read.
func Language(accept string) fit.Language {
	wanted, _, err := language.ParseAcceptLanguage(accept)
	if err != nil || len(wanted) == 0 {
		return fit.English
	}
	var have []language.Tag
	for _, l := range fit.Languages() {
		have = append(have, language.Make(string(l)))
	}
	if _, i, how := language.NewMatcher(have).Match(wanted...); how != language.No {
		return fit.Languages()[i]
	}
	return fit.English
}

// In is the problem of err as [From] has it, with its findings in a language.
func In(l fit.Language, err error, requestID string) Problem {
	p := From(err, requestID)
	if p.Findings == nil || l == fit.English {
		return p
	}
	p.Language, p.Translation = l, l.NotReviewed()
	e, _ := errors.AsType[*inventory.Error](err)
	p.Findings = Findings(fit.Verdict{Findings: e.Findings}.In(l).Findings)
	return p
}
