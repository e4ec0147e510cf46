package solve

import (
	"math"
	"slices"
	"sync"
)

// tandem lets two searches of one problem run side by side on two cores and still
// give the same answer every time: they tell each other what they found at
// counts of work, not of seconds, and the one ahead waits for the other.
type tandem struct {
	mu    sync.Mutex
	moved sync.Cond
	at    [2]int64 // work each has told of; endless once it has ended
	told  [2][]telling
}

// telling is a solution found by so much work.
type telling struct {
	at   int64
	cuts []cut2d
}

func newTandem() *tandem {
	t := &tandem{}
	t.moved.L = &t.mu
	return t
}

// meet tells the other search of found, when not nil, at so much work, and
// returns what the other had found by the work by, once it has got there.
func (t *tandem) meet(side int, work, by int64, found []cut2d) (news [][]cut2d) {
	t.tell(side, work, work, found)
	t.mu.Lock()
	defer t.mu.Unlock()
	other := 1 - side
	for t.at[other] < by {
		t.moved.Wait()
	}
	for len(t.told[other]) > 0 && t.told[other][0].at <= by {
		news = append(news, t.told[other][0].cuts)
		t.told[other] = t.told[other][1:]
	}
	return news
}

// leave tells what was found last, by so much work, and that no more will come.
func (t *tandem) leave(side int, work int64, found []cut2d) {
	t.tell(side, work, math.MaxInt64, found)
}

// tell notes what one search found by so much work, and that it has got to at.
func (t *tandem) tell(side int, work, at int64, found []cut2d) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if found != nil {
		for _, c := range found {
			c.plan.size() // settled before the other search reads it
		}
		t.told[side] = append(t.told[side], telling{work, slices.Clone(found)})
	}
	t.at[side] = at
	t.moved.Broadcast()
}

// partner is one search's side of a tandem.
type partner struct {
	tandem *tandem
	side   int
	lag    int64 // what the other found this much work ago is news
	cost   int64 // of the solution last told or heard
	miss   int
}

// exchangeNews tells the other search what s has found and takes what it found.
func (s *stock2d) exchangeNews() {
	p := s.partner
	if p == nil {
		return
	}
	work := s.m.Spent()
	s.hear(p.tandem.meet(p.side, work, work-p.lag, s.found()))
}

// found is the best solution when the other search has not heard of it.
func (s *stock2d) found() []cut2d {
	p := s.partner
	if s.missing == p.miss && s.cost == p.cost {
		return nil
	}
	p.miss, p.cost = s.missing, s.cost
	return s.best
}

// hear takes what the other search has found.
func (s *stock2d) hear(news [][]cut2d) {
	for _, cuts := range news {
		if s.accept(cuts) {
			s.partner.miss, s.partner.cost = s.missing, s.cost
			s.heard = append(s.heard, cuts...)
		}
	}
	if s.proven() {
		s.m.End(StopProven)
	}
}

// exchangeLag is how far, in work, an exchange may be ahead of the proof beside it.
const exchangeLag = 2_000_000_000

// runTandem runs prove beside an exchange on another core.
func (s *stock2d) runTandem(prove func()) {
	p, quit := newTandem(), make(chan struct{})
	other := newStock2D(s.stock, s.parts, s.rules, NewMeter(Budget{
		Work: s.m.budget.Work, Deadline: s.m.budget.Deadline, Stop: quit,
	}, 0))
	other.m.spent = s.m.spent
	other.bound, other.worth, other.rounds = s.bound, slices.Clone(s.worth), 1000
	for _, c := range s.best {
		c.plan.size()
	}
	other.accept(s.best)
	s.partner = &partner{tandem: p, side: 0, cost: s.cost, miss: s.missing}
	other.partner = &partner{tandem: p, side: 1, lag: exchangeLag, cost: s.cost, miss: s.missing}
	done := make(chan struct{})
	go func() {
		defer close(done)
		other.explore()
		p.leave(1, other.m.Spent(), other.found())
	}()
	prove()
	if s.m.Why() == StopBudget {
		s.exchangeNews()
	}
	p.leave(0, 0, nil)
	close(quit)
	<-done
	if s.m.Why() == StopTime || s.m.Why() == StopInterrupted {
		s.hear(p.meet(0, math.MaxInt64, math.MaxInt64, nil))
	}
	s.partner = nil
}
