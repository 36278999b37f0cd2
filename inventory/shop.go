package inventory

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// Shop is what the shop says of its own days. Nothing of it is a limit of a
// rule: it decides when somebody is told.
type Shop struct {
	ShiftEnds   []ShiftEnd    // none: nobody is told that a spool is not returned
	Grace       time.Duration // how long after the end of a shift a spool may still come back, in whole minutes
	Quiet       QuietHours    // none: messages go out at any hour
	NearBefore  time.Duration // how long before a spool runs out of hours somebody is told, in whole minutes
	ShelfBefore int           // how many days before a lot is past its date somebody is told
	Version     int           // counts the changes, from 1
}

// ShopReader looks up what the shop says of itself.
type ShopReader interface {
	// Shop returns the shop's settings; as the program brings them until
	// somebody changes them.
	Shop() (Shop, error)
}

// ShopTx changes what the shop says of itself.
type ShopTx interface {
	// UpdateShop writes the settings at the version after the one they have:
	// [Conflict] if they have another.
	UpdateShop(Shop) error
}

// shopSubject is the subject of the settings' history.
const shopSubject = "shop"

// The most that the shop may ask for.
const (
	mostShiftEnds   = 21 // three a day
	mostGrace       = 4 * time.Hour
	mostNearBefore  = 14 * 24 * time.Hour
	mostShelfBefore = 365
)

// ShopEntry is the settings as somebody edits them.
type ShopEntry struct {
	Edit
	Of Shop
}

// ChangeShop writes the shop's settings. The welding engineer or the owner may.
func (l *Ledger) ChangeShop(ctx context.Context, e ShopEntry) (Shop, error) {
	return changeRecord(ctx, l, recordDeed[Shop]{Edit: e.Edit, keeper: shopKeeper(), deed: RecordEdited, subject: shopSubject,
		wish: wish(RecordEdited, shopSubject, e.Version, shiftEndsText(e.Of.ShiftEnds), e.Of.Grace, e.Of.Quiet, e.Of.NearBefore, e.Of.ShelfBefore), may: mayChangeShop,
		decide: func(_ Tx, before Shop, _ time.Time) (Shop, []string, error) {
			after := e.Of
			after.Version = before.Version
			if err := after.ready(); err != nil {
				return before, nil, err
			}
			return after, toldDifferences(differ(before.differences(after)...)), nil
		}})
}

func mayChangeShop(by Person) error {
	if by.Role.MayEnterWork() {
		return nil
	}
	return Forbiddenf("may-not-change-shop", "%s is a %s: the welding engineer or the owner says when shifts end", by.Name, by.Role)
}

// ready says what is wrong with the settings.
func (s Shop) ready() error {
	var faults []FieldFault
	if len(s.ShiftEnds) > mostShiftEnds {
		faults = append(faults, FieldFault{"shift_ends", fmt.Sprintf("at most %d lines", mostShiftEnds)})
	}
	for _, e := range s.ShiftEnds {
		if e.Days == 0 || !e.At.good() {
			faults = append(faults, FieldFault{"shift_ends", "write days and a time, such as Mon-Fri 15:30"})
		}
	}
	if s.Grace < 0 || s.Grace > mostGrace || s.Grace%time.Minute != 0 {
		faults = append(faults, FieldFault{"grace", "give 0 to 240 whole minutes"})
	}
	if s.NearBefore < 0 || s.NearBefore > mostNearBefore || s.NearBefore%time.Minute != 0 {
		faults = append(faults, FieldFault{"near_before", "give at most 336 hours"})
	}
	if s.ShelfBefore < 0 || s.ShelfBefore > mostShelfBefore {
		faults = append(faults, FieldFault{"shelf_before", "give 0 to 365 days"})
	}
	if !s.Quiet.From.good() || !s.Quiet.To.good() {
		faults = append(faults, FieldFault{"quiet", "write two times, such as 20:00-06:00"})
	}
	return faultsError(faults)
}

func (s Shop) differences(after Shop) []Difference {
	return []Difference{
		{"shifts end", shiftEndsText(s.ShiftEnds), shiftEndsText(after.ShiftEnds)},
		{"grace", s.Grace.String(), after.Grace.String()},
		{"quiet hours", s.Quiet.String(), after.Quiet.String()},
		{"told before hours run out", s.NearBefore.String(), after.NearBefore.String()},
		{"told before a lot's date, days", fmt.Sprint(s.ShelfBefore), fmt.Sprint(after.ShelfBefore)},
	}
}

func shiftEndsText(ends []ShiftEnd) string {
	texts := make([]string, len(ends))
	for i, e := range ends {
		texts[i] = e.String()
	}
	return strings.Join(texts, ", ")
}

func shopKeeper() recordKeeper[Shop] {
	return recordKeeper[Shop]{kind: ShopRecord,
		name:   func(Shop) string { return "the shop's settings" },
		mark:   func(s *Shop) (string, *int) { return shopSubject, &s.Version },
		read:   func(tx Tx, _ string) (Shop, error) { return tx.Shop() },
		update: Tx.UpdateShop}
}
