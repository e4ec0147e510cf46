package week

import (
	"math/rand/v2"
	"time"

	"batchwright/nesting"
)

// Limits bounds a search. The zero value means the default work alone: then
// the same problem always gives the same answer.
type Limits struct {
	Deadline time.Time       // zero: none
	Stop     <-chan struct{} // closed when nobody waits for more
	Work     int             // plans tried; 0: the default
	Think    time.Duration   // how long a search may take: the default work grows with it; zero: 5 s
}

// clock says when a search has had its time.
type clock struct {
	limits Limits
	left   int
	calls  int
	over   bool
	why    nesting.Stop
}

func newClock(limits Limits) *clock {
	return &clock{limits: limits, left: limits.Work, why: nesting.StopBudget}
}

// spent counts one piece of work and reports whether the search must end; it
// looks at the time at every 16th call.
func (c *clock) spent() bool {
	c.calls++
	if c.calls > c.left {
		c.over = true
	}
	if c.over || c.calls%16 != 0 {
		return c.over
	}
	select {
	case <-c.limits.Stop:
		c.over, c.why = true, nesting.StopInterrupted
	default:
		if !c.limits.Deadline.IsZero() && time.Now().After(c.limits.Deadline) {
			c.over, c.why = true, nesting.StopTime
		}
	}
	return c.over
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }
