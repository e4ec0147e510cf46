// Package solve holds the search kernels behind nesting, on plain integers:
// knapsack, linear programming, column generation, branch and bound; every
// answer carries its proven bound and why the search stopped. What the numbers
// mean (boards, kerfs, money) it leaves to its callers, and checking an answer
// to the check package.
package solve

import "time"

// Stop is why a search ended.
type Stop string

// A search ends because its answer is proven best, its fixed work budget is
// spent, its deadline has passed, or somebody interrupted it.
const (
	StopProven      Stop = "proven"
	StopBudget      Stop = "budget"
	StopTime        Stop = "time"
	StopInterrupted Stop = "interrupted"
)

// Budget is how hard a search may try. The zero value asks for the kernel's own
// default work and sets no deadline.
type Budget struct {
	Work     int64           // steps of an inner loop, about a nanosecond each; 0: the kernel's default
	Deadline time.Time       // zero: none
	Stop     <-chan struct{} // closed when the search should end; nil: never
}

// pollEvery is the work between two looks at the clock, a few milliseconds.
const pollEvery = 1 << 21

// Meter counts the work of one search against its budget. Work decides, so an
// answer does not depend on the machine unless the clock had to cut in. A Meter
// belongs to one goroutine.
type Meter struct {
	budget Budget
	spent  int64
	poll   int64
	why    Stop // "" while the search may go on
}

// NewMeter starts to count against b; a budget without work gets defaultWork.
func NewMeter(b Budget, defaultWork int64) *Meter {
	if b.Work <= 0 {
		b.Work = defaultWork
	}
	m := &Meter{budget: b}
	m.look()
	return m
}

// Spend records n steps and reports whether the search may go on.
func (m *Meter) Spend(n int64) bool {
	m.spent += n
	if m.spent >= m.poll {
		m.look()
	}
	return m.why == ""
}

// Over reports whether the search has to end.
func (m *Meter) Over() bool { return m.why != "" }

// Why returns the reason the search had to end, "" while it may go on.
func (m *Meter) Why() Stop { return m.why }

// End ends the search for a reason of the searcher's own, unless it has ended.
func (m *Meter) End(why Stop) {
	if m.why == "" {
		m.why = why
	}
}

// Spent returns the work recorded so far.
func (m *Meter) Spent() int64 { return m.spent }

// Part returns a meter for a part of the search that may use at most work of
// what is left. Give what it spent back with Absorb.
func (m *Meter) Part(work int64) *Meter {
	b := m.budget
	b.Work = min(work, m.budget.Work-m.spent)
	p := &Meter{budget: b, why: m.why}
	p.look()
	return p
}

// Absorb adds the work of a part; a part stopped by the clock or by an
// interrupt stops the whole.
func (m *Meter) Absorb(p *Meter) {
	if p.why == StopTime || p.why == StopInterrupted {
		m.why = p.why
	}
	m.Spend(p.spent)
}

// look settles, at most once, why the search must end.
func (m *Meter) look() {
	m.poll = min(m.spent+pollEvery, m.budget.Work)
	if m.why != "" {
		return
	}
	select {
	case <-m.budget.Stop:
		m.why = StopInterrupted
		return
	default:
	}
	switch {
	case !m.budget.Deadline.IsZero() && !time.Now().Before(m.budget.Deadline):
		m.why = StopTime
	case m.spent >= m.budget.Work:
		m.why = StopBudget
	}
}
