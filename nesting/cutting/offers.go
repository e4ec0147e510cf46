package cutting

import (
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Offers is what a job's boards hold of one part.
type Offers struct {
	Fits   bool           // some board holds it
	Widest measure.Length // sound width of the widest board long and thick enough; 0: none is
	Plenty measure.Length // of those that any number can be bought of
}

// OffersFor looks at every board a part could be cut from.
func OffersFor(job Job, part orders.Part) (o Offers) {
	job.Parts = []orders.Part{part}
	job.money = newMoney(&job)
	if job.Standard {
		job.Yard = append(job.Yard[:len(job.Yard):len(job.Yard)], standard(job)...)
	}
	p := newProblem(job)
	it := &p.items[0]
	o.Fits = p.whyNot(0) == ""
	for i := range p.stocks {
		s := &p.stocks[i]
		if s.left <= 0 && !s.board.Unlimited || !s.suits(it) || !p.aloneOn(s, it).long {
			continue
		}
		wide := s.sound.width()
		o.Widest = max(o.Widest, wide)
		if s.board.Unlimited {
			o.Plenty = max(o.Plenty, wide)
		}
	}
	return o
}
