package week

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// Left is what is still to do of a job's tasks when some of its work is logged,
// and the ids of the tasks that are done. A stack end logged is off its setup,
// an element off the tasks that consist of it by its count, the first first,
// however long it took; work that is begun means that what it comes after is done. What was glued, coated or
// milled cures from its log on: what comes after it is released then. Until the
// clamps may come off, or a coat is dry, held keeps its clamps and places.
func Left(job jigplan.Job, p *jigplan.Plan, logs []jigplan.Logged) (left []jigplan.Task, done []string, held []jigplan.Held) {
	w := newProgress(job, p)
	for _, l := range logs {
		w.note(l)
	}
	w.settle()
	for i := range w.tasks {
		if w.share[i] >= 1 {
			done = append(done, w.tasks[i].ID)
			continue
		}
		w.shorten(i)
		left = append(left, w.tasks[i])
	}
	return left, done, w.stillHeld()
}

// progress is how far each task of a job is.
type progress struct {
	plan  *jigplan.Plan
	job   string
	tasks []jigplan.Task
	at    map[string]int  // task id -> its number
	share []float64       // 0: nothing is finished; 1: done
	begun []bool          // somebody worked at it
	when  []time.Time     // the last log of it
	cut   map[string]bool // stacks
	ran   map[string]float64
	held  []holding
}

// holding is what a log of a task leaves taken.
type holding struct {
	task int
	jigplan.Held
}

func newProgress(job jigplan.Job, p *jigplan.Plan) *progress {
	w := &progress{plan: p, job: job.ID, tasks: slices.Clone(job.Tasks), at: map[string]int{}, cut: map[string]bool{}, ran: map[string]float64{}}
	for i, t := range w.tasks {
		w.at[t.ID] = i
	}
	w.share, w.when, w.begun = make([]float64, len(w.tasks)), make([]time.Time, len(w.tasks)), make([]bool, len(w.tasks))
	return w
}

// note takes one log in.
func (w *progress) note(l jigplan.Logged) {
	switch {
	case l.Stack != "":
		w.stackEnd(l)
	case l.Count == 0: // time was spent; what it finished is not said
		w.begin(l)
	case l.Element == settings.AllMilling:
		for _, name := range settings.Elements(settings.Milling) {
			w.ran[name] = 1
		}
		w.advance("mill", 1, l.At)
	case settings.WorkOf(l.Element) == settings.Milling:
		w.ran[l.Element] = math.Min(1, w.ran[l.Element]+w.part(l))
		w.advance("mill", w.milled(), l.At)
	case l.Element == "Groove":
		w.ran[l.Element] += w.part(l)
		w.advance("grooves", w.ran[l.Element], l.At)
	case l.Element == "Glue-up":
		w.boxes("glue ", l)
	case l.Element == "Sanding":
		w.boxes("sand ", l)
	case l.Element == "Coat":
		w.boxes("coat ", l)
	}
}

// begin says that a kind of work has begun, and so that what it comes after is
// done.
func (w *progress) begin(l jigplan.Logged) {
	kind := map[settings.Work]string{settings.Milling: "mill", settings.Grooving: "grooves", settings.Gluing: "glue ", settings.AtBench: "sand ",
		settings.Finishing: "coat "}[settings.WorkOf(l.Element)]
	if list := w.ofKind(kind); kind != "" && len(list) > 0 {
		w.begun[list[0]] = true
	}
}

// part is the share of an element that a log finished.
func (w *progress) part(l jigplan.Logged) float64 {
	for _, e := range w.plan.Time.Elements {
		if e.Name == l.Element && l.Count > 0 && e.Count > 0 {
			return l.Count / e.Count
		}
	}
	return 1
}

// milled is how much of the milling is done, by its minutes.
func (w *progress) milled() float64 {
	sum, done := 0.0, 0.0
	for _, e := range w.plan.Time.Elements {
		if settings.WorkOf(e.Name) == settings.Milling {
			sum += e.Minutes
			done += e.Minutes * w.ran[e.Name]
		}
	}
	if sum == 0 {
		return 0
	}
	return done / sum
}

func (w *progress) advance(name string, share float64, when time.Time) {
	const whole = 1 - 1e-9 // shares of counts add up to a little less
	i, known := w.at[w.job+"/"+name]
	if !known {
		return
	}
	if share >= whole {
		share = 1
	}
	w.share[i] = max(w.share[i], share)
	if when.After(w.when[i]) {
		w.when[i] = when
	}
}

