package week_test

import (
	"fmt"
	"reflect"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/week"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// monday is the first day of the test weeks.
var monday = time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)

func at(day, hour, minute int) time.Time {
	return monday.AddDate(0, 0, day).Add(time.Duration(hour*60+minute) * time.Minute)
}

// noBuffer is the default week with all of its hours in use.
func noBuffer() settings.Week {
	w := settings.Default().Week
	w.BufferPercent = 0
	return w
}

func run(t interface {
	Helper()
	Error(...any)
}, jobs []jigplan.Job, w settings.Week, days int) jigplan.Schedule {
	t.Helper()
	s := week.Schedule(week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, days, w), Week: w}, week.Limits{Work: 200})
	for _, err := range check.Schedule(jobs, w, s) {
		t.Error(err)
	}
	return s
}

func booking(t *testing.T, s jigplan.Schedule, id string) jigplan.Booking {
	t.Helper()
	for _, b := range s.Bookings {
		if b.ID == id {
			return b
		}
	}
	t.Fatalf("task %q has no booking", id)
	return jigplan.Booking{}
}

func task(id string, minutes int, after ...string) jigplan.Task {
	return jigplan.Task{ID: id, Place: jigplan.AtBench, Minutes: minutes, After: after}
}

// A cure of twelve hours spans the night, and sanding starts when somebody is
// there: worked out by hand.
func TestACureSpansTheNight(t *testing.T) {
	glue := task("glue", 30)
	glue.Place, glue.Whole, glue.Clamps, glue.Hold, glue.Wait = jigplan.AtClamps, true, 4, 60, 12*60
	sand := task("sand", 300, "glue")
	s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{glue, sand}}}, noBuffer(), 7)
	if b := booking(t, s, "glue"); b.Start.After(at(0, 16, 30)) || !b.Free.Equal(at(1, 8, 0)) || s.Evenings[0].Clamps != 4 {
		t.Errorf("glue %s to %s, clamps off %s: glued late on Monday, the clamps work over night", b.Start, b.End, b.Free)
	}
	if b := booking(t, s, "sand"); !b.Start.Equal(at(1, 8, 0)) || !b.End.Equal(at(1, 14, 0)) {
		t.Errorf("sand %s to %s: five hours from Tuesday morning, over the break", b.Start, b.End)
	}
}

func TestClosedDaysAndWeekends(t *testing.T) {
	w := noBuffer()
	w.Holidays = []time.Time{monday.AddDate(0, 0, 7)}
	first := task("first", 5*480)
	s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{first, task("second", 60, "first")}}}, w, 14)
	if b := booking(t, s, "second"); !b.Start.Equal(at(8, 8, 0)) {
		t.Errorf("after a full week, a weekend and a holiday it is Tuesday; got %s", b.Start)
	}
}

// All clamps taken for 40 minutes of glueing and 60 of holding: the next
// glue-up starts when they are off, the last one so late that they work over
// night.
func TestClampsLimitGlueing(t *testing.T) {
	var tasks []jigplan.Task
	for k := range 3 {
		g := task(fmt.Sprint("glue", k), 40)
		g.Place, g.Whole, g.Clamps, g.Hold = jigplan.AtClamps, true, 16, 60
		tasks = append(tasks, g)
	}
	s := run(t, []jigplan.Job{{ID: "1", Tasks: tasks}}, noBuffer(), 3)
	starts := []time.Time{at(0, 8, 0), at(0, 9, 40), at(0, 15, 20)}
	for k, b := range s.Bookings {
		if !b.Start.Equal(starts[k]) {
			t.Errorf("glue-up %d at %s, want %s", k, b.Start, starts[k])
		}
	}
}

func TestAWholeTaskDoesNotPause(t *testing.T) {
	glue := task("glue", 90, "saw")
	glue.Whole = true
	s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{task("saw", 200), glue}}}, noBuffer(), 3)
	if b := booking(t, s, "glue"); !b.Start.Equal(at(0, 13, 0)) {
		t.Errorf("40 minutes before noon are too few for 90: after the break, not %s", b.Start)
	}
}

