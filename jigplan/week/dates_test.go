package week_test

import (
	"fmt"
	"slices"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// An order of two sizes with two dates: the earlier is glued first, each date
// has its own finish, and the later one is not hurried.
func TestEachLineHasItsDate(t *testing.T) {
	p := planOf(4)
	early, late := monday.AddDate(0, 0, 4), monday.AddDate(0, 0, 11)
	p.Order.Boxes = []orders.Box{{Name: "Crate", Count: 2, Finish: "oil", Due: late}, {Name: "Tray", Count: 2, Due: early}}
	for i := range p.Parts {
		p.Parts[i].Line = i / 2
	}
	job := week.JobOf("7", "two dates", early, p)
	for _, x := range job.Tasks {
		switch {
		case x.Box == "Crate" && !x.Due.Equal(late), x.Box != "Crate" && !x.Due.IsZero():
			t.Errorf("%s of %q is due %s", x.ID, x.Box, x.Due)
		case x.Box == "Tray" && x.Place == jigplan.AtFinish:
			t.Errorf("%s: trays get no finish", x.ID)
		case x.ID == "7/glue 1" && x.What != "glue 1 box of Tray":
			t.Errorf("the first glue-up is %q", x.What)
		}
	}
	s := run(t, []jigplan.Job{job}, settings.Default().Week, 21)
	if len(s.Finishes) != 2 || !s.Finishes[0].Due.Equal(early) || !s.Finishes[1].Due.Equal(late) {
		t.Fatalf("finishes %+v", s.Finishes)
	}
	if a, b := s.Finishes[0].Decide, s.Finishes[1].Decide; !a.Before(b) {
		t.Errorf("decide by %s and %s: the later date leaves more time", a, b)
	}
	if s.LateWeight != 0 || s.Finishes[1].Slack < 24*60 {
		t.Errorf("late %d", s.LateWeight)
	}
	job = week.JobOf("7", "moved", early.AddDate(0, 0, 1), p)
	for _, x := range job.Tasks {
		if !x.Due.IsZero() {
			t.Errorf("%s is due %s: a date agreed for the whole job counts", x.ID, x.Due)
		}
	}
}

// Five days of work for one person, all due on Monday: done on five days, so
// 0+1+2+3+4 days late; alone in the shop none would be. Three of double weight
// go first. Worked out by hand.
func TestTheBoundSeesTheCrowd(t *testing.T) {
	for _, tt := range []struct {
		heavy, people, want int
		why                 string
	}{
		{0, 1, 10, "one after the other"},
		{3, 1, 2*(0+1+2) + 3 + 4, "the heavy ones first"},
		{0, 2, 0 + 0 + 1 + 1 + 2, "two at a time"},
	} {
		w := noBuffer()
		w.People, w.Benches = tt.people, 2
		var jobs []jigplan.Job
		for k := range 5 {
			job := jigplan.Job{ID: fmt.Sprint(k), Due: monday, Weight: 1, Tasks: []jigplan.Task{task(fmt.Sprint(k, "/a"), 480)}}
			if k < tt.heavy {
				job.Weight = 2
			}
			jobs = append(jobs, job)
		}
		s := run(t, jobs, w, 14)
		if s.LateWeight != tt.want || s.LateBound != tt.want || !s.Proven || s.Stop != nesting.StopBudget {
			t.Errorf("%s: late %d, bound %d, proven %t, stop %q, want %d", tt.why, s.LateWeight, s.LateBound, s.Proven, s.Stop, tt.want)
		}
	}
}

// A month of a busy shop: 30 open jobs, over 400 operations.
func BenchmarkThirtyJobs(b *testing.B) {
	w := settings.Default().Week
	w.People, w.Benches, w.Clamps = 2, 2, 24
	var jobs []jigplan.Job
	tasks := 0
	for k := range 30 {
		jobs = append(jobs, week.JobOf(fmt.Sprint(k+1), "", monday.AddDate(0, 0, 4+k*21/30), planOf(2+k%4)))
		tasks += len(jobs[k].Tasks)
	}
	in := week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, 60, w), Week: w}
	for b.Loop() {
		s := week.Schedule(in, week.Limits{})
		if len(s.Unplaced) > 0 {
			b.Fatal("no room")
		}
		b.ReportMetric(float64(tasks), "operations")
		b.ReportMetric(float64(s.LateWeight), "days-late")
		b.ReportMetric(float64(s.LateBound), "bound")
		b.ReportMetric(float64(s.FullEvenings), "full-evenings")
	}
}

// One drying place and a coat that takes it for twenty hours: one box a day,
// whatever the people do. By hand: 0 + 1 + 2 + 3 days late, and with a second
// place 0 + 0 + 1 + 1.
func TestTheBoundSeesTheDryingPlaces(t *testing.T) {
	for _, tt := range []struct{ places, want int }{{1, 0 + 1 + 2 + 3}, {2, 0 + 0 + 1 + 1}} {
		w := noBuffer()
		w.DryingPlaces, w.People, w.Benches = tt.places, 2, 2
		var jobs []jigplan.Job
		for k := range 4 {
			coat := jigplan.Task{ID: fmt.Sprint(k, "/coat"), Minutes: 30, Place: jigplan.AtFinish, Space: 1, Hold: 20 * 60, Wait: 20 * 60}
			jobs = append(jobs, jigplan.Job{ID: fmt.Sprint(k), Due: monday.AddDate(0, 0, 1), Weight: 1, Tasks: []jigplan.Task{coat}})
		}
		s := week.Schedule(week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, 14, w), Week: w}, week.Limits{Work: 2000})
		if s.LateWeight != tt.want || s.LateBound != tt.want || !s.Proven || !slices.Equal(s.BoundBy, []string{"the drying places"}) {
			t.Errorf("%d places: late %d, bound %d by %v, want %d", tt.places, s.LateWeight, s.LateBound, s.BoundBy, tt.want)
		}
	}
}
