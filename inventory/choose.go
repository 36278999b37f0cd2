package inventory

import (
	"context"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// Choices answers "which spool should I take?" for one job.
type Choices struct {
	Job       Job
	Procedure Procedure
	Feeder    *Feeder // nil if none was named
	Fitting   []Choice
	Near      []NearMiss
	More      int // spools that fit and are not among the listed
}

// Choice is a spool in the store that fits: the open ones first, the longest
// open before the others; then the sealed ones by the use-by day of their lot,
// those of lots without one last, and then the first received first.
type Choice struct {
	SpoolLine
	UseBy   Day // of its lot; empty if its papers name none
	Verdict fit.Verdict
	Left    *time.Duration // until the exposure rule says worse of an open spool than now; nil if it is sealed or nobody gives a limit
	Amount  fit.Finding    // of the rule remaining: whether the wire on it is enough for the weld
}

// NearMiss is wire in the store that a single rule keeps from the job.
type NearMiss struct {
	Wire   Wire
	Open   bool        // of open spools, or of sealed ones
	Spools int         // how many miss by it
	First  Code        // one of them
	Why    fit.Finding // the one rule that stops
}

// StockGroup is the spools of one lot in the store that the fit check tells
// apart by nothing but their exposure and what is left on them.
type StockGroup struct {
	Lot    Lot
	Open   bool
	Held   string // why they are on hold; empty if they are not
	Spools int
	First  Code // one of them
}

// OpenSpool is an open spool in the store.
type OpenSpool struct {
	Code     Code
	LotID    int64
	Held     string // why it is on hold; empty if it is not
	OpenedAt time.Time
	Track    exposure.Track
}

// StockReader looks up what lies in the store.
type StockReader interface {
	// InStore counts the spools that are neither out nor scrapped, by lot.
	InStore() ([]StockGroup, error)
	// OpenInStore returns the open spools of the lots that are in the store, the
	// longest open first.
	OpenInStore(lots []int64) ([]OpenSpool, error)
	// SealedInStore returns up to limit sealed spools of the lots that are in
	// the store and not on hold: by the use-by days of their lots, those without
	// one last, and then the first received first.
	SealedInStore(lots []int64, limit int) ([]Code, error)
	// WaivedInStore returns the spools in the store that have a waiver for the
	// job which stands at an instant.
	WaivedInStore(job Code, at time.Time) ([]Code, error)
	// SpoolLines returns the spools with the codes, in no order.
	SpoolLines([]Code) ([]SpoolLine, error)
}

const usualChoices, mostChoices = 10, 50

// Choose lists up to limit spools in the store that fit the job, and the feeder
// unless it is empty, and as many near misses; zero is 10, and there are never
// more than 50. It changes nothing, and what it lists is checked again when it
// is issued.
func (l *Ledger) Choose(ctx context.Context, job, feeder Code, limit int) (Choices, error) {
	return l.ChooseUnder(ctx, job, 0, feeder, limit)
}

// ChooseUnder is [Ledger.Choose] for one of the job's procedures; zero is its
// only one. [Invalid], of the field procedure, where it has several and none is
// named.
func (l *Ledger) ChooseUnder(ctx context.Context, job Code, procedure int64, feeder Code, limit int) (c Choices, err error) {
	if limit <= 0 {
		limit = usualChoices
	}
	err = l.store.Snapshot(ctx, func(r Reader) error {
		base, err := l.demanded(r, Check{}, job, procedure, feeder)
		if err != nil {
			return err
		}
		at := l.at()
		check := func(s Spool) (Check, error) { return l.check(r, s, job, procedure, feeder, at) }
		shop, err := r.Shop()
		if err != nil {
			return err
		}
		shift := func(c exposure.Clock) time.Time { return l.shiftEnd(shop, c) }
		ch := &chooser{r: r, check: check, shift: shift, base: base, at: at, limit: min(limit, mostChoices), wires: map[int64]*knownWire{}, judged: map[judgedKey]*fit.LotCheck{}, missed: map[missKey]int{}}
		c, err = ch.choose()
		return err
	})
	return c, err
}
