package store_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
)

func reading(place inventory.Code, logger string, at time.Time, t unit.Celsius, rh unit.Humidity) inventory.PlacedReading {
	return inventory.PlacedReading{Place: place, Where: "readings/0", Reading: exposure.Reading{Logger: logger, At: at.UTC(), Air: exposure.Air{Temperature: t * unit.Degree, Humidity: rh * unit.Percent}}}
}

func (s *shop) sends(t testing.TB, readings ...inventory.PlacedReading) inventory.ReadingsTaken {
	t.Helper()
	return must(s.ledger.TakeReadings(t.Context(), inventory.ReadingsEntry{Person: s.attendant.Code, Way: inventory.ByAPI, Readings: readings}))(t)
}

// limits are 40 %RH at most, 15 to 45 °C, with the gap.
func limits(gap time.Duration, from time.Time) inventory.ClimateLimits {
	damp, low, high := 40*unit.Percent, 15*unit.Degree, 45*unit.Degree
	return inventory.ClimateLimits{Source: "invented manual of the cabinet", Limits: exposure.Limits{From: from, MaxHumidity: &damp, Lowest: &low, Highest: &high, MaxGap: gap}}
}

func (s *shop) setLimits(t testing.TB, l inventory.ClimateLimits) {
	t.Helper()
	p := must(s.store.Catalog(t.Context()).Place(s.cabinet.Code))(t)
	must(s.ledger.SetClimateLimits(t.Context(), inventory.ClimateLimitsEntry{Edit: inventory.Edit{Person: s.engineer.Code, RequestKey: s.key(), Version: p.Version}, Place: p.Code, Limits: l}))(t)
}

func (s *shop) outside(t testing.TB, from, to time.Time) []exposure.Span {
	t.Helper()
	return must(s.store.Catalog(t.Context()).Outside(s.cabinet.Code, from, to))(t)
}

func TestOutside(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	start := s.now().UTC()
	minute := func(n int) time.Time { return start.Add(time.Duration(n) * time.Minute) }
	span := func(from, to int) exposure.Span { return exposure.Span{From: minute(from), To: minute(to)} }
	check := func(says string, want ...exposure.Span) {
		t.Helper()
		if diff := cmp.Diff(want, s.outside(t, minute(0), minute(600))); diff != "" {
			t.Errorf("%s: Outside (-want +got):\n%s", says, diff)
		}
	}
	check("a dry-kept place without limits is dry by declaration")
	s.setLimits(t, limits(time.Hour, time.Time{}))
	check("before the first reading a place with limits is not dry", span(0, 600))
	s.wait(5 * time.Hour)
	s.sends(t, reading(s.cabinet.Code, "L1", minute(30), 20, 30), reading(s.cabinet.Code, "L1", minute(60), 20, 50))
	check("out from the reading, then silent", span(0, 30), span(60, 600))
	s.sends(t, reading(s.cabinet.Code, "L1", minute(300), 20, 30))
	check("a gap counts from the instant it ran out", span(0, 30), span(60, 300), span(360, 600))
	if got := s.sends(t, reading(s.cabinet.Code, "L1", minute(90), 20, 30), reading(s.cabinet.Code, "L1", minute(10), 20, 30), reading(s.cabinet.Code, "L1", minute(60), 20, 50)); got != (inventory.ReadingsTaken{Kept: 2, Known: 1}) {
		t.Errorf("two late readings and one again: got %+v", got)
	}
	check("late readings change what they touch", span(0, 10), span(60, 90), span(150, 300), span(360, 600))
	if got := must(s.store.Catalog(t.Context()).Outside(s.shelf.Code, minute(5), minute(9)))(t); cmp.Diff([]exposure.Span{span(5, 9)}, got) != "" {
		t.Errorf("a shelf is never dry-kept: got %v", got)
	}
	if diff := cmp.Diff([]exposure.Span{span(70, 90), span(150, 160)}, s.outside(t, minute(70), minute(160))); diff != "" {
		t.Errorf("a window cuts the spans (-want +got):\n%s", diff)
	}
}

