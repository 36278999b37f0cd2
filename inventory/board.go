package inventory

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"wirehold/inventory/exposure"
	"wirehold/inventory/fit"
)

// Board is what is out of the store or open now, the shortest time left first.
type Board struct {
	At    time.Time
	Lines []BoardLine
	More  int // spools that are not among the lines
}

// BoardLine is a spool that is out or open, with how it stands against its
// limit on exposure.
type BoardLine struct {
	SpoolLine
	Stand   BoardStand
	Exposed time.Duration
	Runs    bool          // the clock runs; it stands in a dry-kept place
	Limited bool          // Left is known
	Left    time.Duration // until the limit; less than zero once it is passed
	RunsOut time.Time     // when the limit is reached if nothing moves, or was; zero is never, or not known
	Limit   string        // "72 h"; empty if there is none
	Source  string        // who says so
	Returns time.Time     // by when it is to be back: the end of the shift in which it went out; zero in the store, or if the shop names no shifts
}

// Late reports whether the spool should be back by the instant at.
func (b BoardLine) Late(at time.Time) bool { return !b.Returns.IsZero() && b.Returns.Before(at) }

// BoardStand is how a spool stands against its limit.
type BoardStand string

// The stands, the worst first.
const (
	BoardPast    BoardStand = "past its limit"
	BoardCaution BoardStand = "past a caution" // past a limit that is unconfirmed, or that only cautions
	BoardNear    BoardStand = "near its limit"
	BoardUnknown BoardStand = "limit not known" // or its exposure is not
	BoardInTime  BoardStand = "in time"
	BoardSealed  BoardStand = "sealed" // out, and its exposure has not begun
)

// BoardReader looks up what the board shows.
type BoardReader interface {
	// BoardLines returns up to limit spools that are out or open and not
	// scrapped, those out first, then the longest open, and how many there are.
	BoardLines(limit int) (lines []SpoolLine, all int, err error)
	// BoardVersion names what the board is made from: it is another after
	// each change that the board shows, but for time itself.
	BoardVersion() (string, error)
	// WiresIn returns the wires of the ids with all that is said of them.
	WiresIn(ids []int64) ([]Wire, error)
}

// BoardVersion names the board at this instant: another after each change, and
// each minute, for hours run down by themselves.
func (l *Ledger) BoardVersion(ctx context.Context) (string, error) {
	v, err := l.store.Read(ctx).BoardVersion()
	return fmt.Sprintf("%s-%d", v, l.at().Unix()/60), err
}

// mostOnBoard is how many spools the board weighs, and mostBoardLines how many
// it shows.
const mostOnBoard, mostBoardLines = 2000, 100

// Board returns the exposure board at this instant.
func (l *Ledger) Board(ctx context.Context) (b Board, err error) {
	err = l.store.Snapshot(ctx, func(r Reader) error {
		b, err = l.board(r, l.at())
		return err
	})
	return b, err
}

func (l *Ledger) board(r Reader, at time.Time) (Board, error) {
	b := Board{At: at}
	spools, all, err := r.BoardLines(mostOnBoard)
	if err != nil {
		return b, err
	}
	limits, err := l.boardLimits(r, spools)
	if err != nil {
		return b, err
	}
	shop, err := r.Shop()
	if err != nil {
		return b, err
	}
	air, err := airSince(r, firstOpened(spools, at), at)
	if err != nil {
		return b, err
	}
	for _, s := range spools {
		places, err := air.of(s.Track)
		if err != nil {
			return b, err
		}
		line := lineOnBoard(s, limits[turnKeyOf(s)], s.Track.Clock(places, at), shop.NearBefore)
		if s.Out() {
			line.Returns, _ = shop.NextShiftEnd(s.OutSince.In(l.zone))
		}
		b.Lines = append(b.Lines, line)
	}
	slices.SortStableFunc(b.Lines, byTimeLeft)
	b.Lines = b.Lines[:min(len(b.Lines), mostBoardLines)]
	b.More = all - len(b.Lines)
	return b, b.runOut(air)
}

// runOut fills in when the limit of each line is reached, or was.
func (b Board) runOut(air *airs) error {
	for i := range b.Lines {
		line := &b.Lines[i]
		places, err := air.of(line.Track)
		if err != nil {
			return err
		}
		if line.Limited {
			line.RunsOut = line.Track.RunsOut(places, b.At, line.Exposed+line.Left)
		}
	}
	return nil
}

// firstOpened returns when the first of the spools was opened, or at.
func firstOpened(spools []SpoolLine, at time.Time) time.Time {
	for _, s := range spools {
		if s.Opened() && s.OpenedAt.Before(at) {
			at = s.OpenedAt
		}
	}
	return at
}

// byTimeLeft orders lines by the time left; after those with a limit come those
// of which nobody knows one, and last the sealed ones.
func byTimeLeft(a, b BoardLine) int {
	rank := func(l BoardLine) int {
		switch {
		case l.Stand == BoardSealed:
			return 2
		case l.Limited:
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Left, b.Left), cmp.Compare(b.Exposed, a.Exposed), cmp.Compare(a.Code, b.Code))
}

// boardLimits returns the limits of each wire under each profile that the
// spools are held against.
func (l *Ledger) boardLimits(r Reader, spools []SpoolLine) (map[turnKey][]fit.ExposureTurn, error) {
	var ids []int64
	for _, s := range spools {
		ids = append(ids, s.WireID)
	}
	slices.Sort(ids)
	wires, err := r.WiresIn(slices.Compact(ids))
	if err != nil {
		return nil, err
	}
	byID := map[int64]Wire{}
	for _, w := range wires {
		byID[w.ID] = w
	}
	profiles, limits := map[string]fit.Profile{}, map[turnKey][]fit.ExposureTurn{}
	for _, s := range spools {
		key := turnKeyOf(s)
		if _, known := limits[key]; known {
			continue
		}
		profile, known := profiles[s.ProfileID]
		if !known {
			if profile, err = l.profileOr(r, s.ProfileID); err != nil {
				return nil, err
			}
			profiles[s.ProfileID] = profile
		}
		if limits[key], err = exposureTurns(byID[s.WireID], s.testedLot(), profile); err != nil {
			return nil, err
		}
	}
	return limits, nil
}

// lineOnBoard says how a spool stands against the limits. It is near one for so
// long before it.
func lineOnBoard(s SpoolLine, turns []fit.ExposureTurn, c exposure.Clock, near time.Duration) BoardLine {
	b := BoardLine{SpoolLine: s, Stand: BoardSealed, Exposed: c.Exposed, Runs: c.Runs}
	if !s.Opened() {
		return b
	}
	b.Stand = BoardUnknown
	if len(turns) == 0 || c.Unknown {
		return b
	}
	limit := turns[0] // the first that stops, or else the first that cautions
	passed := fit.Outcome("")
	for _, t := range turns {
		if limit.Outcome != fit.Stops && t.Outcome == fit.Stops {
			limit = t
		}
		if b.Exposed > t.After && passed != fit.Stops {
			passed = t.Outcome
		}
	}
	b.Limited, b.Left, b.Limit, b.Source = true, limit.After-b.Exposed, limit.Demanded.Text, limit.Demanded.Source
	switch {
	case passed == fit.Stops:
		b.Stand = BoardPast
	case passed == fit.Caution:
		b.Stand = BoardCaution
	case b.Left <= near:
		b.Stand = BoardNear
	default:
		b.Stand = BoardInTime
	}
	return b
}
