package fit

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

var (
	plainWord = regexp.MustCompile(`\p{L}+`)
	// figures are numbers and designations: what must stand alike in every
	// language.
	figures = regexp.MustCompile(`[A-Za-z0-9.%/+-]*(?:[0-9]|\b[A-Z]{2,}\b)[A-Za-z0-9%/+-]*`)
)

// onlyEnglish are the words of the tables that are in an English column and in
// no other.
var onlyEnglish = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, column := range []string{"en", "es"} {
		for _, table := range []string{"sentences", "words"} {
			for _, m := range readTable("tables/" + table + ".csv") {
				for _, w := range plainWord.FindAllString(placeholder.ReplaceAllString(m[column], " "), -1) {
					out[strings.ToLower(w)] = column == "en"
				}
			}
		}
	}
	return out
})

// namesIn are the parts of a message that are said as they stand in every
// language.
func namesIn(m *Message) (names []string) {
	if m == nil {
		return nil
	}
	for _, p := range m.parts {
		switch p := p.(type) {
		case string:
			names = append(names, p)
		case source:
			names = append(names, strings.Fields(string(p))...)
		case unreckoned:
			names = append(names, namesIn(p.says)...)
		case *Message:
			names = append(names, namesIn(p)...)
		}
	}
	return names
}

// typed are values that somebody may have put on a data sheet, and that no
// table knows: they are said as they were typed.
var typed = []string{"thin", "a while"}

// badlySaid is what is wrong with a text in Spanish; empty if nothing is: an
// English word is left in it, or a number or designation is not the same.
func badlySaid(en, es string, m *Message) string {
	bare := es
	for _, name := range append(namesIn(m), typed...) {
		if name != "" {
			bare = strings.Replace(bare, name, " ", 1)
		}
	}
	for _, w := range plainWord.FindAllString(bare, -1) {
		if onlyEnglish()[strings.ToLower(w)] && w != strings.ToUpper(w) { // AT is Austria
			return fmt.Sprintf("%q leaves %q of %q", es, w, en)
		}
	}
	was, is := figures.FindAllString(en, -1), figures.FindAllString(es, -1)
	slices.Sort(was)
	slices.Sort(is)
	if !slices.Equal(was, is) {
		return fmt.Sprintf("%q has the figures %q, and %q has %q", en, was, es, is)
	}
	return ""
}

// badlySaidIn looks at a finding and both its claims.
func badlySaidIn(f Finding) string {
	es := f.In(Spanish)
	for _, text := range []struct {
		en, es string
		m      *Message
	}{{f.Says, es.Says, f.Message}, {f.Demanded.Text, es.Demanded.Text, f.Demanded.Message}, {f.Offered.Text, es.Offered.Text, f.Offered.Message}} {
		if fault := badlySaid(text.en, text.es, text.m); fault != "" {
			return string(f.Rule) + ": " + fault
		}
	}
	return ""
}

// TestEveryWordHasItsRow holds that whatever of the rules' vocabulary the code
// names has a row, and that no row is of a word that nobody says.
func TestEveryWordHasItsRow(t *testing.T) {
	code, err := constantsInCode()
	if err != nil {
		t.Fatal(err)
	}
	for kind, texts := range vocabulary(code) {
		for _, text := range texts {
			rows := translations()[Spanish].words[kind]
			if letter.MatchString(text) && rows[text]+rows[figure.ReplaceAllString(text, "%s")] == "" && !untranslated[text] {
				t.Errorf("words.csv: the %s %q has no row", kind, text)
			}
		}
	}
	said := corpus(t, code)
	seen := map[[2]string]bool{}
	for _, m := range readTable("tables/words.csv") {
		kind, en, es := m["kind"], m["en"], m["es"]
		switch {
		case seen[[2]string{kind, en}]:
			t.Errorf("words.csv: the %s %q is there twice", kind, en)
		case es == "" || es == en && !sameWord[en] && kind != "join":
			t.Errorf("words.csv: the %s %q has no Spanish", kind, en)
		case !said(kind, en):
			t.Errorf("words.csv: nobody says the %s %q", kind, en)
		case !slices.Equal(placeholders(en), placeholders(es)):
			t.Errorf("words.csv: %q has %v, and %q has %v", en, placeholders(en), es, placeholders(es))
		case m["es_provenance"] == "":
			t.Errorf("words.csv: nobody says where %q is from", es)
		}
		seen[[2]string{kind, en}] = true
	}
}

