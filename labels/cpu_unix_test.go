//go:build unix

package labels

import (
	"syscall"
	"time"
)

// cpu is the processor time that this process has had: what a benchmark takes
// where others run beside it.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