// Two jobs side by side take two people: where one of them is away, one job
// waits, and work nobody is there for goes on when somebody is.
func TestAbsences(t *testing.T) {
	jobs := []jigplan.Job{
		{ID: "1", Tasks: []jigplan.Task{task("bench", 240)}},
		{ID: "2", Tasks: []jigplan.Task{{ID: "saw", Minutes: 240, Place: jigplan.AtSaw}}},
	}
	for _, c := range []struct {
		why      string
		absences string
		last     time.Time
	}{
		{"both there: both done by noon", "", at(0, 12, 0)},
		{"one away in the morning: the second job follows in the afternoon", "2027-03-01 morning", at(0, 17, 0)},
		{"one away in the afternoon: no difference", "2027-03-01 afternoon", at(0, 12, 0)},
		{"both away all day: Tuesday", "2027-03-01 2 people", at(1, 12, 0)},
		{"more away than there are people", "2027-03-01 morning 9 people", at(0, 17, 0)},
	} {
		w := noBuffer()
		w.People = 2
		var err error
		if w.Absences, err = settings.ParseAbsences(c.absences, settings.Entry{}); err != nil {
			t.Fatal(err)
		}
		last := time.Time{}
		for _, b := range run(t, jobs, w, 7).Bookings {
			if b.End.After(last) {
				last = b.End
			}
		}
		if !last.Equal(c.last) {
			t.Errorf("%s: all done at %s, want %s", c.why, last, c.last)
		}
	}
}

func TestTheEarlierDateGoesFirst(t *testing.T) {
	jobs := []jigplan.Job{
		{ID: "late", Due: monday.AddDate(0, 0, 3), Tasks: []jigplan.Task{task("a", 480)}},
		{ID: "soon", Due: monday, Tasks: []jigplan.Task{task("b", 480)}},
	}
	s := run(t, jobs, noBuffer(), 7)
	if s.LateWeight != 0 || !s.Proven || !booking(t, s, "b").Start.Equal(at(0, 8, 0)) {
		t.Errorf("lateness %d, proven %t", s.LateWeight, s.Proven)
	}
}

// Two days of work due on the same Monday: the heavier job keeps its date.
func TestTheHeavierJobKeepsItsDate(t *testing.T) {
	jobs := []jigplan.Job{
		{ID: "light", Due: monday, Weight: 1, Tasks: []jigplan.Task{task("a", 480)}},
		{ID: "heavy", Due: monday, Weight: 5, Tasks: []jigplan.Task{task("b", 480)}},
	}
	s := run(t, jobs, noBuffer(), 7)
	if s.LateWeight != 1 || !booking(t, s, "b").Start.Equal(at(0, 8, 0)) {
		t.Errorf("lateness %d: the light job a day late is 1", s.LateWeight)
	}
}

func TestPins(t *testing.T) {
	pinned := task("b", 60)
	pinned.Pinned = at(0, 10, 0)
	s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{task("a", 180), pinned}}}, noBuffer(), 3)
	if b := booking(t, s, "b"); !b.Start.Equal(at(0, 10, 0)) || len(s.Moved) != 0 {
		t.Errorf("pinned to ten, starts %s, moved %v", b.Start, s.Moved)
	}
	pinned.After = []string{"a"}
	s = run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{task("a", 180), pinned}}}, noBuffer(), 3)
	if b := booking(t, s, "b"); !b.Start.Equal(at(0, 11, 0)) || len(s.Moved) != 1 {
		t.Errorf("it comes after three hours of work, so it is moved to eleven, not %s; moved %v", b.Start, s.Moved)
	}
}

// 16 h of work, a date on Wednesday: the last moment to start is Tuesday at
// eight (two days of eight hours).
func TestTheLastMomentToDecide(t *testing.T) {
	jobs := []jigplan.Job{{ID: "1", Due: monday.AddDate(0, 0, 2), Tasks: []jigplan.Task{task("a", 480), task("b", 480, "a")}}}
	s := run(t, jobs, noBuffer(), 7)
	if !s.Finishes[0].Decide.Equal(at(1, 8, 0)) {
		t.Errorf("decide by %s", s.Finishes[0].Decide)
	}
}

func TestTheBufferStaysFree(t *testing.T) {
	w := settings.Default().Week
	w.BufferPercent = 25
	s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{task("a", 240)}}}, w, 3)
	if b := booking(t, s, "a"); !b.End.Equal(at(0, 14, 0)) {
		t.Errorf("three hours before noon, one after: %s", b.End)
	}
}

func TestNoRoomIsSaid(t *testing.T) {
	s := run(t, []jigplan.Job{{ID: "1", Due: monday, Tasks: []jigplan.Task{task("a", 9999), task("b", 10, "a")}}}, noBuffer(), 7)
	if !reflect.DeepEqual(s.Unplaced, []string{"a", "b"}) || s.Proven {
		t.Errorf("unplaced %v, proven %t", s.Unplaced, s.Proven)
	}
	if s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{task("a", 10)}}}, noBuffer(), 0); len(s.Unplaced) != 1 {
		t.Error("a calendar without days has room for nothing")
	}
}

