package pages

import (
	"bytes"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
)

// Live tells of new versions of what a page shows; see the package live.
type Live interface {
	// Listen returns a channel of versions, which is closed when the program
	// ends. stop must be called. [inventory.Unavailable] if there are too many
	// listeners.
	Listen() (changes <-chan string, stop func(), err error)
}

const (
	// beatEvery is how often an open page hears that it is still live.
	beatEvery = 15 * time.Second
	// sentWithin is how long a page may take to take what is sent to it; then
	// it is let go, and comes back if it can.
	sentWithin = 10 * time.Second
)

// boardStream answers GET /board/stream: the board as server-sent events (WHATWG
// HTML, section 9.2), whole, whenever it changes. The id of an event is the
// version; who comes back with the one that stands hears that it is live again.
func (p *Pages) boardStream(c *gin.Context) error {
	if p.Live == nil {
		return &inventory.Error{Kind: inventory.Unavailable, Code: "not-live", Detail: "this program keeps no page live: load it again"}
	}
	changes, stop, err := p.Live.Listen()
	if err != nil {
		return err
	}
	defer stop()
	s, err := newStream(c)
	if err != nil {
		return err
	}
	had := c.GetHeader("Last-Event-ID")
	beat := time.NewTicker(beatEvery)
	defer beat.Stop()
	for {
		select {
		case <-c.Request.Context().Done():
			return nil
		case <-beat.C:
			err = s.send("beat", "", []byte("live"))
		case version, open := <-changes:
			if !open {
				return nil // the program ends: the page comes back to the next one
			}
			if version == had {
				err = s.send("beat", "", []byte("live")) // at once: the page says that it is not live
			} else {
				err = p.sendBoard(c, s, version)
			}
			had = ""
		}
		if err != nil {
			c.Abort()
			return nil // gone, or too slow: nothing can be said to it any more
		}
	}
}

// sendBoard sends the board of a version. A board that cannot be drawn is
// logged and ends the stream, so that the page says that it is not live.
func (p *Pages) sendBoard(c *gin.Context, s *stream, version string) error {
	html, err := p.draw(c.Request.Context(), version)
	if err != nil {
		p.Log.LogAttrs(c.Request.Context(), slog.LevelWarn, "board not drawn", slog.Any("error", err))
		return err
	}
	return s.send("board", version, html)
}

// stream is a page that is sent events.
type stream struct {
	w  gin.ResponseWriter
	rc *http.ResponseController
}

// newStream begins the answer.
func newStream(c *gin.Context) (*stream, error) {
	s := &stream{c.Writer, http.NewResponseController(c.Writer)}
	// The server's time limits are for requests that end.
	if err := errors.Join(s.rc.SetReadDeadline(time.Time{}), s.rc.SetWriteDeadline(time.Time{})); err != nil {
		return nil, err
	}
	c.Header("Content-Type", "text/event-stream; charset=utf-8")
	c.Status(http.StatusOK)
	return s, s.write([]byte("retry: 3000\n\n"))
}

// send sends one event; without an id if that is empty.
func (s *stream) send(event, id string, data []byte) error {
	var b bytes.Buffer
	b.WriteString("event: " + event + "\n")
	if id != "" {
		b.WriteString("id: " + id + "\n")
	}
	for line := range bytes.Lines(data) {
		b.WriteString("data: ")
		b.Write(bytes.TrimRight(line, "\r\n"))
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
	return s.write(b.Bytes())
}

// write writes and gives up after a while: a deadline that is long past ends a
// write that waits for a page that takes nothing.
func (s *stream) write(b []byte) error {
	if err := s.rc.SetWriteDeadline(time.Time{}); err != nil {
		return err
	}
	slow := time.AfterFunc(sentWithin, func() { _ = s.rc.SetWriteDeadline(time.Unix(1, 0)) })
	defer slow.Stop()
	if _, err := io.Copy(s.w, bytes.NewReader(b)); err != nil {
		return err
	}
	return s.rc.Flush()
}
