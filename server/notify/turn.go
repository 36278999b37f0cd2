package notify

import (
	"context"
	"errors"
	"time"
)

// turns looks into an outbox at once and again every while until ctx ends, and
// then waits for the look under way. An error of a look is told to failed.
func turns(ctx context.Context, every time.Duration, look func(context.Context) error, failed func(error)) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		if err := look(ctx); err != nil && ctx.Err() == nil {
			failed(err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// patience is how something is tried again: after a first pause, then after one
// twice as long each time, up to a longest; given up after so many tries.
type patience struct {
	first, longest time.Duration
	tries          int
}

// next returns when what failed at the instant at is tried again; zero gives it
// up.
func (p patience) next(failed error, tries int, at time.Time, chance float64) time.Time {
	if _, never := errors.AsType[*Refused](failed); never || tries >= p.tries {
		return time.Time{}
	}
	return at.Add(p.pause(tries, chance))
}

// pause returns how long to wait after a try, more or less by a fifth, so that
// what failed in one outage does not all come back at once. chance is from 0 up
// to 1.
func (p patience) pause(tries int, chance float64) time.Duration {
	wait := p.longest
	if tries < 7 { // doubled more often, it could run over
		wait = min(p.first<<max(tries-1, 0), p.longest)
	}
	return wait + time.Duration((chance-0.5)*0.4*float64(wait))
}

// begun is the context of one try or of writing down how it went: a program that
// is being stopped finishes what it has begun.
func begun(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeout(context.WithoutCancel(ctx), tryTime)
}
