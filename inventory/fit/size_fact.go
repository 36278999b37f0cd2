package fit

import (
	"strings"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// OneSize begins the condition of a fact that holds for one size of a wire
// alone: "diameter .035 in".
const OneSize = "diameter "

// sizeOfFact returns the size for which f alone holds; one is false if it
// holds for every size, or for one that nobody can read.
func sizeOfFact(f filler.Fact) (size unit.Length, one bool) {
	text, one := strings.CutPrefix(f.Condition, OneSize)
	if !one {
		return 0, false
	}
	size, err := parseLength(text)
	return size, err == nil
}
