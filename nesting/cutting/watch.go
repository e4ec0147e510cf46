package cutting

import (
	"sync"
	"time"

	"batchwright/nesting"
)

// watch tells a search when to end for reasons outside it. Chains share one.
type watch struct {
	deadline time.Time
	stop     <-chan struct{}
	whole    int64 // work on each floor under whole boards; 0: none is looked for
	exact    int64 // work on the exact solvers; 0: they are not asked
	mix      int64 // work on choosing among all fillings met; 0: none

	mu  sync.Mutex
	end nesting.Stop
}

func newWatch(lim nesting.Limits) *watch {
	w := &watch{deadline: lim.Deadline, stop: lim.Stop}
	if think := thinkTime(lim.Think); think > minThink {
		w.whole = int64(min(2, think.Seconds()) * wholeWork)
		w.exact = int64(think.Seconds() * exactWork)
		w.mix = int64(think.Seconds() * mixWork)
	}
	return w
}

// over reports whether the clock ran out or the maker interrupted.
func (w *watch) over() bool { return w.why() != "" }

// why is the reason outside the search that ended it, empty while none did.
func (w *watch) why() nesting.Stop {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.end != "" {
		return w.end
	}
	select {
	case <-w.stop:
		w.end = nesting.StopInterrupted
		return w.end
	default:
	}
	if !w.deadline.IsZero() && time.Now().After(w.deadline) {
		w.end = nesting.StopTime
	}
	return w.end
}

// ended reports whether something outside had ended the search by now.
func (w *watch) ended() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.end != ""
}
