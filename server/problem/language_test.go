package problem

import (
	"testing"

	"wirehold/inventory"
	"wirehold/inventory/fit"
)

func TestLanguage(t *testing.T) {
	for _, tt := range []struct {
		name, accept string
		want         fit.Language
	}{
		{"nothing is asked", "", fit.English},
		{"Spanish", "es", fit.Spanish},
		{"Spanish of a country", "es-MX,es;q=0.9,en;q=0.8", fit.Spanish},
		{"English before Spanish", "en-US,en;q=0.9,es;q=0.8", fit.English},
		{"Spanish weighs more", "en;q=0.3, es;q=0.8", fit.Spanish},
		{"a language that is not there, then Spanish", "qu-PE, es;q=0.5", fit.Spanish},
		{"a language that is not there", "fi", fit.English},
		{"Spanish is refused", "es;q=0, en", fit.English},
		{"any", "*", fit.English},
		{"no list", "es;q=high;;", fit.English},
	} {
		if got := Language(tt.accept); got != tt.want {
			t.Errorf("%s: Language(%q) = %s, want %s", tt.name, tt.accept, got, tt.want)
		}
	}
}

func TestAProblemSaysItsFindingsInALanguage(t *testing.T) {
	v := fit.Check(fit.Offer{Spool: "W7K2-3"}, fit.Demand{Polarity: fit.DCEN}, nil, fit.Profile{})
	refused := &inventory.Error{Kind: inventory.Refused, Code: "does-not-fit", Detail: "no", Findings: v.Findings}
	for _, tt := range []struct {
		l             fit.Language
		err           error
		says, content string
	}{
		{fit.English, refused, "Nobody says how this wire is run: read the box. The procedure wants electrode negative (DCEN).", "en"},
		{fit.Spanish, refused, "Nadie dice cómo se usa este alambre: lea la caja. El procedimiento pide electrodo negativo (DCEN, polaridad directa).", "es"},
		{fit.Spanish, inventory.NotFoundf("no-such-job", "there is no such job"), "", ""},
	} {
		p := In(tt.l, tt.err, "id")
		says := ""
		for _, f := range p.Findings {
			if f.Rule == string(fit.RulePolarity) {
				says = f.Says
			}
		}
		if content := p.GetHeaders().Get("Content-Language"); says != tt.says || content != tt.content || (p.Translation != "") != (content == "es") {
			t.Errorf("In(%s, %v): polarity says %q, Content-Language %q, translation %q\nwant %q, %q", tt.l, tt.err, says, content, p.Translation, tt.says, tt.content)
		}
	}
}
