package fit

import (
	"embed"
	"encoding/csv"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// The tables hold rows of testdata/, byte for byte, that the rules read.
//
//go:embed tables/*.csv profiles/*.csv
var embedded embed.FS

// row is one line of a reference table.
type row struct {
	kind, designator, attribute, value, condition string
	provenance                                    filler.Provenance
	source, note                                  string
}

// readTable reads an embedded table by its header. A table that cannot be read
// is a fault of the program itself.
func readTable(name string) []map[string]string {
	file, err := embedded.Open(name)
	if err != nil {
		panic(fmt.Sprintf("fit: %v", err))
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil || len(lines) < 2 {
		panic(fmt.Sprintf("fit: %s: %d lines, %v", name, len(lines), err))
	}
	var out []map[string]string
	for _, line := range lines[1:] {
		m := make(map[string]string, len(line))
		for i, column := range lines[0] {
			m[column] = line[i]
		}
		out = append(out, m)
	}
	return out
}

func readRows(name string) []row {
	var out []row
	for _, m := range readTable("tables/" + name) {
		out = append(out, row{
			m["kind"], m["designator"], m["attribute"], m["value"], m["condition"],
			filler.Provenance(m["provenance"]), m["source"], m["note"],
		})
	}
	return out
}

var (
	pairings  = sync.OnceValue(func() []row { return readRows("base_metal_match.csv") })
	aluminium = sync.OnceValue(func() row { return readRows("solid_and_metal_cored.csv")[0] })
	sizePairs = sync.OnceValue(readSizePairs)
	// gasSymbols are the mixtures of ISO 14175 by symbol. Those with hydrogen
	// or nitrogen are left out: no wire here is classified for them.
	gasSymbols = sync.OnceValue(readGasSymbols)
)

// sizePair is two sizes that may stand for one another, and who says so.
type sizePair struct {
	inch, metric unit.Length
	row          row
}

func readSizePairs() []sizePair {
	var out []sizePair
	for _, r := range readRows("diameters.csv") {
		inch, errInch := unit.ParseLength(strings.TrimSpace(strings.Split(strings.TrimSuffix(r.designator, " in"), "(")[0]) + " in")
		metric, errMetric := unit.ParseLength(strings.TrimSuffix(r.value, " mm") + " mm")
		if errInch != nil || errMetric != nil {
			panic(fmt.Sprintf("fit: diameters.csv: %q pairs with %q", r.designator, r.value))
		}
		out = append(out, sizePair{inch, metric, r})
	}
	return out
}

var bounds = regexp.MustCompile(`^(>=?)([\d.]+) <=(\d+)$`)

func readGasSymbols() map[string]gasRange {
	out := map[string]gasRange{}
	balance := map[string]string{}
	for _, r := range readRows("gases.csv") {
		switch m := bounds.FindStringSubmatch(r.value); {
		case !strings.Contains("Ar CO2 O2 He", r.attribute):
			delete(out, r.designator)
			balance[r.designator] = "" // a gas this package does not hold
		case r.value == "100":
			out[r.designator] = gasRange{}.put(r.attribute, span{100, 100})
		case r.value == "balance":
			if _, odd := balance[r.designator]; !odd {
				balance[r.designator] = r.attribute
			}
		case m != nil:
			high, _ := strconv.Atoi(m[3])
			out[r.designator] = out[r.designator].put(r.attribute, span{wholeFrom(m[1], m[2]), high})
		}
	}
	for symbol, sign := range balance {
		r, ok := out[symbol]
		if sign == "" || !ok {
			delete(out, symbol)
			continue
		}
		low := 100 - r.argon.max - r.co2.max - r.oxygen.max - r.helium.max
		high := 100 - r.argon.min - r.co2.min - r.oxygen.min - r.helium.min
		out[symbol] = r.put(sign, span{low, high})
	}
	return out
}

// wholeFrom is the least whole per cent that is ">0.5", ">=0.5", ">15" ...
func wholeFrom(op, number string) int {
	whole, rest, fraction := strings.Cut(number, ".")
	n, _ := strconv.Atoi(whole)
	if op == ">" || fraction && strings.Trim(rest, "0") != "" {
		n++
	}
	return n
}
