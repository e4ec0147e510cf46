package week

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/times"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// JobOf makes the tasks of a plan: milling and a rest, the setups at the saw
// in their running order, grooves, glue-ups in groups that the clamps and the
// open time of the glue allow, sanding and each coat of finish by group, of
// one line of the order each and for its date. The
// minutes are those of the plan's elements, allowances spread over all, so
// that the tasks add up to the plan but for rounding up to whole minutes.
func JobOf(id, name string, due time.Time, p *jigplan.Plan) jigplan.Job {
	b := &jobBuilder{job: jigplan.Job{ID: id, Name: name, Due: due, Weight: 1}, plan: p, week: p.Order.Settings.Week, minutes: map[string]float64{}}
	b.spread()
	mill := b.mill()
	wood := b.setups(mill)
	lines, boxes := b.lines(), 0
	for _, l := range lines {
		boxes += l.boxes
	}
	if boxes == 0 {
		return b.job
	}
	if groove := b.of(settings.Grooving); groove > 0 {
		wood = b.add(jigplan.Task{What: "cut the grooves", Place: jigplan.AtSaw, Boxes: boxes}, "grooves", groove, wood)
	}
	b.groups(lines, wood)
	return b.job
}

type jobBuilder struct {
	job     jigplan.Job
	plan    *jigplan.Plan
	week    settings.Week
	minutes map[string]float64 // by element, allowances included
}

// spread puts the allowances on the elements they belong to.
func (b *jobBuilder) spread() {
	work, all := 0.0, 0.0
	for _, e := range b.plan.Time.Elements {
		all += e.Minutes
		if e.Name != "Allowance" && e.Name != "First of kind allowance" {
			work += e.Minutes
		}
	}
	for _, e := range b.plan.Time.Elements {
		b.minutes[e.Name] = e.Minutes * all / math.Max(work, 1e-9)
	}
}

// add appends a task that comes after others and returns what comes after it
// in turn: its id.
func (b *jobBuilder) add(t jigplan.Task, name string, minutes float64, after []string) []string {
	t.ID, t.Job = b.job.ID+"/"+name, b.job.ID
	t.Minutes, t.After = int(math.Ceil(minutes)), after
	if t.After == nil {
		t.After = []string{}
	}
	b.job.Tasks = append(b.job.Tasks, t)
	return []string{t.ID}
}

// of is the minutes of one kind of work.
func (b *jobBuilder) of(w settings.Work) float64 {
	minutes := 0.0
	for _, name := range settings.Elements(w) {
		minutes += b.minutes[name]
	}
	return minutes
}

func (b *jobBuilder) mill() []string {
	minutes := b.of(settings.Milling)
	if minutes == 0 {
		return nil
	}
	wait := b.week.RestHours
	if b.minutes["Panel glue-up"] > 0 {
		wait = max(wait, b.week.CureHours)
	}
	t := jigplan.Task{What: "mill and cut the parts", Place: jigplan.AtSaw, Wait: int(wait * 60)}
	return b.add(t, "mill", minutes, nil)
}

// setups are the stacks, a task for each setup, in the running order.
func (b *jobBuilder) setups(after []string) []string {
	share := b.allowance()
	setups := map[string]jigplan.Setup{}
	for _, s := range b.plan.Setups {
		setups[s.ID] = s
	}
	cutting := map[string]float64{}
	for _, s := range b.plan.Stacks {
		cutting[s.Setup] += s.Minutes
	}
	for _, c := range b.plan.Sequence.Changes {
		s := setups[c.Setup]
		t := jigplan.Task{What: fmt.Sprintf("cut %d stacks of setup %s", len(s.Stacks), s.ID), Place: jigplan.AtSaw,
			Setup: fmt.Sprintf("%s, %s, %d, %s", s.Blade, s.Program, s.BladeHeight, s.Spacer)}
		if len(s.Stacks) == 1 {
			t.What = "cut the stack of setup " + s.ID
		}
		after = b.add(t, "saw "+s.ID, (c.Minutes+cutting[s.ID])*share, after)
	}
	return after
}

// allowance is the time with allowances over the time without.
func (b *jobBuilder) allowance() float64 {
	for _, e := range b.plan.Time.Elements {
		if e.Minutes > 0 {
			return b.minutes[e.Name] / e.Minutes
		}
	}
	return 1
}

// wholeBoxes is how many boxes of each line have all their parts on boards.
func wholeBoxes(p *jigplan.Plan) map[int]int {
	short := map[string]bool{}
	for _, s := range p.Layout.Short {
		short[s.Part] = true
	}
	type box struct{ line, unit int }
	whole := map[box]bool{}
	for _, part := range p.Parts {
		if part.IsLoose() {
			continue
		}
		b := box{part.Line, part.Unit}
		sofar, seen := whole[b]
		whole[b] = (sofar || !seen) && !short[part.ID]
	}
	count := map[int]int{}
	for b, ok := range whole {
		if ok {
			count[b.line]++
		}
	}
	return count
}

