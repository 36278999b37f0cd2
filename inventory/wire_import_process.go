package inventory

import (
	"slices"
	"strings"

	"wirehold/inventory/fit"
)

// checkProcess holds what people call the wire against what box and sheet say
// it is. A name that may mean several kinds of wire is asked about, unless the
// wire itself answers.
func (r *rowReader) checkProcess(w Wire) {
	name := r.text("process")
	if name == "" {
		return
	}
	called := processesOf(r.vocabulary.Terms(name))
	is, err := w.Processes()
	both := slices.DeleteFunc(slices.Clone(called), func(p fit.Process) bool { return !slices.Contains(is, p) })
	switch {
	case len(called) == 0:
		r.fault("process", "nobody here calls a wire %q: say what it is, such as %q, or leave it out", clip(name), "gasless")
	case err != nil:
		r.fault("process", "%v", err)
	case len(is) == 0 && len(called) > 1:
		r.fault("process", "%q may be %s: say which", clip(name), inWords(called))
	case len(is) == 0:
		r.fault("process", "the classification does not say whether that is so: give the column \"Shielding\" with the sheet that says it, and leave this out")
	case len(both) == 0:
		r.fault("process", "%q is %s, and the box says %s: one of them is wrong", clip(name), inWords(called), inWords(is))
	}
}

// inWords writes processes as "a or b".
func inWords(processes []fit.Process) string {
	words := make([]string, len(processes))
	for i, p := range processes {
		words[i] = ProcessWords(p)
	}
	return strings.Join(words, " or ")
}