// shop draws jobs of every kind.
func shop(t *rapid.T) ([]jigplan.Job, settings.Week) {
	w := settings.Default().Week
	w.People = rapid.IntRange(1, 3).Draw(t, "people")
	for range rapid.IntRange(0, 3).Draw(t, "absences") {
		w.Absences = append(w.Absences, settings.Absence{Day: monday.AddDate(0, 0, rapid.IntRange(0, 4).Draw(t, "away on")),
			Half: rapid.SampledFrom([]string{"", "morning", "afternoon"}).Draw(t, "half"), People: rapid.IntRange(1, 2).Draw(t, "away")})
	}
	w.Benches = rapid.IntRange(1, 2).Draw(t, "benches")
	w.Clamps = rapid.IntRange(4, 20).Draw(t, "clamps")
	w.BufferPercent = float64(rapid.IntRange(0, 40).Draw(t, "buffer"))
	var jobs []jigplan.Job
	for k := range rapid.IntRange(1, 4).Draw(t, "jobs") {
		job := jigplan.Job{ID: fmt.Sprint("job", k), Weight: rapid.IntRange(0, 5).Draw(t, "weight")}
		if rapid.Bool().Draw(t, "dated") {
			job.Due = monday.AddDate(0, 0, rapid.IntRange(0, 9).Draw(t, "due"))
		}
		for i := range rapid.IntRange(1, 6).Draw(t, "tasks") {
			x := jigplan.Task{ID: fmt.Sprint(job.ID, "/", i), Job: job.ID, Minutes: rapid.IntRange(0, 400).Draw(t, "minutes"),
				Place: rapid.SampledFrom([]jigplan.Place{jigplan.AtSaw, jigplan.AtBench, jigplan.AtClamps, jigplan.AtFinish}).Draw(t, "place"),
				Wait:  rapid.SampledFrom([]int{0, 60, 720}).Draw(t, "wait"), Whole: rapid.Bool().Draw(t, "whole")}
			switch x.Place {
			case jigplan.AtSaw:
				x.Setup = rapid.SampledFrom([]string{"", "A", "B"}).Draw(t, "setup")
			case jigplan.AtClamps:
				x.Clamps, x.Hold = rapid.IntRange(1, 4).Draw(t, "taken"), rapid.SampledFrom([]int{0, 60, 900}).Draw(t, "hold")
			case jigplan.AtFinish:
				x.Space, x.Hold = rapid.IntRange(1, 20).Draw(t, "space"), x.Wait
			}
			if i > 0 && rapid.Bool().Draw(t, "after") {
				x.After = []string{job.Tasks[rapid.IntRange(0, i-1).Draw(t, "which")].ID}
			}
			if rapid.IntRange(0, 9).Draw(t, "release") == 0 {
				x.Release = at(rapid.IntRange(0, 4).Draw(t, "released on"), rapid.IntRange(0, 23).Draw(t, "hour"), 0)
			}
			if rapid.IntRange(0, 9).Draw(t, "pin") == 0 {
				x.Pinned = at(rapid.IntRange(0, 4).Draw(t, "day"), rapid.IntRange(8, 15).Draw(t, "hour"), 0)
			}
			job.Tasks = append(job.Tasks, x)
		}
		if rapid.IntRange(0, 4).Draw(t, "holds") == 0 {
			job.Held = []jigplan.Held{{Clamps: rapid.IntRange(0, 8).Draw(t, "held clamps"), Space: rapid.IntRange(0, 30).Draw(t, "held places"),
				Until: at(rapid.IntRange(0, 3).Draw(t, "held till"), rapid.IntRange(0, 23).Draw(t, "hour"), 0)}}
		}
		jobs = append(jobs, job)
	}
	return jobs, w
}

func TestAnyWeekPassesTheCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs, w := shop(t)
		in := week.WeekInput{Jobs: jobs, Halves: week.Calendar(monday, rapid.IntRange(1, 21).Draw(t, "days"), w), Week: w}
		s := week.Schedule(in, week.Limits{Work: 30})
		for _, err := range check.Schedule(jobs, w, s) {
			t.Error(err)
		}
		if again := week.Schedule(in, week.Limits{Work: 30}); !reflect.DeepEqual(s, again) {
			t.Error("two runs differ")
		}
	})
}