// TestOutsideOfRandomReadings sends readings late, twice and out of order, and
// sets limits in between: what is kept piece by piece must be what the pure
// reckoning finds in all of it at once.
func TestOutsideOfRandomReadings(t *testing.T) {
	t.Parallel()
	for seed := range uint64(25) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			s, r := newShop(t, 0), rand.New(rand.NewPCG(seed, 5))
			var all []exposure.Reading
			var set []exposure.Limits
			met := map[string]inventory.PlacedReading{}
			start := s.now().UTC()
			for range 40 {
				s.wait(time.Duration(r.IntN(90)) * time.Minute)
				if r.IntN(12) == 0 {
					from := s.now().UTC().Add(-time.Duration(r.IntN(90)) * time.Minute)
					if n := len(set); n > 0 && from.Before(set[n-1].From) {
						from = set[n-1].From
					}
					l := limits(time.Duration(20+r.IntN(120))*time.Minute, from)
					if r.IntN(4) == 0 {
						l.Limits = exposure.Limits{From: from, MaxGap: time.Hour}
					}
					s.setLimits(t, l)
					set = append(set, l.Limits)
				}
				var batch []inventory.PlacedReading
				for range r.IntN(6) + 1 {
					since := int(s.now().Sub(start)/time.Minute) + 1
					p := reading(s.cabinet.Code, fmt.Sprint("L", r.IntN(2)), start.Add(time.Duration(r.IntN(since))*time.Minute), unit.Celsius(12+r.IntN(10)), unit.Humidity(30+r.IntN(14)))
					key := p.Logger + p.At.String()
					if before, twice := met[key]; twice {
						p = before
					} else {
						met[key], all = p, append(all, p.Reading)
					}
					batch = append(batch, p)
				}
				s.sends(t, batch...)
				from := start.Add(time.Duration(r.IntN(3000)-100) * time.Minute)
				to := from.Add(time.Duration(r.IntN(2000)) * time.Minute)
				want := exposure.NotDry(all, set, from, to)
				got := must(s.store.Catalog(t.Context()).Undry(s.cabinet.Code, from, to))(t)
				if len(want)+len(got) > 0 {
					if diff := cmp.Diff(want, got); diff != "" {
						t.Fatalf("Undry(%s, %s) after %d readings (-want +got):\n%s", from, to, len(all), diff)
					}
				}
			}
		})
	}
}

func TestReadingsThatAreRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	now := s.now()
	there := reading(s.cabinet.Code, "L1", now.Add(-time.Hour), 20, 30)
	s.sends(t, there)
	with := func(change func(*inventory.PlacedReading)) inventory.PlacedReading {
		r := reading(s.cabinet.Code, "L1", now, 20, 30)
		change(&r)
		return r
	}
	tests := []struct {
		name    string
		reading inventory.PlacedReading
		field   string
	}{
		{"from the future", with(func(r *inventory.PlacedReading) { r.At = now.Add(time.Hour) }), "at"},
		{"without an instant", with(func(r *inventory.PlacedReading) { r.At = time.Time{} }), "at"},
		{"of no place", with(func(r *inventory.PlacedReading) { r.Place = "K2222-X" }), "place"},
		{"of a spool", with(func(r *inventory.PlacedReading) { r.Place = "W7K2M-3" }), "place"},
		{"without a logger", with(func(r *inventory.PlacedReading) { r.Logger = " " }), "logger"},
		{"more than saturated", with(func(r *inventory.PlacedReading) { r.Air.Humidity = 101 * unit.Percent }), "rh_pct"},
		{"hotter than an oven", with(func(r *inventory.PlacedReading) { r.Air.Temperature = 700 * unit.Degree }), "temperature_c"},
		{"other than before", with(func(r *inventory.PlacedReading) { r.At = there.At; r.Air.Humidity++ }), "at"},
	}
	for _, tt := range tests {
		good := reading(s.cabinet.Code, "L2", now, 20, 30)
		_, err := s.ledger.TakeReadings(t.Context(), inventory.ReadingsEntry{Person: s.attendant.Code, Way: inventory.ByAPI, Readings: []inventory.PlacedReading{good, tt.reading}})
		if err == nil || !strings.Contains(fmt.Sprintf("%+v", fieldsOf(err)), "readings/0/"+tt.field) {
			t.Errorf("%s: TakeReadings: got %v, want a fault of readings/0/%s", tt.name, err, tt.field)
		}
	}
	if p := must(s.store.Catalog(t.Context()).PlaceClimate(s.cabinet.Code))(t); len(p.Latest) != 1 {
		t.Errorf("a batch with one fault kept something: %+v", p.Latest)
	}
	if _, err := s.ledger.TakeReadings(t.Context(), inventory.ReadingsEntry{Person: s.welder.Code, Way: inventory.ByAPI, Readings: []inventory.PlacedReading{there}}); inventory.KindOf(err) != inventory.Forbidden {
		t.Errorf("a welder sends readings: got %v, want forbidden", err)
	}
}

