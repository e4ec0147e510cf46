package week_test

import (
	"fmt"
	"math/rand/v2"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// randomWeek is a busy shop: 5 to 20 orders whose dates are closer than its
// people, clamps and drying places allow.
func randomWeek(number uint64) (week.WeekInput, []jigplan.Job) {
	rng := rand.New(rand.NewPCG(number, 77))
	pick := func(values ...int) int { return values[rng.IntN(len(values))] }
	w := settings.Default().Week
	w.People, w.Benches = pick(1, 1, 2, 2, 3), pick(1, 2, 2)
	w.Clamps, w.DryingPlaces, w.OpenMinutes = pick(12, 16, 24, 32), pick(6, 8, 12, 24), float64(pick(20, 40, 60))
	var plans []*jigplan.Plan
	minutes := 0.0
	for range 5 + rng.IntN(16) {
		p := randomPlan(rng, w)
		plans, minutes = append(plans, p), minutes+p.Time.Minutes
	}
	days := minutes / (408 * float64(min(w.People, w.Benches+1))) * 7 / 5
	var jobs []jigplan.Job
	for k, p := range plans {
		for i := range p.Order.Boxes {
			p.Order.Boxes[i].Due = monday.AddDate(0, 0, 3+rng.IntN(max(1, int(days*0.9))))
		}
		due := p.Order.Boxes[0].Due
		for _, b := range p.Order.Boxes {
			if b.Due.Before(due) {
				due = b.Due
			}
		}
		job := week.JobOf(fmt.Sprint(k+1), "", due, p)
		job.Weight = pick(1, 1, 1, 1, 2, 3)
		jobs = append(jobs, job)
	}
	return week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, 40+int(3*days), w), Week: w}, jobs
}

// randomPlan is what a planned order of one to three box lines brings to the
// week.
func randomPlan(rng *rand.Rand, w settings.Week) *jigplan.Plan {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}}
	p.Order.Settings.Week = w
	boxes, coats := 0, 0
	for line := range 1 + rng.IntN(3) {
		b := orders.Box{Name: fmt.Sprint("Box ", line+1), Count: 1 + rng.IntN(6)}
		if rng.IntN(3) > 0 {
			b.Finish, coats = "oil", coats+b.Count
		}
		p.Order.Boxes = append(p.Order.Boxes, b)
		for unit := 1; unit <= b.Count; unit++ {
			boxes++
			p.Parts = append(p.Parts, orders.Part{ID: fmt.Sprint("T-", boxes), Line: line, Unit: unit, Role: orders.Side})
		}
	}
	for s := range 1 + rng.IntN(4) {
		id := fmt.Sprint("U", s+1)
		p.Setups = append(p.Setups, jigplan.Setup{ID: id, Program: fmt.Sprint("J", rng.IntN(4)), Stacks: []string{id + "-1"}})
		p.Stacks = append(p.Stacks, jigplan.Stack{ID: id + "-1", Setup: id, Minutes: float64(7 + rng.IntN(20))})
		p.Sequence.Changes = append(p.Sequence.Changes, jigplan.Changeover{Setup: id, Minutes: float64(3 + rng.IntN(18))})
	}
	n := float64(boxes)
	p.Time.Elements = []jigplan.Element{
		{Name: "Mill face and edge", Minutes: 12 * n}, {Name: "Crosscut", Minutes: 3 * n},
		{Name: "Groove", Minutes: 4 * n}, {Name: "Glue-up", Minutes: (6 + 6*rng.Float64()) * n},
		{Name: "Sanding", Minutes: (8 + 8*rng.Float64()) * n}, {Name: "Coat", Count: 2 * float64(coats), Minutes: 8 * float64(coats)},
	}
	for _, s := range p.Stacks {
		p.Time.Elements = append(p.Time.Elements, jigplan.Element{Name: "Cut pass", Minutes: s.Minutes})
	}
	for _, e := range p.Time.Elements {
		p.Time.Minutes += e.Minutes
	}
	allowance := 0.15 * p.Time.Minutes
	p.Time.Elements = append(p.Time.Elements, jigplan.Element{Name: "Allowance", Minutes: allowance})
	p.Time.Minutes += allowance
	return p
}
