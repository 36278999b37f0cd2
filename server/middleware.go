package server

import (
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/server/api"
	"wirehold/server/live"
)

// identify gives the request an id: in the log, in the answer's header, and on
// the page if something goes wrong.
func identify(newID func() string) gin.HandlerFunc {
	return func(c *gin.Context) {
		id := newID()
		c.Set("request_id", id)
		c.Header("X-Request-Id", id)
		c.Request = c.Request.WithContext(api.WithRequest(c.Request.Context(), id, c.Request.Method, c.GetHeader("Accept-Language")))
		c.Next()
	}
}

// known answers only requests that name one of the hosts, so that no other
// site's name can be made to point here; every host if there are none.
func known(hosts []string) gin.HandlerFunc {
	return func(c *gin.Context) {
		host := c.Request.Host
		if name, _, err := net.SplitHostPort(host); err == nil {
			host = name
		}
		if len(hosts) > 0 && !slices.Contains(hosts, strings.Trim(host, "[]")) {
			c.String(http.StatusMisdirectedRequest, "Wirehold does not answer to this name: open it by the address it printed, or start it with --base.\n")
			c.Abort()
			return
		}
		c.Next()
	}
}

// record writes one line a request. It names the route's pattern, never the
// path, so that no code or search gets into the log.
func record(log *slog.Logger, now func() time.Time) gin.HandlerFunc {
	return func(c *gin.Context) {
		started := now()
		c.Next()
		log.InfoContext(c.Request.Context(), "request",
			"request_id", c.GetString("request_id"), "method", c.Request.Method, "route", c.FullPath(),
			"status", c.Writer.Status(), "took", now().Sub(started))
	}
}

// recoverPanic answers a bug in the program with 500, and keeps serving.
func recoverPanic(log *slog.Logger) gin.HandlerFunc {
	return func(c *gin.Context) {
		defer func() {
			p := recover()
			if p == nil {
				return
			}
			if p == http.ErrAbortHandler {
				panic(p)
			}
			id := c.GetString("request_id")
			log.ErrorContext(c.Request.Context(), "panic", "request_id", id, "panic", fmt.Sprint(p), "stack", string(debug.Stack()))
			if strings.HasPrefix(c.Request.URL.Path, "/api/") {
				api.Failed(c)
				return
			}
			c.String(http.StatusInternalServerError, "Something went wrong on our side. Nothing was changed. Tell whoever runs Wirehold: %s\n", id)
			c.Abort()
		}()
		c.Next()
	}
}

// bounded refuses bodies that are larger than what the route takes: what it
// has in larger, by method and pattern, or else [api.MaxBody].
func bounded(larger map[string]int64) gin.HandlerFunc {
	return func(c *gin.Context) {
		most, ok := larger[c.Request.Method+" "+c.FullPath()]
		if !ok {
			most = api.MaxBody
		}
		c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, most)
		c.Next()
	}
}

// tell lets the open pages look for changes after every request that may have
// made one, once it is answered and so committed.
func tell(hub *live.Hub) gin.HandlerFunc {
	return func(c *gin.Context) {
		c.Next()
		if hub != nil && c.Request.Method != http.MethodGet && c.Request.Method != http.MethodHead {
			hub.Changed()
		}
	}
}
