package cutting

import (
	"time"

	"batchwright/nesting"
)

// watch tells a search when to end for reasons outside it.
type watch struct {
	deadline time.Time
	stop     <-chan struct{}
	why      nesting.Stop
}

func newWatch(lim nesting.Limits) *watch {
	return &watch{deadline: lim.Deadline, stop: lim.Stop}
}

// over reports whether the clock ran out or the maker interrupted.
func (w *watch) over() bool {
	if w.why != "" {
		return true
	}
	select {
	case <-w.stop:
		w.why = nesting.StopInterrupted
		return true
	default:
	}
	if !w.deadline.IsZero() && time.Now().After(w.deadline) {
		w.why = nesting.StopTime
	}
	return w.why != ""
}
