package inventory

import (
	"context"
	"fmt"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/filler"
	"wirehold/inventory/unit"
)

// Bounds of what is a limit at all: a mistyped one is refused.
const (
	shortestGap = time.Minute
	// LongestGap is the longest that one reading may speak for a place; it
	// bounds how far back a late reading reaches.
	LongestGap = 7 * 24 * time.Hour
)

// ClimateLimitsEntry is what a place has to keep, as somebody sets it.
type ClimateLimitsEntry struct {
	Edit
	Place  Code
	Limits ClimateLimits // From zero is now
}

// SetClimateLimits gives a dry-kept place other limits, from an instant on that
// is not before its last ones began. Limits with no side set declare the place
// dry. The place's history keeps who set them. The error is [Forbidden] for
// whoever may not enter places, [Invalid] for a place that is not dry-kept.
func (l *Ledger) SetClimateLimits(ctx context.Context, e ClimateLimitsEntry) (Place, error) {
	of := e.Limits
	deed := recordDeed[Place]{Edit: e.Edit, keeper: placeKeeper(), deed: RecordEdited, subject: string(e.Place), may: mayEnterPlaces,
		wish: wish(RecordEdited, string(e.Place), e.Version, "climate limits", limitText(of), of.From, of.MaxGap, of.Provenance, of.Source)}
	if e.Place.Kind() == FeederCode {
		deed.keeper.kind = FeederRecord // a feeder is a place too, and may keep its wire dry
	}
	deed.decide = func(tx Tx, before Place, at time.Time) (Place, []string, error) {
		climate, err := tx.PlaceClimate(before.Code)
		if err != nil {
			return before, nil, err
		}
		of := of
		if err := of.ready(climate, at); err != nil {
			return before, nil, err
		}
		state, err := tx.ClimateState(before.Code)
		if err != nil {
			return before, nil, err
		}
		if first := state.TakenFrom; !first.IsZero() && of.From.Before(first) {
			return before, nil, Invalidf("in_force_from", "readings are kept from %s on: the limits cannot begin before", Stamp(first))
		}
		of.Version = before.Version + 1
		if err := tx.AddClimateLimits(before.Code, of); err != nil {
			return before, nil, err
		}
		what := fmt.Sprintf("climate limits: %s; source: %s (%s)", limitText(of), of.Source, of.Provenance)
		if !of.From.Equal(at) {
			what += ", from " + Stamp(of.From)
		}
		if was := climate.InForce(of.From); len(climate.Limits) > 0 {
			what += ", before " + limitText(was)
		}
		return before, []string{what}, resettle(tx, before.Code, of.From, state.SettledAt)
	}
	return changeRecord(ctx, l, deed)
}

// ready fills in what was left out and says what is wrong.
func (l *ClimateLimits) ready(p PlaceClimate, at time.Time) error {
	var faults []FieldFault
	fault := func(field, format string, args ...any) {
		faults = append(faults, FieldFault{field, fmt.Sprintf(format, args...)})
	}
	if !p.DryKept {
		fault("place", "%s is not dry-kept: limits are for a place that keeps wire dry", p.Name)
	}
	if l.From.IsZero() {
		l.From = at
	}
	l.From = l.From.UTC().Truncate(time.Second)
	if n := len(p.Limits); n > 0 && l.From.Before(p.Limits[n-1].From) {
		fault("in_force_from", "its last limits began at %s: these cannot begin before", Stamp(p.Limits[n-1].From))
	}
	if l.From.After(at) {
		fault("in_force_from", "limits cannot begin in the future")
	}
	if !l.Declared() && (l.MaxGap < shortestGap || l.MaxGap > LongestGap) {
		fault("max_gap", "say how long may pass between two readings: from 1 minute to 7 days")
	}
	if l.Lowest != nil && l.Highest != nil && *l.Lowest >= *l.Highest {
		fault("highest", "the highest temperature must be above the lowest")
	}
	faults = append(faults, tidyAll(map[string]*string{"source": &l.Source})...)
	if l.Source == "" {
		fault("source", "say where the limits come from: the maker's sheet, the cabinet's manual, the shop's own rule")
	}
	if l.Provenance == "" {
		l.Provenance = filler.Shop
	}
	return faultsError(faults)
}

// limitText writes limits in one line: "at most 40 %RH, 15 °C to 45 °C, a
// reading at least every 1 h".
func limitText(l ClimateLimits) string {
	if l.Declared() {
		return "none: dry by declaration"
	}
	text := ""
	and := func(s string) {
		if text != "" {
			text += ", "
		}
		text += s
	}
	if l.MaxHumidity != nil {
		and("at most " + l.MaxHumidity.String())
	}
	switch {
	case l.Lowest != nil && l.Highest != nil:
		and(l.Lowest.String() + " to " + l.Highest.String())
	case l.Lowest != nil:
		and("at least " + l.Lowest.String())
	case l.Highest != nil:
		and("at most " + l.Highest.String())
	}
	and("a reading at least every " + lengthText(l.MaxGap))
	return text
}

// String writes the limits in one line.
func (l ClimateLimits) String() string { return limitText(l) }

// lengthText writes a length of time as a person says it: "90 min", "24 h".
func lengthText(d time.Duration) string {
	if d%time.Hour == 0 {
		return fmt.Sprintf("%d h", d/time.Hour)
	}
	return fmt.Sprintf("%d min", d/time.Minute)
}

// LimitOffer is limits that somebody prints, to start from. They are what a
// store of unopened wire keeps; the maker of the wire or of the cabinet may ask
// for more.
type LimitOffer struct {
	Row    string // of testdata/exposure_rules.csv
	Limits ClimateLimits
}

// LimitOffers lists the limits that the form offers, strictest first, from the
// storage-climate rows of testdata/exposure_rules.csv; the gap is that of row
// E100 (a reading at least once a day).
func LimitOffers() []LimitOffer {
	gap := 24 * time.Hour
	offer := func(row string, humidity unit.Humidity, lowest, highest unit.Celsius, source string) LimitOffer {
		l := exposure.Limits{MaxGap: gap}
		if humidity != 0 {
			humidity *= unit.Percent
			l.MaxHumidity = &humidity
		}
		lowest, highest = lowest*unit.Degree, highest*unit.Degree
		l.Lowest, l.Highest = &lowest, &highest
		return LimitOffer{row, ClimateLimits{Limits: l, Provenance: filler.Published, Source: source + "; a reading a day: consultancy page (E100)"}}
	}
	return []LimitOffer{
		offer("E059, E060", 50, 10, 32, "maker's storage guide B, all consumables (E059, E060)"),
		offer("E058", 50, 27, 38, "maker's storage guide A, cored wire in box and bag at 27 to 38 °C (E058)"),
		offer("E057", 60, 16, 27, "maker's storage guide A, cored wire in box and bag at 16 to 27 °C (E057)"),
		offer("E061, E062", 80, 10, 30, "maker's storage guide C, cored wire: the most lenient printed (E061, E062)"),
	}
}

// IsOffered reports whether the limits are, with their source, just what one of
// [LimitOffers] prints.
func IsOffered(l ClimateLimits) bool {
	for _, o := range LimitOffers() {
		if limitText(l) == limitText(o.Limits) && l.Source == o.Limits.Source {
			return true
		}
	}
	return false
}