func fieldsOf(err error) []inventory.FieldFault {
	if e, ok := err.(*inventory.Error); ok {
		return e.Fields
	}
	return nil
}

func TestClimateLimitsThatAreRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	s.setLimits(t, limits(time.Hour, time.Time{}))
	ok := limits(time.Hour, time.Time{})
	with := func(change func(*inventory.ClimateLimits)) inventory.ClimateLimits {
		l := ok
		change(&l)
		return l
	}
	tests := []struct {
		name   string
		place  inventory.Code
		by     inventory.Code
		limits inventory.ClimateLimits
		field  string // empty for a person who may not
	}{
		{"by a welder", s.cabinet.Code, s.welder.Code, ok, ""},
		{"of a shelf", s.shelf.Code, s.engineer.Code, ok, "place"},
		{"without a source", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.Source = "" }), "source"},
		{"without a gap", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.MaxGap = 0 }), "max_gap"},
		{"with a gap of a month", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.MaxGap = 30 * 24 * time.Hour }), "max_gap"},
		{"upside down", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.Lowest, l.Highest = l.Highest, l.Lowest }), "highest"},
		{"from the future", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.From = s.now().Add(time.Hour) }), "in_force_from"},
		{"before the last ones", s.cabinet.Code, s.engineer.Code, with(func(l *inventory.ClimateLimits) { l.From = s.now().Add(-time.Hour) }), "in_force_from"},
	}
	for _, tt := range tests {
		version := must(s.store.Catalog(t.Context()).Place(tt.place))(t).Version
		_, err := s.ledger.SetClimateLimits(t.Context(), inventory.ClimateLimitsEntry{Edit: inventory.Edit{Person: tt.by, RequestKey: s.key(), Version: version}, Place: tt.place, Limits: tt.limits})
		if tt.field == "" && inventory.KindOf(err) != inventory.Forbidden || tt.field != "" && !strings.Contains(fmt.Sprint(fieldsOf(err)), tt.field) {
			t.Errorf("limits %s: got %v, want a fault of %q", tt.name, err, tt.field)
		}
	}
	changes := must(s.ledger.Changes(t.Context(), inventory.PlaceRecord, string(s.cabinet.Code)))(t)
	if len(changes) != 1 || !strings.Contains(changes[0].What[0], "at most 40 %RH, 15 °C to 45 °C, a reading at least every 1 h; source: invented manual") {
		t.Errorf("the place's history: %+v", changes)
	}
}

