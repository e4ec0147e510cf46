package week_test

import (
	"fmt"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// planOf is what a planned order of so many boxes brings to the week.
func planOf(boxes int) *jigplan.Plan {
	p := &jigplan.Plan{Order: &orders.Order{Settings: settings.Default(), Boxes: []orders.Box{{Name: "Tray", Count: boxes, Finish: "oil"}}}}
	for unit := 1; unit <= boxes; unit++ {
		p.Parts = append(p.Parts, orders.Part{ID: fmt.Sprint("T-", unit), Unit: unit, Role: orders.Side})
	}
	p.Setups = []jigplan.Setup{{ID: "U1", Program: "J1", Stacks: []string{"U1-1", "U1-2"}}, {ID: "U2", Program: "J2", Stacks: []string{"U2-1"}}}
	p.Stacks = []jigplan.Stack{{ID: "U1-1", Setup: "U1", Minutes: 7}, {ID: "U1-2", Setup: "U1", Minutes: 7}, {ID: "U2-1", Setup: "U2", Minutes: 7}}
	p.Sequence.Changes = []jigplan.Changeover{{Setup: "U2", Minutes: 20}, {Setup: "U1", Minutes: 5}}
	n := float64(boxes)
	p.Time.Elements = []jigplan.Element{
		{Name: "Mill face and edge", Minutes: 12 * n}, {Name: "Crosscut", Minutes: 3 * n},
		{Name: "Cut pass", Minutes: 21}, {Name: "Change blade", Minutes: 25}, {Name: "Groove", Minutes: 4 * n},
		{Name: "Glue-up", Minutes: 10 * n}, {Name: "Sanding", Minutes: 12 * n}, {Name: "Coat", Count: 2 * n, Minutes: 8 * n},
	}
	for _, e := range p.Time.Elements {
		p.Time.Minutes += e.Minutes
	}
	allowance := 0.15 * p.Time.Minutes
	p.Time.Elements = append(p.Time.Elements, jigplan.Element{Name: "Allowance", Minutes: allowance})
	p.Time.Minutes += allowance
	return p
}

func TestTasksOfAPlan(t *testing.T) {
	p := planOf(5)
	job := week.JobOf("7", "Trays", monday, p)
	total, glued, coated := 0, 0, 0
	var names []string
	for _, x := range job.Tasks {
		total += x.Minutes
		names = append(names, strings.TrimPrefix(x.ID, "7/"))
		switch x.Place {
		case jigplan.AtClamps:
			glued += x.Boxes
			if x.Boxes > 1 || x.Clamps != 4*x.Boxes {
				t.Errorf("%s: %d boxes, %d clamps; 11.5 min a box leave one box an open time of 20 min", x.ID, x.Boxes, x.Clamps)
			}
		case jigplan.AtFinish:
			coated += x.Boxes
		}
	}
	if want := "mill,saw U2,saw U1,grooves,glue 1,sand 1,coat 1.1,coat 1.2,glue 2"; !strings.HasPrefix(strings.Join(names, ","), want) {
		t.Errorf("tasks %v, want them to begin %s", names, want)
	}
	if glued != 5 || coated != 10 {
		t.Errorf("%d boxes glued, %d coats", glued, coated)
	}
	if low := int(p.Time.Minutes); total < low || total > low+len(job.Tasks) {
		t.Errorf("tasks take %d minutes, the plan %v", total, p.Time.Minutes)
	}
}

func TestGlueGroups(t *testing.T) {
	w := settings.Default().Week
	for _, tt := range []struct {
		minutes, open float64
		clamps, want  int
		why           string
	}{
		{10, 20, 16, 2, "two joints closed in the open time"},
		{30, 20, 16, 1, "one box is always glued, in stages"},
		{4, 60, 16, 4, "clamps for four"},
		{4, 60, 3, 1, "too few clamps for one box: it takes what there is"},
	} {
		w.OpenMinutes, w.Clamps = tt.open, tt.clamps
		if got := week.GlueGroup(tt.minutes, w); got != tt.want {
			t.Errorf("%v min, open %v: %d, want %d: %s", tt.minutes, tt.open, got, tt.want, tt.why)
		}
	}
}

// Four orders in a busy fortnight: dates are kept and evenings used.
func TestABusyFortnight(t *testing.T) {
	var jobs []jigplan.Job
	for k, boxes := range []int{4, 8, 6, 10} {
		jobs = append(jobs, week.JobOf(fmt.Sprint(k+1), "", monday.AddDate(0, 0, 4+3*k), planOf(boxes)))
	}
	s := run(t, jobs, settings.Default().Week, 28)
	if s.LateWeight != 0 || len(s.Unplaced) > 0 || len(s.Evenings) == 0 {
		t.Errorf("lateness %d, unplaced %v, %d evenings", s.LateWeight, s.Unplaced, len(s.Evenings))
	}
}

func BenchmarkWeek(b *testing.B) {
	var jobs []jigplan.Job
	for k, boxes := range []int{4, 8, 6, 10, 12, 6} {
		jobs = append(jobs, week.JobOf(fmt.Sprint(k+1), "", monday.AddDate(0, 0, 4+3*k), planOf(boxes)))
	}
	w := settings.Default().Week
	in := week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, 42, w), Week: w}
	for b.Loop() {
		s := week.Schedule(in, week.Limits{})
		b.ReportMetric(float64(s.LateWeight), "days-late")
		b.ReportMetric(float64(s.FullEvenings), "full-evenings")
	}
}
