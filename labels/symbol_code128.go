package labels

import "fmt"

// Code 128 (ISO/IEC 15417) is encoded here and not by the library that encodes
// Data Matrix: the library chooses code sets of its own, which makes a code up
// to four characters wider than it need be, and takes ñ for a function
// character (testdata/barcodes.csv K-06, K-07).

// Values of Code 128 that are no data characters.
const (
	toC     = 99
	toB     = 100
	fnc1    = 102
	startB  = 104
	startC  = 105
	stopBar = 106
)

// function1 stands for FNC1 among the characters of a text.
const function1 byte = 0x80

// code128Widths returns the widths of bars and spaces of each value, from a bar
// on (testdata/barcodes.csv, code128_pattern; the values it leaves out are as
// the boombuler library draws them).
func code128Widths() *[107]string {
	return &[...]string{
		"212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212",
		"221213", "221312", "231212", "112232", "122132", "122231", "113222", "123122", "123221",
		"223211", "221132", "221231", "213212", "223112", "312131", "311222", "321122", "321221",
		"312212", "322112", "322211", "212123", "212321", "232121", "111323", "131123", "131321",
		"112313", "132113", "132311", "211313", "231113", "231311", "112133", "112331", "132131",
		"113123", "113321", "133121", "313121", "211331", "231131", "213113", "213311", "213131",
		"311123", "311321", "331121", "312113", "312311", "332111", "314111", "221411", "431111",
		"111224", "111422", "121124", "121421", "141122", "141221", "112214", "112412", "122114",
		"122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111", "111242",
		"121142", "121241", "114212", "124112", "124211", "411212", "421112", "421211", "212141",
		"214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113", "411311",
		"113141", "114131", "311141", "411131", "211412", "211214", "211232", "2331112",
	}
}

// code128Matrix encodes text as Code 128, check character included. Text must
// be printable ASCII.
func code128Matrix(text string) (matrix, error) {
	if err := scannable(text); err != nil {
		return nil, err
	}
	return barsOf(code128Values([]byte(text))), nil
}

// scannable returns why text cannot be put into a bar code: it is empty, or
// holds what no scanner hands on as it is.
func scannable(text string) error {
	if text == "" {
		return fmt.Errorf("there is nothing to encode")
	}
	for _, r := range text {
		if r < ' ' || r > '~' {
			return fmt.Errorf("%q holds %q: only printable ASCII can be scanned as bars", text, r)
		}
	}
	return nil
}

// code128Values returns the values of text from start to stop, in as few
// characters as code sets B and C can. Text is printable ASCII and [function1].
func code128Values(text []byte) []int {
	cost := code128Costs(text)
	inC := cost[0][1] <= cost[0][0]
	values := []int{startB}
	if inC {
		values[0] = startC
	}
	for i := 0; i < len(text); {
		if here, there := costs(cost[i], inC); there+switchCost < here {
			values = append(values, map[bool]int{true: toB, false: toC}[inC])
			inC = !inC
		}
		v, n := code128Value(text, i, inC)
		values = append(values, v)
		i += n
	}
	sum := values[0]
	for i, v := range values {
		sum += i * v // row A-07
	}
	return append(values, sum%103, stopBar)
}

// A character costs switchCost; what only settles which of two equal ways is
// taken costs 1.
const switchCost = 1000

// impossible is dearer than any text.
const impossible = 1 << 30

// code128Costs returns what the text from each place on costs when the
// character there stands in code set B and in C. Between ways of one length,
// four digits and more go in set C and fewer in set B, as the reference encoder
// has it.
func code128Costs(text []byte) [][2]int {
	cost := make([][2]int, len(text)+1)
	run := digitRuns(text)
	after := func(i int, inC bool) int {
		here, there := costs(cost[i], inC)
		return switchCost + min(here, there+switchCost)
	}
	for i := len(text) - 1; i >= 0; i-- {
		b, c := after(i+1, false), impossible
		switch {
		case text[i] == function1:
			c = after(i+1, true)
		case run[i] >= 4:
			b++
		}
		if pairAt(text, i) {
			c = after(i+2, true)
			if run[i] < 4 {
				c++
			}
		}
		cost[i] = [2]int{b, c}
	}
	return cost
}

// costs tells the code set that is in use from the other one.
func costs(cost [2]int, inC bool) (here, there int) {
	if inC {
		return cost[1], cost[0]
	}
	return cost[0], cost[1]
}

// digitRuns returns for each place how many digits the run has that it stands
// in; FNC1 does not end a run.
func digitRuns(text []byte) []int {
	run := make([]int, len(text))
	for from := 0; from < len(text); {
		to, digits := from, 0
		for to < len(text) && (isDigit(text[to]) || text[to] == function1) {
			if isDigit(text[to]) {
				digits++
			}
			to++
		}
		for i := from; i < to; i++ {
			run[i] = digits
		}
		from = max(to, from+1)
	}
	return run
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func pairAt(text []byte, i int) bool {
	return i+1 < len(text) && isDigit(text[i]) && isDigit(text[i+1])
}

// code128Value returns the value at i and how many characters it takes.
func code128Value(text []byte, i int, inC bool) (value, taken int) {
	switch {
	case text[i] == function1:
		return fnc1, 1
	case inC:
		return int(text[i]-'0')*10 + int(text[i+1]-'0'), 2
	}
	return int(text[i] - ' '), 1
}

// barsOf returns the modules of the values.
func barsOf(values []int) matrix {
	widths := code128Widths()
	bars := make([]bool, 0, 11*len(values)+2)
	for _, v := range values {
		dark := true
		for _, w := range widths[v] {
			for range w - '0' {
				bars = append(bars, dark)
			}
			dark = !dark
		}
	}
	return matrix{bars}
}