// TestDropReadings: what decided and the sums stay when the readings go.
func TestDropReadings(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	start := s.now().UTC().Truncate(inventory.ByDay)
	s.setLimits(t, limits(2*time.Hour, start))
	const days = int(inventory.ReadingsKept/inventory.ByDay) + 30
	damps, gaps := 0, 0
	var batch []inventory.PlacedReading
	for day := range days {
		if day%10 == 3 {
			damps++
		}
		if day%7 == 2 {
			gaps++
		}
		for hour := range 24 {
			damp := unit.Humidity(30)
			if day%10 == 3 && hour > 20 {
				damp = 45
			}
			if day%7 == 2 && hour > 12 && hour < 18 {
				continue
			}
			batch = append(batch, reading(s.cabinet.Code, "L1", start.Add(time.Duration(24*day+hour)*time.Hour), unit.Celsius(20+hour%3), damp))
		}
		if day%10 == 9 || day == days-1 {
			s.clock.Store(start.Add(time.Duration(day+1) * inventory.ByDay).Unix())
			s.sends(t, batch...)
			batch = nil
		}
	}
	before, end := s.outside(t, start, s.now()), s.now()
	means := must(s.store.Catalog(t.Context()).ClimateMeans(s.cabinet.Code, inventory.ByDay, start, end))(t)
	dropped := 0
	for n := 1; n > 0; dropped += n {
		n = must(s.ledger.DropReadings(t.Context(), end))(t)
	}
	if gone := dropped / 24; gone < 20 || gone > 23 {
		t.Errorf("DropReadings after %d days: dropped %d readings, %d days, want those of 23 days", days, dropped, gone)
	}
	if len(before) != damps+gaps {
		t.Errorf("Outside: got %d spans, want %d damp evenings and %d gaps", len(before), damps, gaps)
	}
	if diff := cmp.Diff(before, s.outside(t, start, end)); diff != "" {
		t.Errorf("Outside after the readings were dropped (-before +after):\n%s", diff)
	}
	if diff := cmp.Diff(means, must(s.store.Catalog(t.Context()).ClimateMeans(s.cabinet.Code, inventory.ByDay, start, end))(t)); diff != "" || len(means) != days || means[0].Readings != 24 || means[0].Highest != 22*unit.Degree {
		t.Errorf("ClimateMeans by the day (-before +after), the first %+v of %d:\n%s", means[0], len(means), diff)
	}
	late := reading(s.cabinet.Code, "L1", start.Add(30*time.Minute), 20, 30)
	if _, err := s.ledger.TakeReadings(t.Context(), inventory.ReadingsEntry{Person: s.attendant.Code, Readings: []inventory.PlacedReading{late}}); len(fieldsOf(err)) != 1 {
		t.Errorf("a reading of what is summed up: got %v, want a fault of its instant", err)
	}
	recent := reading(s.cabinet.Code, "L1", end.Add(-inventory.ReadingsKept+inventory.ByDay+30*time.Minute), 20, 45)
	s.sends(t, recent)
	if got := s.outside(t, start, end); len(got) != len(before)+1 {
		t.Errorf("a damp reading a day before it would be too late: got %d spans, before %d", len(got), len(before))
	}
}

// TestACardOfAWinterIsTaken sends the half-hours of 180 days, read off a
// logger's card in summer, in two batches of which the later comes first, to a
// cabinet that another logger watched with a gap of two months; and holds what
// comes of it against the reckoning of all readings at once.
func TestACardOfAWinterIsTaken(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	start := s.now().UTC().Truncate(inventory.ByDay)
	within := limits(2*time.Hour, start)
	s.setLimits(t, within)
	const days = 180
	var watched, card []inventory.PlacedReading
	damp := func(i, every int) unit.Humidity {
		if i%every < 3 {
			return 45
		}
		return 30
	}
	for hour := range days * 24 {
		if day := hour / 24; day < 40 || day >= 100 {
			watched = append(watched, reading(s.cabinet.Code, "L1", start.Add(time.Duration(hour)*time.Hour), 20, damp(hour, 241)))
		}
	}
	for half := range days * 48 {
		if half%1000 > 12 { // it lost six hours now and then
			card = append(card, reading(s.cabinet.Code, "card", start.Add(time.Duration(half)*30*time.Minute+7*time.Minute), 20, damp(half, 391)))
		}
	}
	end := start.Add(days * inventory.ByDay)
	s.clock.Store(end.Add(200 * inventory.ByDay).Unix())
	s.sends(t, watched...)
	alone := s.outside(t, start, end)
	s.sends(t, card[len(card)/2:]...)
	s.sends(t, card[:len(card)/2]...)
	var all []exposure.Reading
	for _, r := range append(watched, card...) {
		all = append(all, r.Reading)
	}
	want := exposure.Spans(exposure.NotDry(all, []exposure.Limits{within.Limits}, start, end))
	got := s.outside(t, start, end)
	if diff := cmp.Diff(want, got); diff != "" || len(got) < 30 {
		t.Errorf("Outside after the card, %d spans (-reckoned at once +kept):\n%s", len(got), diff)
	}
	if before, after := exposure.Length(alone, end), exposure.Length(got, end); before < 58*inventory.ByDay || after > 10*inventory.ByDay {
		t.Errorf("not dry for %v without the card and for %v with it, want two months and a few days", before, after)
	}
}

