// Package live tells open pages that something they show has changed. It knows
// that there is a new version and not what is in it: whoever listens looks
// again.
package live

import (
	"context"
	"errors"
	"log/slog"
	"sync"
	"time"

	"wirehold/inventory"
)

// Hub tells its listeners of each new version. It is safe for concurrent use,
// and no listener, slow or gone, ever holds it up: one that has not taken a
// version yet gets the next one in its place.
type Hub struct {
	version func(context.Context) (string, error)
	every   time.Duration
	most    int
	log     *slog.Logger
	poke    chan struct{}

	mu        sync.Mutex
	listeners map[chan string]bool
	latest    string
	ended     bool
}

// NewHub returns a hub for at most so many listeners. version names what is
// there now; it is asked after each change here and every so often, for changes
// made elsewhere, while somebody listens.
func NewHub(version func(context.Context) (string, error), every time.Duration, most int, log *slog.Logger) *Hub {
	return &Hub{version: version, every: every, most: most, log: log, poke: make(chan struct{}, 1), listeners: map[chan string]bool{}}
}

// Run tells of new versions until ctx ends; then every listener is let go.
func (h *Hub) Run(ctx context.Context) error {
	defer h.end()
	tick := time.NewTicker(h.every)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
		case <-h.poke:
		}
		h.look(ctx)
	}
}

// Changed says that something may have changed. It never waits.
func (h *Hub) Changed() {
	select {
	case h.poke <- struct{}{}:
	default: // the hub is about to look anyway
	}
}

// Listen returns a channel with the version that is there, if it is known, and
// each new one; a channel that is closed says that the program ends. stop must
// be called. [inventory.Unavailable] if there are too many listeners, or the
// program ends.
func (h *Hub) Listen() (changes <-chan string, stop func(), err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.ended || len(h.listeners) >= h.most {
		return nil, nil, &inventory.Error{Kind: inventory.Unavailable, Code: "too-many-live", Detail: "too many pages are kept live: this one is not, and must be loaded again"}
	}
	c := make(chan string, 1)
	if h.latest != "" {
		c <- h.latest
	}
	h.listeners[c] = true
	h.Changed()
	return c, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.listeners, c)
	}, nil
}

// look asks for the version and tells everybody if it is new.
func (h *Hub) look(ctx context.Context) {
	h.mu.Lock()
	idle := len(h.listeners) == 0
	h.mu.Unlock()
	if idle {
		return
	}
	v, err := h.version(ctx)
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			h.log.WarnContext(ctx, "live_version_unknown", "error", err)
		}
		return
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if v == h.latest {
		return
	}
	h.latest = v
	for c := range h.listeners {
		select {
		case <-c: // it has not taken the last one: this is later
		default:
		}
		c <- v // there is room for one, and only the hub sends
	}
}

func (h *Hub) end() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.ended = true
	for c := range h.listeners {
		close(c)
		delete(h.listeners, c)
	}
}
