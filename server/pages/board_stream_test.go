package pages_test

import (
	"bufio"
	"context"
	"log/slog"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/inventory/store"
	"wirehold/server/pages"
)

// oneVersion is a hub that has told one version and counts its listeners.
type oneVersion struct{ gone chan struct{} }

func (o oneVersion) Listen() (<-chan string, func(), error) {
	changes := make(chan string, 1)
	changes <- "7"
	return changes, func() { close(o.gone) }, nil
}

// pipeListener accepts one connection, which has no room for what is not read.
type pipeListener struct {
	conns chan net.Conn
	done  chan struct{}
}

func (l pipeListener) Accept() (net.Conn, error) {
	select {
	case c := <-l.conns:
		return c, nil
	case <-l.done:
		return nil, net.ErrClosed
	}
}
func (l pipeListener) Close() error   { return nil }
func (l pipeListener) Addr() net.Addr { return &net.TCPAddr{} }

// onStream opens the stream, with one more header line or none, in time that
// passes at once, over a connection that has no room for what is not read, and
// hands f its end.
func onStream(t *testing.T, header string, f func(t *testing.T, page net.Conn, hub oneVersion)) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	synctest.Test(t, func(t *testing.T) {
		db, err := store.Open(t.Context(), path, slog.New(slog.DiscardHandler))
		if err != nil {
			t.Fatal(err)
		}
		hub := oneVersion{make(chan struct{})}
		site, err := pages.New(pages.Deps{Ledger: inventory.NewLedger(db, nil, time.Now), Catalog: func(ctx context.Context) pages.Catalog { return db.Catalog(ctx) },
			Log: slog.New(slog.DiscardHandler), Now: time.Now, NewKey: func() string { return "key" }, Live: hub})
		if err != nil {
			t.Fatal(err)
		}
		gin.SetMode(gin.TestMode)
		r := gin.New()
		site.Register(r)
		l := pipeListener{make(chan net.Conn, 1), make(chan struct{})}
		srv := &http.Server{Handler: r, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second} // as in server.Serve
		go srv.Serve(l)
		page, there := net.Pipe()
		l.conns <- there
		if _, err := page.Write([]byte("GET /board/stream HTTP/1.1\r\nHost: shop\r\n" + header + "\r\n")); err != nil {
			t.Fatal(err)
		}
		f(t, page, hub)
		page.Close()
		close(l.done)
		srv.Close()
		<-hub.gone
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
}

func TestAPageThatTakesNothingIsLetGo(t *testing.T) {
	t.Parallel()
	onStream(t, "", func(t *testing.T, page net.Conn, hub oneVersion) {
		if line, err := bufio.NewReaderSize(page, 16).ReadString('\n'); err != nil || !strings.Contains(line, "200") {
			t.Fatalf("the stream begins %q, %v", line, err)
		}
		started := time.Now()
		<-hub.gone
		if took := time.Since(started); took != 10*time.Second {
			t.Errorf("who takes nothing is let go after %s, want 10 s", took)
		}
	})
}

// TestAPageThatListensIsKept reads for longer than the server's time limits for
// requests that end.
func TestAPageThatListensIsKept(t *testing.T) {
	t.Parallel()
	onStream(t, "", func(t *testing.T, page net.Conn, _ oneVersion) {
		started, seen := time.Now(), map[string]int{}
		for lines := bufio.NewScanner(page); time.Since(started) < 5*time.Minute+time.Second; {
			if !lines.Scan() {
				t.Fatalf("the stream ended after %s: %v", time.Since(started), lines.Err())
			}
			seen[lines.Text()]++
		}
		if seen["event: board"] != 1 || seen["id: 7"] != 1 || seen["event: beat"] != 20 {
			t.Errorf("in five minutes there were %d boards, %d ids and %d beats; want 1, 1 and 20", seen["event: board"], seen["id: 7"], seen["event: beat"])
		}
	})
}

// TestAPageThatComesBackIsLiveAtOnce opens the stream as a page does that has
// the board of version 7 and lost the program for a while.
func TestAPageThatComesBackIsLiveAtOnce(t *testing.T) {
	t.Parallel()
	onStream(t, "Last-Event-ID: 7\r\n", func(t *testing.T, page net.Conn, _ oneVersion) {
		started := time.Now()
		for lines := bufio.NewScanner(page); lines.Scan(); {
			if lines.Text() == "event: board" {
				t.Fatal("the board that the page has is sent again")
			}
			if lines.Text() == "event: beat" {
				break
			}
		}
		if took := time.Since(started); took != 0 {
			t.Errorf("a page that comes back hears that it is live after %s, want at once", took)
		}
	})
}