// untranslated are the process names and the polarities, which Spanish has from
// the standards as they are.
var untranslated = map[string]bool{"FCAW-G": true, "FCAW-S": true, "GMAW": true, "GTAW": true, "DCEP": true, "DCEN": true, "AC": true, "": true}

// vocabulary are the texts of the code by kind of row.
func vocabulary(code saidInCode) map[string][]string {
	texts := func(types ...string) (out []string) {
		for _, of := range types {
			for text := range code[of] {
				out = append(out, text)
			}
		}
		return out
	}
	words := texts("word", "Polarity", "Process", "Position", "Passes", "Rolls", "Shielding", "LotStatus", "WeldShape")
	words = slices.DeleteFunc(words, func(w string) bool { return strings.HasSuffix(w, " ") }) // of a text that is put together: see below
	for _, p := range []filler.Provenance{filler.Published, filler.DataSheet, filler.Shop, filler.Memory, filler.Practice} {
		words = append(words, string(p), sourceOf(filler.Fact{Provenance: p}))
	}
	for _, p := range []filler.Provenance{filler.DataSheet, filler.Shop} {
		words = append(words, "its "+string(p), "limited by its "+string(p))
	}
	for _, p := range []Polarity{DCEP, DCEN, AC} {
		words = append(words, string(p.inWords()))
	}
	for _, p := range []string{"spool", "8 in spool", "12 in spool", "coil", "11 in coil", "12 in coil", "drum", "18 in drum", "24 in drum"} {
		wound, _ := ParsePackage(p)
		words = append(words, wound.String(), wound.withArticle())
	}
	words = append(words, Demand{PassCount: 3}.passesInWords(), string(otherSpools(1)), string(otherSpools(2)), "at most 3 passes",
		Qualified{Least: 5 * unit.Millimetre}.Range(), Qualified{Most: 5 * unit.Millimetre}.Range())
	return map[string][]string{"word": words, "topic": texts("topic"), "rule": texts("Rule"), "outcome": texts("Outcome"),
		"verdict": append(texts("Answer"), "load", "do not load"), "setting": texts("Part"), "side": {"demanded", "offered"}}
}

// corpus reports whether a text is one that the code, a reference table or the
// demand and offer of a check may give.
func corpus(t *testing.T, code saidInCode) func(kind, text string) bool {
	words := vocabulary(code)
	for text := range code["string"] {
		words["word"] = append(words["word"], text)
	}
	tables, err := filepath.Glob("tables/*.csv")
	fillers, errFillers := filepath.Glob("../filler/tables/*.csv")
	profiles, errProfiles := filepath.Glob("profiles/*.csv")
	var files strings.Builder
	for _, path := range slices.Concat(tables, fillers, profiles, []string{"../job.go", "../spool_issue.go", "evidence.go", "processes.go", "rule_process.go"}) {
		if strings.HasSuffix(path, "words.csv") || strings.HasSuffix(path, "sentences.csv") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files.Write(text)
	}
	if err != nil || errFillers != nil || errProfiles != nil {
		t.Fatal(err, errFillers, errProfiles)
	}
	all := files.String() + figure.ReplaceAllString(files.String(), "%s")
	for text := range code["string"] {
		all += "\n" + text
	}
	return func(kind, text string) bool {
		if kind == "join" || kind == "prefix" {
			return strings.Contains(all, text)
		}
		whole := func(w string) bool { return w == text || figure.ReplaceAllString(w, "%s") == text }
		return slices.ContainsFunc(words[kind], whole) || kind == "word" && strings.Contains(all, text)
	}
}
