package server

import (
	"context"
	"errors"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"wirehold/inventory"
	"wirehold/server/schedule"
)

// healthWithin is how long the database may take to answer.
const healthWithin = 5 * time.Second

// health answers GET /health, for whoever watches over the program: 200, or 503
// with what is wrong in a line each. A job of the schedule that nobody runs is
// wrong too, for what it fails to do is not seen.
func health(d Deps) gin.HandlerFunc {
	return func(c *gin.Context) {
		ctx, cancel := context.WithTimeout(c.Request.Context(), healthWithin)
		defer cancel()
		if err := d.Healthy(ctx); err != nil {
			c.String(http.StatusServiceUnavailable, "the database does not answer\n")
			return
		}
		if d.Schedule == nil {
			c.String(http.StatusOK, "ok\n")
			return
		}
		switch err := d.Schedule.Healthy(ctx); {
		case inventory.CodeOf(err) == schedule.Overdue:
			c.String(http.StatusServiceUnavailable, "%s\n", saysOf(err))
		case err != nil:
			c.String(http.StatusServiceUnavailable, "the schedule's runs cannot be read\n")
		default:
			c.String(http.StatusOK, "ok\n")
		}
	}
}

// ready answers GET /ready, for whoever sends requests here: 200 if they can be
// answered, which a late job does not hinder.
func ready(d Deps) gin.HandlerFunc {
	return func(c *gin.Context) {
		ctx, cancel := context.WithTimeout(c.Request.Context(), healthWithin)
		defer cancel()
		if err := d.Healthy(ctx); err != nil {
			c.String(http.StatusServiceUnavailable, "the database does not answer\n")
			return
		}
		c.String(http.StatusOK, "ready\n")
	}
}

// saysOf is what may be read of err.
func saysOf(err error) string {
	if e, ok := errors.AsType[*inventory.Error](err); ok {
		return e.Detail
	}
	return ""
}
