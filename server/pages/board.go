package pages

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"sync"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// BoardPage is the exposure board: what is out or open now.
type BoardPage struct {
	Base
	Board template.HTML // as [Pages.draw] returns it
}

// BoardView is the board as it is drawn, on the page and again with each change.
type BoardView struct {
	Clock  string // "10:05"
	Counts []BoardCount
	Rows   []BoardRow
	More   int // spools that are not shown
}

// BoardCount is how many spools stand alike.
type BoardCount struct {
	N           int
	Word, Shape string
}

// BoardRow is a spool on the board, in the words it is drawn with: a template
// that only fills words in draws a hundred rows in a fraction of the time.
type BoardRow struct {
	Shape          string        // safe, caution or stop
	Mark           template.HTML // the shape
	Word           string        // how it stands: "past limit"
	Left, LeftMore string        // "over by 2 h 10 min", "ran out Fri 14:20"
	Code           inventory.Code
	Detail         string // class, diameter, and that it is on hold
	Who, WhoMore   string // empty and "in the store"
	Where          string
	Back, BackMore string // by when it is to be back: "15:30"; empty in the store
	Overdue        bool   // it should be back
}

// stands are the words and shapes of how a spool stands, the worst first.
var stands = [...]struct {
	stand       inventory.BoardStand
	word, shape string
}{
	{inventory.BoardPast, "past limit", "stop"},
	{inventory.BoardCaution, "caution", "caution"},
	{inventory.BoardNear, "soon", "caution"},
	{inventory.BoardUnknown, "not known", "caution"},
	{inventory.BoardInTime, "in time", "safe"},
	{inventory.BoardSealed, "sealed", "safe"},
}

// boardView draws the board in the shop's zone; marks are the shapes by name.
func boardView(b inventory.Board, zone *time.Location, marks map[string]template.HTML) BoardView {
	at := b.At.In(zone)
	view := BoardView{Clock: at.Format("15:04"), More: b.More, Rows: make([]BoardRow, len(b.Lines))}
	n := map[inventory.BoardStand]int{}
	for i, line := range b.Lines {
		n[line.Stand]++
		view.Rows[i] = boardRow(line, at)
		row := &view.Rows[i]
		for _, s := range stands {
			if s.stand == line.Stand {
				row.Word, row.Shape, row.Mark = s.word, s.shape, marks[s.shape]
			}
		}
	}
	for _, s := range stands {
		if n[s.stand] > 0 {
			view.Counts = append(view.Counts, BoardCount{n[s.stand], s.word, s.shape})
		}
	}
	return view
}

// boardRow words a line at an instant in the shop's zone.
func boardRow(line inventory.BoardLine, at time.Time) BoardRow {
	row := BoardRow{Code: line.Code, Detail: line.Class + " " + line.Diameter.Inches(), Where: line.PlaceName, WhoMore: "in the store", BackMore: "not out"}
	if line.Held != "" {
		row.Detail += ", on hold"
	}
	switch {
	case line.Limited && line.Left < 0:
		row.Left, row.LeftMore = "over by "+hoursLeft(line.Left), runsOut(line, at.Location(), at)
	case line.Limited:
		row.Left, row.LeftMore = hoursLeft(line.Left), runsOut(line, at.Location(), at)
	case line.Opened():
		row.Left, row.LeftMore = "not known", "ask the engineer"
	default:
		row.Left = "not opened"
	}
	if !line.Out() {
		return row
	}
	row.Who, row.WhoMore, row.BackMore = line.HolderName, "job "+line.JobNumber, "no shift set"
	if !line.Loaded() {
		row.Where = "no feeder"
	}
	if !line.Returns.IsZero() {
		row.Back, row.BackMore = inventory.ShortStamp(line.Returns.In(at.Location()), at), ""
	}
	if row.Overdue = line.Late(at); row.Overdue {
		row.BackMore = "late"
	}
	return row
}

// hoursLeft writes how long is left to the minute, or by how much the limit is
// passed: "2 h 10 min", "3 days" from four days on.
func hoursLeft(d time.Duration) string {
	d = max(d, -d)
	switch {
	case d >= 96*time.Hour:
		return fmt.Sprintf("%d days", int(d.Hours())/24)
	case d >= time.Hour:
		return fmt.Sprintf("%d h %02d min", int(d.Hours()), int(d.Minutes())%60)
	}
	return fmt.Sprintf("%d min", int(d.Minutes()))
}

// runsOut says when the limit is reached or was; nothing moves meanwhile.
func runsOut(line inventory.BoardLine, zone *time.Location, at time.Time) string {
	switch {
	case line.RunsOut.IsZero():
		return "dry-kept: the clock stands"
	case line.Left < 0:
		return "ran out " + inventory.ShortStamp(line.RunsOut.In(zone), at)
	}
	return "runs out " + inventory.ShortStamp(line.RunsOut.In(zone), at)
}

// board answers GET /board.
func (p *Pages) board(c *gin.Context) error {
	version, err := p.Ledger.BoardVersion(c.Request.Context())
	if err != nil {
		return err
	}
	html, err := p.draw(c.Request.Context(), version)
	if err != nil {
		return err
	}
	return p.show(c, http.StatusOK, "board", BoardPage{Base: p.base(c, "Exposure board", "board"), Board: template.HTML(html)})
}

// drawn is the board as it was last drawn: every page gets the same, and it is
// drawn once for each version.
type drawn struct {
	mu      sync.Mutex
	version string
	html    []byte
}

// draw returns the board of a version, or a later one.
func (p *Pages) draw(ctx context.Context, version string) ([]byte, error) {
	p.drawn.mu.Lock()
	defer p.drawn.mu.Unlock()
	if p.drawn.version == version && p.drawn.html != nil {
		return p.drawn.html, nil
	}
	b, err := p.Ledger.Board(ctx)
	if err != nil {
		return nil, err
	}
	marks := map[string]template.HTML{}
	for _, shape := range []string{"safe", "caution", "stop"} {
		mark, err := p.templates.part("board", "shape", shape)
		if err != nil {
			return nil, err
		}
		marks[shape] = template.HTML(mark)
	}
	html, err := p.templates.part("board", "board", boardView(b, p.Zone, marks))
	if err != nil {
		return nil, err
	}
	p.drawn.version, p.drawn.html = version, html
	return html, nil
}
