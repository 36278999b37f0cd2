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
	Left           string        // "2 h 10 min", "over by 31 h"
	Out, OutMore   string        // when the limit is reached if nothing moves: "Fri 14:20"; "stands", "dry-kept"
	Code           inventory.Code
	Held           template.HTML // the shape of a stop, if it is on hold
	Detail         string        // class, diameter, and that it is on hold
	Who, WhoMore   string        // empty and "in the store"
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
		if line.Held != "" {
			row.Held = marks["stop"]
		}
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
		row.Detail = "on hold, " + row.Detail
	}
	switch {
	case line.Limited && line.Left < 0:
		row.Left = "over by " + hoursOver(-line.Left)
		row.Out, row.OutMore = inventory.ShortStamp(line.RunsOut.In(at.Location()), at), "it ran out"
	case line.Limited && line.RunsOut.IsZero():
		row.Left, row.Out, row.OutMore = hoursLeft(line.Left), "stands", "dry-kept"
	case line.Limited:
		row.Left, row.Out = hoursLeft(line.Left), inventory.ShortStamp(line.RunsOut.In(at.Location()), at)
	case line.Opened():
		row.Left, row.OutMore = "not known", "ask the engineer"
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

// hoursLeft writes how long is left, never more than it is: "2 h 10 min", "31 h"
// from ten hours on, "5 days" from four days on. When the limit is reached
// stands beside it to the minute.
func hoursLeft(d time.Duration) string {
	if d >= time.Hour && d < 10*time.Hour {
		return fmt.Sprintf("%d h %02d min", int(d.Hours()), int(d.Minutes())%60)
	}
	return hoursOver(d)
}

// hoursOver writes by how long a limit is passed, in the largest unit alone.
func hoursOver(d time.Duration) string {
	switch {
	case d >= 96*time.Hour:
		return fmt.Sprintf("%d days", int(d.Hours())/24)
	case d >= time.Hour:
		return fmt.Sprintf("%d h", int(d.Hours()))
	}
	return fmt.Sprintf("%d min", int(d.Minutes()))
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