// stackEnd takes one stack end off its setup, and with the first the changing
// over.
func (w *progress) stackEnd(l jigplan.Logged) {
	setup := ""
	for _, s := range w.plan.Stacks {
		if s.ID == l.Stack {
			setup = s.Setup
		}
	}
	w.cut[l.Stack] = true
	sum, left := 0.0, 0.0
	for _, c := range w.plan.Sequence.Changes {
		if c.Setup == setup {
			sum += c.Minutes
		}
	}
	for _, s := range w.plan.Stacks {
		if s.Setup == setup {
			sum += s.Minutes
			if !w.cut[s.ID] {
				left += s.Minutes
			}
		}
	}
	if sum > 0 {
		w.advance("saw "+setup, 1-left/sum, l.At)
	}
}

// boxes takes boxes off the tasks of one kind, group by group, the first coat
// of all before the second of any.
func (w *progress) boxes(kind string, l jigplan.Logged) {
	n := l.Count
	for _, i := range w.ofKind(kind) {
		t := &w.tasks[i]
		room := float64(t.Boxes) * (1 - w.share[i])
		take := math.Min(n, room)
		if take <= 0 {
			continue
		}
		n -= take
		w.hold(i, take/float64(t.Boxes), l.At)
		w.advance(strings.TrimPrefix(t.ID, w.job+"/"), w.share[i]+take/float64(t.Boxes), l.At)
	}
}

// hold keeps the clamps and places of a share of a task from its log on.
func (w *progress) hold(i int, share float64, when time.Time) {
	t := &w.tasks[i]
	if t.Hold == 0 || when.IsZero() {
		return
	}
	part := func(n int) int { return int(math.Ceil(float64(n)*share - 1e-9)) }
	w.held = append(w.held, holding{i, jigplan.Held{Clamps: part(t.Clamps), Space: part(t.Space), Until: when.Add(time.Duration(t.Hold) * time.Minute)}})
}

// stillHeld leaves out what the next work on the same boxes has set free.
func (w *progress) stillHeld() (out []jigplan.Held) {
	freed := map[string]bool{}
	for i, t := range w.tasks {
		for _, id := range t.After {
			freed[id] = freed[id] || w.share[i] > 0
		}
	}
	for _, h := range w.held {
		if !freed[w.tasks[h.task].ID] {
			out = append(out, h.Held)
		}
	}
	return out
}

// ofKind are the tasks of a kind; of the coats the first ones first.
func (w *progress) ofKind(kind string) (list []int) {
	for i, t := range w.tasks {
		if strings.HasPrefix(t.ID, w.job+"/"+kind) {
			list = append(list, i)
		}
	}
	coat := func(i int) string {
		_, number, _ := strings.Cut(w.tasks[i].ID, ".")
		return number
	}
	slices.SortStableFunc(list, func(a, b int) int { return strings.Compare(coat(a), coat(b)) })
	return list
}

// settle counts as done what begun work comes after, and releases what comes
// after work that still cures.
func (w *progress) settle() {
	for again := true; again; {
		again = false
		for i, t := range w.tasks {
			for _, id := range t.After {
				if b, known := w.at[id]; known && (w.share[i] > 0 || w.begun[i]) && w.share[b] < 1 {
					w.share[b], again = 1, true
				}
			}
		}
	}
	for i := range w.tasks {
		t := &w.tasks[i]
		for _, id := range t.After {
			if b, known := w.at[id]; known && w.share[b] >= 1 && !w.when[b].IsZero() && w.share[i] == 0 {
				ready := w.when[b].Add(time.Duration(w.tasks[b].Wait) * time.Minute)
				if ready.After(t.Release) {
					t.Release = ready
				}
			}
		}
	}
}

// shorten leaves of a task what is not done of it.
func (w *progress) shorten(i int) {
	t := &w.tasks[i]
	if w.share[i] == 0 {
		return
	}
	rest := 1 - w.share[i]
	t.Minutes = int(math.Ceil(float64(t.Minutes) * rest))
	switch {
	case strings.Contains(t.ID, "/saw "):
		setup := t.ID[strings.Index(t.ID, "/saw ")+len("/saw "):]
		stacks := 0
		for id := range maps.Keys(w.cut) {
			if strings.HasPrefix(id, setup+"-") {
				stacks++
			}
		}
		t.What += fmt.Sprintf(", %d cut already", stacks)
	case t.Boxes > 0 && t.Place != jigplan.AtSaw:
		boxes := int(math.Round(float64(t.Boxes) * rest))
		t.Clamps, t.Space = ceilDiv(t.Clamps*boxes, t.Boxes), ceilDiv(t.Space*boxes, t.Boxes)
		t.What = strings.Replace(t.What, boxesText(t.Boxes), boxesText(boxes), 1)
		t.Boxes = boxes
	}
}