func TestSweepClimate(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	s.setLimits(t, limits(time.Hour, time.Time{}))
	steps := []struct {
		name          string
		wait          time.Duration
		damp          unit.Humidity // of the reading then; zero sends none
		climate, mute int           // alerts that stand
		says          string
	}{
		{"it never sent anything", time.Minute, 0, 0, 1, "never sent a reading"},
		{"it is inside", time.Minute, 30, 0, 0, ""},
		{"it is damp", time.Minute, 55, 1, 0, "measured 20.0 °C and 55.0 %RH"},
		{"it is damp still", 59 * time.Minute, 0, 1, 0, "too damp"},
		{"it has been silent for the gap", time.Minute, 0, 0, 1, "1 h is allowed"},
		{"it is inside again", time.Minute, 30, 0, 0, ""},
	}
	for _, step := range steps {
		s.wait(step.wait)
		if step.damp > 0 {
			s.sends(t, reading(s.cabinet.Code, "L1", s.now(), 20, step.damp))
		}
		for range 2 { // a second sweep raises nothing twice
			if _, _, err := s.ledger.SweepClimate(t.Context(), s.now()); err != nil {
				t.Fatal(err)
			}
		}
		climate := must(s.store.Catalog(t.Context()).OpenAlerts(inventory.ClimateAlert))(t)
		mute := must(s.store.Catalog(t.Context()).OpenAlerts(inventory.SilentAlert))(t)
		text := ""
		for _, a := range append(climate, mute...) {
			text += a.Text
		}
		if len(climate) != step.climate || len(mute) != step.mute || !strings.Contains(text, step.says) {
			t.Errorf("%s: %d climate and %d logger alerts, %q; want %d, %d and %q", step.name, len(climate), len(mute), text, step.climate, step.mute, step.says)
		}
	}
}

func TestSweepClimateOfSeveralLoggers(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	s.setLimits(t, limits(time.Hour, time.Time{}))
	steps := []struct {
		name    string
		wait    time.Duration
		loggers string // those that send then
		alerts  int    // about a logger that stand
		all     int    // that ever were raised
		says    string
	}{
		{"both speak", time.Minute, "AB", 0, 0, ""},
		{"one is late", 59 * time.Minute, "A", 0, 0, ""},
		{"one is silent for the gap", time.Minute, "", 1, 1, "In Dry cabinet 1 a logger has fallen silent: B since"},
		{"it is silent still", 30 * time.Minute, "A", 1, 1, "B since"},
		{"it speaks again", time.Minute, "AB", 0, 1, ""},
		{"it falls silent once more", time.Hour, "AC", 1, 2, "B since"},
		{"another falls silent too: a cause of its own", time.Hour, "A", 2, 3, "C since"},
		{"the first speaks again, the second does not", time.Minute, "AB", 1, 3, "C since"},
		{"none speaks: that is another alert", time.Hour, "", 0, 3, ""},
		{"a gauge is read by hand", time.Minute, "ABCh", 0, 3, ""},
		{"nobody reads it again", 2 * time.Hour, "ABC", 0, 3, ""},
		{"two were taken away a week ago", 8 * 24 * time.Hour, "A", 0, 3, ""},
	}
	for _, step := range steps {
		s.wait(step.wait)
		for _, name := range step.loggers {
			r := reading(s.cabinet.Code, string(name), s.now(), 20, 30)
			way := inventory.ByAPI
			if name == 'h' {
				way = inventory.ByHand
			}
			must(s.ledger.TakeReadings(t.Context(), inventory.ReadingsEntry{Person: s.attendant.Code, Way: way, Readings: []inventory.PlacedReading{r}}))(t)
		}
		for range 2 {
			if _, _, err := s.ledger.SweepClimate(t.Context(), s.now()); err != nil {
				t.Fatal(err)
			}
		}
		c := s.store.Catalog(t.Context())
		stands := must(c.OpenAlerts(inventory.LoggerAlert))(t)
		cleared := must(c.Alerts(inventory.AlertQuery{Kind: inventory.LoggerAlert, Cleared: true}))(t)
		text := ""
		for _, a := range stands {
			text += a.Text
			if a.Place() != s.cabinet.Code {
				t.Errorf("%s: an alert about %q is of place %q, want %q", step.name, a.Subject, a.Place(), s.cabinet.Code)
			}
		}
		if len(stands) != step.alerts || len(stands)+len(cleared) != step.all || !strings.Contains(text, step.says) {
			t.Errorf("%s: %d alerts about a logger, %d ever, %q; want %d, %d and %q", step.name, len(stands), len(stands)+len(cleared), text, step.alerts, step.all, step.says)
		}
	}
}

