package reports_test

import (
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// handMonday is the first day of the week below: two people, 8 to 12 and 13 to
// 17, a fifth of every half-day kept free, Wednesday closed.
var handMonday = time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)

func on(day, hour, minute int) time.Time {
	return handMonday.AddDate(0, 0, day).Add(time.Duration(hour*60+minute) * time.Minute)
}

// handWeek is three days written by hand: job A is milled on Monday over the
// break (so it pauses), glued in three groups on Tuesday, and due that day.
func handWeek() *jigplan.Week {
	s := settings.Default()
	s.Week.People, s.Week.Benches, s.Week.BufferPercent = 2, 2, 20
	s.Week.Holidays = []time.Time{on(2, 0, 0)}
	w := &jigplan.Week{From: handMonday, Days: 3, Settings: &s}
	plan := &jigplan.Plan{Order: &orders.Order{File: "tea.xlsx", Settings: s}}
	w.Jobs = []jigplan.WeekJob{{Job: jigplan.Job{ID: "tea", Name: "tea", Due: on(1, 0, 0)}, Code: "A", Plan: plan}}
	for day := range 4 {
		if day == 2 {
			continue
		}
		w.Schedule.Halves = append(w.Schedule.Halves, jigplan.HalfDay{From: on(day, 8, 0), To: on(day, 12, 0), People: 2}, jigplan.HalfDay{From: on(day, 13, 0), To: on(day, 17, 0), People: 2})
	}
	book := func(t jigplan.Task, start, end, free, ready time.Time) {
		t.Job = "tea"
		w.Jobs[0].Tasks = append(w.Jobs[0].Tasks, t)
		w.Schedule.Bookings = append(w.Schedule.Bookings, jigplan.Booking{Task: t, Start: start, End: end, Free: free, Ready: ready})
	}
	book(jigplan.Task{ID: "tea/mill", What: "mill and cut the parts", Place: jigplan.AtSaw, Minutes: 120, Wait: 720}, on(0, 10, 0), on(0, 13, 48), on(0, 13, 48), on(1, 1, 48))
	for k, id := range []string{"tea/glue 1", "tea/glue 2", "tea/glue 3"} {
		start := on(1, 13+k, 0)
		free := start.Add(80 * time.Minute)
		if k == 2 {
			free = on(3, 8, 0)
		}
		book(jigplan.Task{ID: id, What: "glue 2 boxes", Place: jigplan.AtClamps, Minutes: 20, Wait: 720, Hold: 60, Clamps: 8, Boxes: 2}, start, start.Add(20*time.Minute), free, start.Add(740*time.Minute))
	}
	w.Schedule.Finishes = []jigplan.Finish{{Job: "tea", Due: on(1, 0, 0), Done: on(2, 3, 20), DaysLate: 1, Slack: -200 * time.Minute, Decide: on(0, 9, 0)}}
	w.Schedule.LateWeight, w.Schedule.LateBound = 1, 0
	return w
}

// The half-days of the hand-written week, worked out by hand: the last fifth
// of a half-day is kept free, in whole five minutes, so milling pauses from
// 11:10 and goes on from 13:00 to 13:48.
func TestWeekByHalfDay(t *testing.T) {
	halves := reports.WeekHalves(handWeek())
	if len(halves) != 5 {
		t.Fatalf("%d half-days, want two for each of two days and a closed one", len(halves))
	}
	for i, want := range []struct {
		hours         string
		planned, free int
		say           string
	}{
		{"8:00-12:00", 70, 410, "saw: A mill 10:00-11:10"},
		{"13:00-17:00", 48, 432, "saw: A mill 13:00-13:48 | drying: A wood rests until Tue 1:48 | needs: A dry fit 6 boxes"},
		{"8:00-12:00", 0, 480, ""},
		{"13:00-17:00", 60, 420, "clamps: A glue 6 boxes 13:00-15:20, off by 15:20; 2 boxes, 8 clamps over night | drying: A 6 boxes cure until Wed 3:20 | due: A"},
		{"holiday", 0, 0, "drying: A 6 boxes cure until 3:20"},
	} {
		h := halves[i]
		if h.Hours != want.hours || h.Planned != want.planned || h.Free != want.free {
			t.Errorf("half %d: %s, %d planned, %d free; want %s, %d, %d", i, h.Hours, h.Planned, h.Free, want.hours, want.planned, want.free)
		}
		if got := said(h); got != want.say {
			t.Errorf("half %d says %q, want %q", i, got, want.say)
		}
	}
}