// GlueGroup is how many boxes are glued as one group: no more than there are
// clamps for, nor than can be closed within the open time of the glue, nor
// than can stand and dry; at least one.
func GlueGroup(minutesABox float64, w settings.Week) int {
	group := w.Clamps / max(1, w.ClampsBox)
	if minutesABox > 0 {
		group = min(group, int(w.OpenMinutes/minutesABox))
	}
	return max(1, min(group, w.DryingPlaces))
}

// line is the boxes of one line of the order: how many, and the minutes each
// takes.
type line struct {
	name             string
	due              time.Time
	boxes            int
	glue, sand, coat float64 // a box; coat: a coat on it, 0: none
}

// lines parts the hand work among the lines of the order, those with the
// earliest dates first: each kind by what a box of the line takes of it.
func (b *jobBuilder) lines() []line {
	count := wholeBoxes(b.plan)
	t := &b.plan.Order.Settings.Times
	each := times.PerBox(b.plan.Order.Boxes, b.plan.Parts, t)
	weight := map[settings.Work]float64{}
	for k, n := range count {
		if k < len(each) {
			for _, w := range byBox {
				weight[w] += float64(n) * each[k][w]
			}
		}
	}
	share := func(k int, w settings.Work) float64 {
		if k >= len(each) || weight[w] == 0 {
			return 0
		}
		return b.of(w) * each[k][w] / weight[w]
	}
	var out []line
	for _, k := range slices.Sorted(maps.Keys(count)) {
		box := b.box(k)
		l := line{name: box.Name, due: b.dueOf(box), boxes: count[k]}
		l.glue, l.sand = share(k, settings.Gluing), share(k, settings.AtBench)
		if box.Coated() && t.Coats > 0 {
			l.coat = share(k, settings.Finishing) / t.Coats
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(x, y line) int { return x.due.Compare(y.due) })
	return out
}

// byBox is the work that is shared out among the lines.
var byBox = []settings.Work{settings.Gluing, settings.AtBench, settings.Finishing}

// box is a line of the order; one without a name where the order has none.
func (b *jobBuilder) box(k int) *orders.Box {
	if k < 0 || k >= len(b.plan.Order.Boxes) {
		return &orders.Box{}
	}
	return &b.plan.Order.Boxes[k]
}

// dueOf is the date of a line: its own where the job's date is the first of
// the order's, else the job's.
func (b *jobBuilder) dueOf(box *orders.Box) time.Time {
	first := time.Time{}
	for i := range b.plan.Order.Boxes {
		if due := b.plan.Order.Boxes[i].Due; !due.IsZero() && (first.IsZero() || due.Before(first)) {
			first = due
		}
	}
	if box.Due.IsZero() || !first.Equal(b.job.Due) {
		return b.job.Due
	}
	return box.Due
}

// groups glues, sands and coats the boxes line by line, group by group.
func (b *jobBuilder) groups(lines []line, after []string) {
	k := 0
	for _, l := range lines {
		size := GlueGroup(l.glue, b.week)
		for done := 0; done < l.boxes; done += size {
			k++
			n := min(size, l.boxes-done)
			what := boxesText(n)
			if len(lines) > 1 && l.name != "" {
				what += " of " + l.name
			}
			add := func(t jigplan.Task, name string, minutes float64, after []string) []string {
				t.What, t.Boxes, t.Box = t.What+" "+what, n, l.name
				if !l.due.Equal(b.job.Due) {
					t.Due = l.due
				}
				return b.add(t, name, minutes*float64(n), after)
			}
			group := add(jigplan.Task{What: "glue", Place: jigplan.AtClamps, Whole: true, Clamps: min(n*b.week.ClampsBox, b.week.Clamps),
				Hold: int(b.week.ClampMinutes), Wait: int(b.week.CureHours * 60)}, fmt.Sprintf("glue %d", k), l.glue, after)
			group = add(jigplan.Task{What: "sand", Place: jigplan.AtBench}, fmt.Sprintf("sand %d", k), l.sand, group)
			dry := int(b.week.DryHours * 60)
			for c := 1; l.coat > 0 && c <= int(math.Round(b.plan.Order.Settings.Times.Coats)); c++ {
				group = add(jigplan.Task{What: fmt.Sprintf("coat %d on", c), Place: jigplan.AtFinish, Space: n, Hold: dry, Wait: dry},
					fmt.Sprintf("coat %d.%d", k, c), l.coat, group)
			}
		}
	}
}

func boxesText(n int) string {
	if n == 1 {
		return "1 box"
	}
	return fmt.Sprintf("%d boxes", n)
}
