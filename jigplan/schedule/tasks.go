package schedule

import (
	"fmt"
	"math"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
)

// JobOf makes the tasks of a plan: milling and a rest, the setups at the saw
// in their running order, grooves, glue-ups in groups that the clamps and the
// open time of the glue allow, sanding and each coat of finish by group. The
// minutes are those of the plan's elements, allowances spread over all, so
// that the tasks add up to the plan but for rounding up to whole minutes.
func JobOf(id, name string, due time.Time, p *jigplan.Plan) jigplan.Job {
	b := &jobBuilder{job: jigplan.Job{ID: id, Name: name, Due: due, Weight: 1}, plan: p, week: p.Order.Settings.Week, minutes: map[string]float64{}}
	b.spread()
	mill := b.mill()
	wood := b.setups(mill)
	boxes := wholeBoxes(p)
	if boxes == 0 {
		return b.job
	}
	if groove := b.minutes["Groove"]; groove > 0 {
		wood = b.add(jigplan.Task{What: "cut the grooves", Place: jigplan.AtSaw, Boxes: boxes}, "grooves", groove, wood)
	}
	b.groups(boxes, wood)
	return b.job
}

type jobBuilder struct {
	job     jigplan.Job
	plan    *jigplan.Plan
	week    orders.Week
	minutes map[string]float64 // by element, allowances included
	coated  float64            // boxes that get a finish
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
		if coats := b.plan.Order.Settings.Times.Coats; e.Name == "Coat" && coats > 0 {
			b.coated = e.Count / coats
		}
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

func (b *jobBuilder) mill() []string {
	minutes := 0.0
	for _, name := range [...]string{"Mill face and edge", "Thickness pass", "Crosscut", "Rip", "Rip a foot"} {
		minutes += b.minutes[name]
	}
	if minutes == 0 {
		return nil
	}
	t := jigplan.Task{What: "mill and cut the parts", Place: jigplan.AtSaw, Wait: int(b.week.RestHours * 60)}
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

// wholeBoxes is how many boxes have all their parts on boards.
func wholeBoxes(p *jigplan.Plan) int {
	short := map[string]bool{}
	for _, s := range p.Layout.Short {
		short[s.Part] = true
	}
	type box struct{ line, unit int }
	seen, broken := map[box]bool{}, map[box]bool{}
	for _, part := range p.Parts {
		if part.Role == orders.Loose {
			continue
		}
		b := box{part.Line, part.Unit}
		seen[b] = true
		if short[part.ID] {
			broken[b] = true
		}
	}
	return len(seen) - len(broken)
}

// GlueGroup is how many boxes are glued as one group: no more than there are
// clamps for, nor than can be closed within the open time of the glue, nor
// than can stand and dry; at least one.
func GlueGroup(minutesABox float64, w orders.Week) int {
	group := w.Clamps / max(1, w.ClampsBox)
	if minutesABox > 0 {
		group = min(group, int(w.OpenMinutes/minutesABox))
	}
	return max(1, min(group, w.DryingPlaces))
}

// groups glues, sands and coats the boxes group by group.
func (b *jobBuilder) groups(boxes int, after []string) {
	glue := (b.minutes["Glue-up"] + b.minutes["Glue-up extra part"]) / float64(boxes)
	sand := b.minutes["Sanding"] / float64(boxes)
	coats := int(math.Round(b.plan.Order.Settings.Times.Coats))
	coated := int(math.Round(b.coated))
	size := GlueGroup(glue, b.week)
	for k, done := 1, 0; done < boxes; k++ {
		n := min(size, boxes-done)
		t := jigplan.Task{What: "glue " + boxesText(n), Place: jigplan.AtClamps, Whole: true, Boxes: n,
			Clamps: min(n*b.week.ClampsBox, b.week.Clamps), Hold: int(b.week.ClampMinutes), Wait: int(b.week.CureHours * 60)}
		group := b.add(t, fmt.Sprintf("glue %d", k), glue*float64(n), after)
		group = b.add(jigplan.Task{What: "sand " + boxesText(n), Place: jigplan.AtBench, Boxes: n}, fmt.Sprintf("sand %d", k), sand*float64(n), group)
		if finish := min(n, coated); finish > 0 {
			coated -= finish
			b.coats(k, finish, coats, group)
		}
		done += n
	}
}

func (b *jobBuilder) coats(group, boxes, coats int, after []string) {
	each := b.minutes["Coat"] / math.Max(1, b.coated*float64(coats))
	dry := int(b.week.DryHours * 60)
	for c := 1; c <= coats; c++ {
		t := jigplan.Task{What: fmt.Sprintf("coat %d on %s", c, boxesText(boxes)), Place: jigplan.AtFinish, Boxes: boxes, Space: boxes, Hold: dry, Wait: dry}
		after = b.add(t, fmt.Sprintf("coat %d.%d", group, c), each*float64(boxes), after)
	}
}

func boxesText(n int) string {
	if n == 1 {
		return "1 box"
	}
	return fmt.Sprintf("%d boxes", n)
}
