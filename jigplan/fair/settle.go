package fair

import (
	"fmt"
	"math"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// maxRounds is how often a mix is planned and put on the clock at most.
const maxRounds = 10

// made is a mix that was planned and put on the clock for real.
type made struct {
	answer   Answer
	capacity []float64 // under which it is the best
	plan     *jigplan.Plan
	week     *jigplan.Week
	minutes  float64
}

// settle looks for the best mix that can really be made. The model knows hours,
// not the waits between them, and areas, not shapes: where the boards fall
// short its wood is drawn in, and the hours that can be used are found by
// halving between those that do and those that are too many.
func (f *fairing) settle() error {
	f.build()
	h := slices.IndexFunc(f.limits, func(l limit) bool { return l.Name == hoursName })
	has := slices.Clone(f.model.Capacity)
	f.has = has
	fits, err := f.evaluate()
	if err != nil {
		return err
	}
	if h >= 0 {
		if fits {
			err = f.widen(h, has[h])
		} else {
			err = f.halve(h, has[h])
		}
	}
	if err != nil {
		return err
	}
	f.take()
	return nil
}

// evaluate plans the best mix under the present limits; fits when it is done in
// time. Wood that turns out too little is drawn in on the way.
func (f *fairing) evaluate() (fits bool, err error) {
	for {
		answer := f.solve(f.model.Capacity)
		if f.best != nil && slices.Equal(answer.Pick, f.best.answer.Pick) {
			f.best.capacity = slices.Clone(f.model.Capacity)
			return true, nil
		}
		f.fair.Rounds++
		try := &made{answer: answer, capacity: slices.Clone(f.model.Capacity)}
		short, late, err := f.make(try)
		switch {
		case err != nil:
			return false, err
		case short && f.fair.Rounds < 2*maxRounds:
			continue
		case short || late:
			return false, nil
		}
		if f.best == nil || answer.Value > f.best.answer.Value {
			f.best = try
		}
		return true, nil
	}
}

// halve looks between no hours, which always do, and all hours, which were too
// many, for the most that can be used.
func (f *fairing) halve(h int, has float64) error {
	low, high := 0.0, has
	for high-low > has/40 && f.fair.Rounds < maxRounds || f.best == nil {
		middle := (low + high) / 2
		if f.fair.Rounds >= 2*maxRounds {
			middle = 0
		}
		f.model.Capacity[h] = middle
		fits, err := f.evaluate()
		switch {
		case err != nil:
			return err
		case fits:
			low = middle
		case middle == 0:
			return nil
		default:
			high = middle
		}
	}
	return nil
}

// widen allows more hours while the boxes of a whole mix take less time than
// they were reckoned at one by one.
func (f *fairing) widen(h int, has float64) error {
	for f.fair.Rounds < maxRounds {
		wider := f.used(f.best.answer, h) + 0.9*(has-f.best.minutes)
		if wider < f.model.Capacity[h]*1.02 {
			return nil
		}
		f.model.Capacity[h] = wider
		rounds := f.fair.Rounds
		fits, err := f.evaluate()
		if err != nil || !fits || f.fair.Rounds == rounds {
			return err
		}
	}
	return nil
}

// make plans a mix and puts it on the clock: short when the boards do not hold
// it, which draws in that wood; late when it is not done in time.
func (f *fairing) make(try *made) (short, late bool, err error) {
	sub := f.orderOf(try.answer)
	limits := f.Options.Limits
	if limits.Think = limits.Think / (maxRounds / 2); limits.Think == 0 {
		limits.Think = time.Second
	}
	if len(sub.Boxes) > 0 {
		if try.plan, err = plan.Plan(sub, plan.Options{Partial: true, Limits: limits}); err != nil {
			return false, false, err
		}
		if f.drawInWood(try.plan, try.answer) {
			return true, false, nil
		}
	}
	late, err = f.clock(try, sub)
	return false, late, err
}

// orderOf is the new boxes of a mix as an order.
func (f *fairing) orderOf(answer Answer) *orders.Order {
	sub := *f.Order
	sub.Boxes, sub.Loose, sub.Candidates, sub.Findings = nil, nil, nil, nil
	for line, k := range answer.Pick {
		for way, n := range f.picks[line][k].fresh {
			if n == 0 {
				continue
			}
			w := &f.ways[f.lines[line][way]]
			box := w.Box
			box.Count, box.Spare, box.Due, box.Customer = n, 0, time.Time{}, f.set.Rates.FairName
			if len(f.lines[line]) > 1 {
				box.Name += ", " + w.Wood
			}
			sub.Boxes = append(sub.Boxes, box)
		}
	}
	return &sub
}

// drawInWood narrows the wood of which the real plan had too little.
func (f *fairing) drawInWood(p *jigplan.Plan, answer Answer) bool {
	missing := map[string]float64{}
	short := map[string]bool{}
	for _, s := range p.Layout.Short {
		short[s.Part] = true
	}
	for _, part := range p.Parts {
		if short[part.ID] {
			missing[woods.Key(part.Wood)] += part.CutLength.Times(part.CutWidth).SquareMillimetres() / 1e6
		}
	}
	for key, area := range missing {
		for r := range f.limits {
			if f.limits[r].wood == key {
				used := f.used(answer, r)
				f.model.Capacity[r] = math.Min(f.model.Capacity[r], used-math.Max(area/2, used/100))
			}
		}
	}
	return len(missing) > 0
}

func (f *fairing) used(answer Answer, r int) (sum float64) {
	for i, k := range answer.Pick {
		sum += f.model.Items[i].Choices[k].Uses[r]
	}
	return sum
}

// clock puts the mix behind the open jobs; late when it is not done in time.
func (f *fairing) clock(try *made, sub *orders.Order) (late bool, err error) {
	const id = "fair"
	extra := f.halfTasks(try.answer, id)
	try.minutes = 0
	if try.plan != nil {
		try.minutes = try.plan.Time.Minutes
	}
	for _, t := range extra {
		try.minutes += float64(t.Minutes)
	}
	if !f.dated() || try.plan == nil && len(extra) == 0 {
		return false, nil
	}
	plan := try.plan
	if plan == nil {
		plan = &jigplan.Plan{Order: sub}
	}
	ready := f.fair.Ready.AddDate(0, 0, -1)
	name := f.set.Rates.FairName
	if name == "" {
		name = "fair"
	}
	open := append(slices.Clone(f.Open), week.Open{ID: id, Code: "F", Name: name, Due: ready, Plan: plan, Extra: extra})
	days := min(62, max(1, int(f.fair.Ready.Sub(week.Midnight(f.From)).Hours()/24)))
	try.week, err = week.Plan(week.Request{Open: open, From: f.From, Days: days, Settings: f.set, Limits: week.Limits{Work: week.DateWork, Stop: f.Options.Limits.Stop}})
	if err != nil {
		return false, err
	}
	if f.set.Rates.FairHours > 0 && try.minutes > f.set.Rates.FairHours*60 {
		return true, nil
	}
	for _, done := range try.week.Schedule.Finishes {
		if done.Job == id {
			return done.Done.IsZero() || done.Done.After(f.fair.Ready), nil
		}
	}
	return true, nil
}

// halfTasks are what half-made boxes still need.
func (f *fairing) halfTasks(answer Answer, job string) (out []jigplan.Task) {
	for line, k := range answer.Pick {
		left := f.picks[line][k].half
		w := &f.ways[f.lines[line][0]]
		for group := 1; left > 0; group++ {
			n := min(left, max(1, f.set.Week.DryingPlaces))
			left -= n
			name := fmt.Sprintf("%s/half-made %s %d", job, w.Name, group)
			add := func(t jigplan.Task, id string, minutes float64, after []string) []string {
				t.ID, t.Job, t.Boxes, t.After, t.Minutes = id, job, n, after, int(math.Ceil(minutes*float64(n)))
				out = append(out, t)
				return []string{id}
			}
			after := add(jigplan.Task{What: fmt.Sprintf("sand %d half-made %s", n, w.Name), Place: jigplan.AtBench}, name+", sand", w.sand, []string{})
			dry := int(f.set.Week.DryHours * 60)
			for coat := 1; coat <= w.Coats; coat++ {
				after = add(jigplan.Task{What: fmt.Sprintf("coat %d on %d half-made %s", coat, n, w.Name), Place: jigplan.AtFinish, Space: n, Hold: dry, Wait: dry},
					fmt.Sprintf("%s, coat %d", name, coat), w.coat/float64(w.Coats), after)
			}
		}
	}
	return out
}

// take keeps the best mix that was made.
func (f *fairing) take() {
	m := f.best
	if m == nil { // not even leaving all at home was found to fit
		m = &made{answer: Answer{Pick: make([]int, len(f.picks))}, capacity: f.model.Capacity}
	}
	f.model.Capacity = m.capacity
	f.fair.Plan, f.fair.Week, f.fair.Hours = m.plan, m.week, m.minutes/60
	for line, k := range m.answer.Pick {
		p := f.picks[line][k]
		for way, at := range f.lines[line] {
			w := &f.ways[at]
			w.Made, w.Half, w.New = p.of(way)
		}
	}
	for r := range f.limits {
		l := &f.limits[r]
		l.Before, l.Has, l.Needs = f.has[r], f.model.Capacity[r], f.used(m.answer, r)
	}
	f.fair.Expected = measure.Money(math.Round(m.answer.Value))
	if m.plan != nil {
		for i := range f.ways {
			f.fair.Together += measure.Money(f.ways[i].New) * f.ways[i].Material
		}
		f.fair.Together -= MaterialOf(m.plan)
		f.fair.Expected += f.fair.Together
		f.fair.Findings = append(f.fair.Findings, warningsOf(m.plan.Findings, f.fair.Findings)...)
	}
	if m.week != nil {
		f.fair.Findings = append(f.fair.Findings, warningsOf(m.week.Findings, f.fair.Findings)...)
	}
	f.lastDays()
}

func warningsOf(found, known []orders.Finding) (out []orders.Finding) {
	for _, p := range found {
		if p.Level != orders.Note && !slices.Contains(known, p) {
			out = append(out, p)
		}
	}
	return out
}

// lastDays finds the last days a box of the slowest kind can be begun and
// glued up.
func (f *fairing) lastDays() {
	var slowest *way
	for i := range f.ways {
		w := &f.ways[i]
		if w.Area != nil && (slowest == nil || w.Coats > slowest.Coats || w.Coats == slowest.Coats && w.Minutes > slowest.Minutes) {
			slowest = w
		}
	}
	if slowest == nil || !f.dated() {
		return
	}
	p, err := f.trial(slowest, 1)
	if err != nil || len(p.Layout.Boards) == 0 {
		return
	}
	job := week.JobOf("last", slowest.Name, time.Time{}, p)
	f.fair.LastMill = f.lastStart(job)
	from := slices.IndexFunc(job.Tasks, func(t jigplan.Task) bool { return t.Place == jigplan.AtClamps })
	if from >= 0 {
		job.Tasks = slices.Clone(job.Tasks[from:])
		job.Tasks[0].After = []string{}
		f.fair.LastGlue = f.lastStart(job)
	}
}

// lastStart is the last day on which a job can begin and still be ready; zero:
// none from today on.
func (f *fairing) lastStart(job jigplan.Job) time.Time {
	for day := f.fair.Ready.AddDate(0, 0, -1); !day.Before(week.Midnight(f.From)); day = day.AddDate(0, 0, -1) {
		if week.Closed(day, f.set.Week) {
			continue
		}
		from := day
		if from.Before(f.From) {
			from = f.From
		}
		halves := week.Calendar(from, int(f.fair.Ready.Sub(day).Hours()/24), f.set.Week)
		if len(halves) == 0 {
			continue
		}
		s := week.Schedule(week.WeekInput{Jobs: []jigplan.Job{job}, Week: f.set.Week, Halves: halves}, week.Limits{Work: 1})
		if len(s.Unplaced) == 0 && len(s.Finishes) == 1 && !s.Finishes[0].Done.IsZero() && !s.Finishes[0].Done.After(f.fair.Ready) {
			return day
		}
	}
	return time.Time{}
}
