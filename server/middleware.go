package server

import (
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/server/api"
)

// identify gives the request an id: in the log, in the answer's header, and on
// the page if something goes wrong.
func identify(c *gin.Context) {
	id := rand.Text()[:12]
	c.Set("request_id", id)
	c.Header("X-Request-Id", id)
	c.Request = c.Request.WithContext(api.WithRequestID(c.Request.Context(), id))
	c.Next()
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
