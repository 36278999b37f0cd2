package exposure_test

import (
	"encoding/csv"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"wirehold/inventory/exposure"
)

// leftOut are the topics of testdata/exposure_rules.csv that are no limit on
// an exposure, and where they are dealt with.
var leftOut = map[string]string{
	"exposure test climate": "the climate of the maker's test: nothing to reckon", "hydrogen demand": "the fit check's rule on hydrogen", "hydrogen test plates": "a test of the maker",
	"clock start": "held below by TestClock", "clock pause": "held below by TestClock", "clock reset": "held below by TestClock and by the drying tests of the store",
	"package damage": "held below by TestClock", "modification": "a rule for the shop floor", "reissue": "ovens for covered electrodes: no spools", "holding oven": "ovens for covered electrodes: no spools",
	"rebake count": "the count is the wire's own drying rule", "wet rods": "covered electrodes: no spools", "alternative time": "a test of the maker", "rebake": "covered electrodes: no spools",
	"A514/A517": "covered electrodes: no spools", "FCAW storage": "says that there is no limit", "shielding gas": "no exposure", "hydrogen class": "the fit check's rule on hydrogen",
	"hydrogen scale": "the fit check's rule on hydrogen", "hydrogen reference air": "the climate of a place", "covering moisture": "a test of the maker", "storage climate": "the climate of a place",
	"storage layout": "a rule for the shop floor", "opening": "the climate of a place", "shelf life": "the fit check's rule on shelf life", "recondition": "the drying tests of the store", "log interval": "the climate of a place",
}

// limitsOf returns the hours that a row limits an exposure to: "4 / 2 / 1 /
// 0.5" are four.
func limitsOf(row map[string]string) (out []time.Duration) {
	hours := map[string]float64{"h": 1, "days": 24}[row["unit"]]
	if hours == 0 || row["op"] != "<=" {
		return nil
	}
	for text := range strings.SplitSeq(row["value"], "/") {
		n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil {
			return nil
		}
		out = append(out, time.Duration(n*hours*float64(time.Hour)))
	}
	return out
}

// TestLimitsOfTheReferenceTable spends each limit of the table in three goes, as
// accumulated exposure with stays in an oven or cabinet between, and holds the
// clock to the second.
func TestLimitsOfTheReferenceTable(t *testing.T) {
	file, err := os.Open("../../testdata/exposure_rules.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	asserted, left := 0, map[string]int{}
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = line[i]
		}
		switch limits := limitsOf(row); {
		case row["topic"] != "exposure limit" && row["topic"] != "opened life":
			why, known := leftOut[row["topic"]]
			if !known {
				t.Errorf("%s: nobody says what becomes of the topic %q", row["id"], row["topic"])
			}
			left[why]++
		case row["id"] == "E002":
			left["hydrogen after a tested exposure: the fit check's rule on exposure"]++
		case row["id"] == "E075":
			weekend(t)
			asserted++
		case len(limits) == 0:
			left["no limit: it says about how long the wire stands it"]++
		default:
			for _, limit := range limits {
				spend(t, row["id"], limit)
			}
			asserted++
		}
	}
	t.Logf("%d rows asserted, %d left out:", asserted, len(lines)-1-asserted)
	for _, why := range slices.Sorted(maps.Keys(left)) {
		t.Logf("%4d: %s", left[why], why)
	}
	if asserted != 21 {
		t.Errorf("%d rows asserted, want 21", asserted)
	}
}

// spend takes the limit's time out of a closed cabinet in three goes.
func spend(t *testing.T, id string, limit time.Duration) {
	t.Helper()
	go1, go2 := limit/4, limit/2
	at := zero
	track := exposure.Track("").With(exposure.Event{Kind: exposure.Put, Seq: 1, At: at, Place: "A1"}).With(exposure.Event{Kind: exposure.Open, Seq: 2, At: at})
	for i, out := range []time.Duration{go1, go2} {
		at = at.Add(out)
		track = track.With(exposure.Event{Kind: exposure.Put, Seq: int64(3 + 2*i), At: at, Place: "K1"})
		at = at.Add(1000 * time.Hour)
		track = track.With(exposure.Event{Kind: exposure.Put, Seq: int64(4 + 2*i), At: at})
	}
	end := at.Add(limit - go1 - go2)
	if got := track.RunsOut(cabinet, at, limit); !got.Equal(end) {
		t.Errorf("%s: %v runs out at %v, want %v", id, limit, got, end)
	}
	for second, over := range map[time.Duration]bool{0: false, time.Second: true, -time.Second: false} {
		left, ok := track.Clock(cabinet, end.Add(second)).Left(limit)
		if !ok || (left < 0) != over || left != -second {
			t.Errorf("%s: %v after %v of exposure: %v left, %v; want over: %v", id, limit, limit+second, left, ok, over)
		}
	}
}

// weekend is row E075: Friday 17:00 to Monday 07:00 is 62 h, 86 % of 72 h.
func weekend(t *testing.T) {
	t.Helper()
	friday, monday := time.Date(2026, 3, 6, 17, 0, 0, 0, time.UTC), time.Date(2026, 3, 9, 7, 0, 0, 0, time.UTC)
	track := exposure.Track("").With(exposure.Event{Kind: exposure.Put, Seq: 1, At: friday, Place: "F1"}).With(exposure.Event{Kind: exposure.Open, Seq: 2, At: friday})
	c := track.Clock(nil, monday)
	if c.Exposed != 62*time.Hour || 100*c.Exposed/(72*time.Hour) != 86 {
		t.Errorf("E075: a weekend on the feeder is %v, want 62 h, 86 %% of 72 h", c.Exposed)
	}
}