// TestALoggerAheadSilencesNoOtherPlace: of two places, the one that is first by
// name has a logger whose clock is ahead.
func TestALoggerAheadSilencesNoOtherPlace(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	other := must(s.ledger.AddPlace(t.Context(), inventory.Place{Name: "Zeta cabinet", DryKept: true}))(t)
	s.setLimits(t, limits(time.Hour, time.Time{}))
	must(s.ledger.SetClimateLimits(t.Context(), inventory.ClimateLimitsEntry{Edit: inventory.Edit{Person: s.engineer.Code, RequestKey: s.key(), Version: must(s.store.Catalog(t.Context()).Place(other.Code))(t).Version}, Place: other.Code, Limits: limits(time.Hour, time.Time{})}))(t)
	s.sends(t, reading(other.Code, "Z", s.now(), 20, 30))
	s.wait(57 * time.Minute)
	s.sends(t, reading(s.cabinet.Code, "L1", s.now().Add(4*time.Minute), 20, 30))
	if raised, _, err := s.ledger.SweepClimate(t.Context(), s.now()); raised != 0 || err != nil {
		t.Errorf("57 min after its reading, of 1 h: SweepClimate raised %d, %v: %+v", raised, err, must(s.store.Catalog(t.Context()).OpenAlerts(""))(t))
	}
}

func TestClimateMeansOfWeeks(t *testing.T) {
	t.Parallel()
	s := newShop(t, 0)
	start := s.now().UTC()
	var batch []inventory.PlacedReading
	for day := range 60 {
		for n, damp := range []unit.Humidity{30, 60} {
			batch = append(batch, reading(s.cabinet.Code, fmt.Sprint("L", n), start.Add(time.Duration(day)*inventory.ByDay), unit.Celsius(day), damp+unit.Humidity(day%7)))
		}
	}
	s.clock.Store(start.Add(60 * inventory.ByDay).Unix())
	s.sends(t, batch...)
	c := s.store.Catalog(t.Context())
	const week = 7 * inventory.ByDay
	got := must(c.ClimateMeans(s.cabinet.Code, week, start.Add(-week), s.now()))(t)
	want := map[string]inventory.ClimateMean{} // made of the days
	sums := map[string]unit.Celsius{}
	for _, d := range must(c.ClimateMeans(s.cabinet.Code, inventory.ByDay, start.Add(-week), s.now()))(t) {
		from := time.Unix(d.From.Unix()/604800*604800, 0).UTC()
		key := from.String() + d.Logger
		w, seen := want[key]
		if !seen {
			w = d
			w.From, w.Readings = from, 0
		}
		sums[key] += d.Mean
		w.Readings++
		w.Lowest, w.Highest, w.Driest, w.Dampest = min(w.Lowest, d.Lowest), max(w.Highest, d.Highest), min(w.Driest, d.Driest), max(w.Dampest, d.Dampest)
		w.Mean = sums[key] / unit.Celsius(w.Readings)
		want[key] = w
	}
	if len(got) != len(want) || len(got) < 18 {
		t.Fatalf("60 days of two loggers are %d weeks, want %d", len(got), len(want))
	}
	for i, g := range got {
		w := want[g.From.String()+g.Logger]
		w.MeanHum = g.MeanHum
		if diff := cmp.Diff(w, g); diff != "" {
			t.Errorf("week %d (-want +got):\n%s", i, diff)
		}
		if i > 0 && g.From.Before(got[i-1].From) {
			t.Errorf("week %d begins before the one before", i)
		}
	}
}