func said(h reports.WeekHalf) string {
	var out []string
	for _, part := range []struct {
		name string
		list []reports.WeekEntry
	}{{"saw", h.Saw}, {"bench", h.Bench}, {"clamps", h.Clamps}, {"drying", h.Drying}, {"needs", h.Needs}} {
		for _, e := range part.list {
			out = append(out, part.name+": "+e.String())
		}
	}
	if len(h.Due) > 0 {
		out = append(out, "due: "+strings.Join(h.Due, ", "))
	}
	return strings.Join(out, " | ")
}

func row(t reports.Table, i int) string { return strings.Join(t.Rows[i], " | ") }

// Groups of one kind in a half-day are one line that names them all; the due
// list and the late list say the same of the job.
func TestWeekLists(t *testing.T) {
	w := handWeek()
	hours := reports.HourList(w)
	if len(hours.Rows) != 2 || row(hours, 1) != "☐ | Tue Mar 9 | 13:00 | 15:20 | A | clamps | glue 6 boxes, in 3 groups | clamps off by Thu 8:00, cures until Wed 3:20 |  | tea/glue 1, 2, 3" {
		t.Errorf("%d lines, %q", len(hours.Rows), row(hours, len(hours.Rows)-1))
	}
	if got := row(reports.DueList(w), 0); got != "A | tea | Tue Mar 9 | Wed Mar 10 3:20 | LATE | 1 day late | Mon Mar 8 9:00 | Mon Mar 8 10:00 mill and cut the parts" {
		t.Errorf("due: %q", got)
	}
	if got := row(reports.LateList(w), 0); got != "A | tea | Tue Mar 9 | Wed Mar 10 3:20 | 1 day | Mon Mar 8 9:00 | more hours or people" {
		t.Errorf("late: %q", got)
	}
	if !reports.Late(w) {
		t.Error("a late job, and the week is not late")
	}
}

// The changes name what moved by where it was and where it is, equal moves
// together; a new and a closed job; and say so when there is nothing to
// compare with.
func TestWeekChanges(t *testing.T) {
	w := handWeek()
	if none := reports.WeekChanges(w); len(none.Rows) != 0 || !strings.Contains(none.Notes[0], "No week sheet was given out") {
		t.Errorf("%+v", none)
	}
	w.Before = &jigplan.WeekSheet{Given: on(-1, 16, 0),
		Jobs: []jigplan.SheetJob{{ID: "tea", Name: "tea", Due: on(1, 0, 0), Done: on(1, 12, 0)}, {ID: "old", Name: "old"}},
		Tasks: []jigplan.SheetTask{{ID: "tea/mill", Job: "tea", Start: on(0, 10, 0)}, {ID: "tea/glue 1", Job: "tea", Start: on(1, 8, 0)},
			{ID: "tea/glue 2", Job: "tea", Start: on(1, 9, 0)}, {ID: "tea/glue 3", Job: "tea", Start: on(1, 15, 0)}, {ID: "tea/saw U1", Job: "tea", Start: on(0, 15, 0)}}}
	w.Done = []string{"tea/saw U1"}
	got := reports.WeekChanges(w)
	for i, want := range []string{
		"A | tea: done | Tue Mar 9 12:00 | Wed Mar 10 3:20",
		"old | old | on the sheet | no longer open",
		"A | saw U1 | Mon Mar 8 15:00 | done",
		"A | glue, in 2 groups | Tue Mar 9 8:00 | Tue Mar 9 13:00",
	} {
		if i >= len(got.Rows) || row(got, i) != want {
			t.Errorf("change %d: %q, want %q", i, got.Rows, want)
		}
	}
	if len(got.Rows) != 4 {
		t.Errorf("%d changes: %v", len(got.Rows), got.Rows)
	}
}

// What if says which dates a change breaks and which it keeps.
func TestWeekDifference(t *testing.T) {
	late, kept := handWeek(), handWeek()
	f := &kept.Schedule.Finishes[0]
	f.Done, f.DaysLate, f.Slack = on(1, 20, 0), 0, 4*time.Hour
	kept.Schedule.LateWeight = 0
	if note := reports.WeekDifference(kept, late, "closed").Notes[0]; note != "It would miss the date of A." {
		t.Error(note)
	}
	if note := reports.WeekDifference(late, kept, "open").Notes[0]; !strings.Contains(note, "It would meet the date of A.") {
		t.Error(note)
	}
	none := handWeek()
	none.Jobs[0].Left = []jigplan.Task{{ID: "tea/coat 1.1"}}
	if note := reports.WeekDifference(kept, none, "no room").Notes[0]; !strings.Contains(note, "no time for A") {
		t.Error(note)
	}
}
