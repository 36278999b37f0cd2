package inventory

import (
	"context"
	"fmt"
	"strconv"
	"time"

	"wirehold/inventory/fit"
)

// SweepLots raises an alert for each lot with wire in stock that has no
// certificate, is past its shelf life, or will be within the days that the shop
// says, and clears those whose cause is gone. It returns how many it raised and
// cleared; a second run raises nothing twice.
func (l *Ledger) SweepLots(ctx context.Context, at time.Time) (raised, cleared int, err error) {
	err = l.store.Write(ctx, func(tx Tx) error {
		raised, cleared = 0, 0 // it may run twice
		due, err := l.dueLots(tx, at)
		if err != nil {
			return err
		}
		for _, kind := range []AlertKind{CertificateAlert, ShelfLifeAlert, ShelfLifeNearAlert} {
			r, c, err := settle(tx, kind, due[kind], at)
			if err != nil {
				return err
			}
			raised, cleared = raised+r, cleared+c
		}
		return nil
	})
	return raised, cleared, err
}

// dueLots returns what is to be said of each lot, by kind and id.
func (l *Ledger) dueLots(tx Tx, at time.Time) (map[AlertKind]map[string]string, error) {
	due := map[AlertKind]map[string]string{CertificateAlert: {}, ShelfLifeAlert: {}, ShelfLifeNearAlert: {}}
	shop, err := tx.Shop()
	if err != nil {
		return nil, err
	}
	profile, err := l.profileOr(tx, GeneralProfile)
	if err != nil {
		return nil, err
	}
	lots, err := tx.LotsInStock()
	if err != nil {
		return nil, err
	}
	wires := map[int64]Wire{}
	for _, lot := range lots {
		w, known := wires[lot.WireID]
		if !known {
			if w, err = tx.Wire(lot.WireID); err != nil {
				return nil, err
			}
			wires[lot.WireID] = w
		}
		kind, says, err := shelfLife(lot.Lot, w, profile, at, shop.ShelfBefore)
		if err != nil {
			return nil, err
		}
		id, name := strconv.FormatInt(lot.ID, 10), fmt.Sprintf("Lot %s of %s (%s in stock)", lot.Number, lot.TradeName, lot.Net)
		if kind != "" {
			due[kind][id] = name + ": " + says
		}
		if lot.Certificate == "" {
			due[CertificateAlert][id] = fmt.Sprintf("%s came on %s without a certificate.", name, DayOf(lot.ReceivedAt.In(l.zone)))
		}
	}
	return due, nil
}

// shelfLife returns which alert is due of a lot's age, and what the rule says
// of it: that it is past its shelf life, or will be within the days. Empty if
// neither. Past is what the rule stops, and what it cautions about that it did
// not caution about when the lot came: that is the time's doing alone.
func shelfLife(lot Lot, w Wire, profile fit.Profile, at time.Time, days int) (kind AlertKind, says string, err error) {
	fresh, err := ageFinding(lot, w, profile, lot.ReceivedAt)
	if err != nil {
		return "", "", err
	}
	for _, when := range []struct {
		kind AlertKind
		at   time.Time
	}{{ShelfLifeAlert, at}, {ShelfLifeNearAlert, at.AddDate(0, 0, days)}} {
		f, err := ageFinding(lot, w, profile, when.at)
		if err != nil {
			return "", "", err
		}
		switch past := f.Outcome == fit.Stops || f.Outcome == fit.Caution && fresh.Outcome != fit.Caution; {
		case past && when.kind == ShelfLifeAlert:
			return when.kind, f.Says + " (" + f.Demanded.Source + ")", nil
		case past:
			return when.kind, fmt.Sprintf("its shelf life is over within %d days: %s (%s).", days, f.Demanded.Text, f.Demanded.Source), nil
		}
	}
	return "", "", nil
}

// ageFinding is what the shelf-life rule says of a sealed spool of the lot at an
// instant.
func ageFinding(lot Lot, w Wire, profile fit.Profile, at time.Time) (fit.Finding, error) {
	facts, err := w.Facts()
	if err != nil {
		return fit.Finding{}, fmt.Errorf("wire %d: %w", w.ID, err)
	}
	wound, _ := fit.ParsePackage(w.Package) // one that names no kind is not known
	o := fit.Offer{Classifications: w.Classifications, Facts: facts, Diameter: w.Diameter, Package: wound, PackageNet: w.Net, Net: w.Net, LotNumber: lot.Number,
		LotStatus: fit.LotAccepted, At: at, Sealing: lot.Papers.Sealing, Made: lot.Papers.MadeOn.Time(), Received: lot.ReceivedAt, Expires: lot.Papers.Expires.Time()}
	f, _ := fit.Check(o, fit.Demand{}, nil, profile).Find(fit.RuleShelfLife)
	return f, nil
}
