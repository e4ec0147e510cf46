package check_test

import (
	"slices"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders/settings"
)

// goodWeek is a glue-up on Monday at eight, sanding on Tuesday and a cut in
// between, written down by hand.
func goodWeek() ([]jigplan.Job, jigplan.Schedule) {
	at := func(day, hour int) time.Time { return time.Date(2027, 3, day, hour, 0, 0, 0, time.UTC) }
	glue := jigplan.Task{ID: "glue", Minutes: 60, Place: jigplan.AtClamps, Whole: true, Clamps: 16, Hold: 12 * 60, Wait: 12 * 60}
	sand := jigplan.Task{ID: "sand", Minutes: 300, Place: jigplan.AtBench, After: []string{"glue"}}
	cut := jigplan.Task{ID: "cut", Minutes: 60, Place: jigplan.AtSaw, Setup: "A", Pinned: at(1, 10)}
	jobs := []jigplan.Job{{ID: "1", Due: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC), Weight: 3, Tasks: []jigplan.Task{glue, sand, cut}}}
	s := jigplan.Schedule{
		Halves: []jigplan.HalfDay{{From: at(1, 8), To: at(1, 12), People: 1}, {From: at(1, 13), To: at(1, 17), People: 1},
			{From: at(2, 8), To: at(2, 12), People: 1}, {From: at(2, 13), To: at(2, 17), People: 1}},
		Bookings: []jigplan.Booking{
			{Task: glue, Start: at(1, 8), End: at(1, 9), Ready: at(1, 21), Free: at(2, 8)},
			{Task: cut, Start: at(1, 10), End: at(1, 11), Ready: at(1, 11), Free: at(1, 11)},
			{Task: sand, Start: at(2, 8), End: at(2, 14), Ready: at(2, 14), Free: at(2, 14)},
		},
		Finishes: []jigplan.Finish{{Job: "1", Due: jobs[0].Due, Done: at(2, 14), DaysLate: 1}},
		Evenings: []jigplan.Evening{{Day: at(1, 0), Clamps: 16}}, FullEvenings: 1,
		Setups: 1, LateWeight: 3, LateBound: 3, Proven: true,
	}
	return jobs, s
}

func TestScheduleFindsPlantedFaults(t *testing.T) {
	w := settings.Default().Week
	w.BufferPercent = 0
	jobs, s := goodWeek()
	if found := check.Schedule(jobs, w, s); len(found) > 0 {
		t.Fatalf("the good week is refused: %v", found)
	}
	shift := func(b *jigplan.Booking, d time.Duration) {
		b.Start, b.End, b.Ready, b.Free = b.Start.Add(d), b.End.Add(d), b.Ready.Add(d), b.Free.Add(d)
	}
	faults := []struct {
		name  string
		plant func(*jigplan.Schedule, *settings.Week)
	}{
		{"a task not booked", func(s *jigplan.Schedule, _ *settings.Week) { s.Bookings = s.Bookings[:2] }},
		{"a task booked twice", func(s *jigplan.Schedule, _ *settings.Week) { s.Bookings = append(s.Bookings, s.Bookings[0]) }},
		{"booked and unplaced", func(s *jigplan.Schedule, _ *settings.Week) { s.Unplaced = []string{"glue"} }},
		{"too little time", func(s *jigplan.Schedule, _ *settings.Week) { s.Bookings[1].End = s.Bookings[1].End.Add(-time.Minute) }},
		{"before the shop opens", func(s *jigplan.Schedule, _ *settings.Week) { shift(&s.Bookings[0], -time.Hour) }},
		{"over the break", func(s *jigplan.Schedule, _ *settings.Week) { shift(&s.Bookings[0], 210*time.Minute) }},
		{"a cure cut short", func(s *jigplan.Schedule, _ *settings.Week) { s.Bookings[0].Ready = s.Bookings[0].End }},
		{"clamps back too early", func(s *jigplan.Schedule, _ *settings.Week) { s.Bookings[0].Free = s.Bookings[0].End.Add(time.Hour) }},
		{"clamps back while nobody is there", func(s *jigplan.Schedule, _ *settings.Week) {
			s.Bookings[0].Free = s.Bookings[0].End.Add(12 * time.Hour)
		}},
		{"sanding before the cure is over", func(s *jigplan.Schedule, _ *settings.Week) { shift(&s.Bookings[2], -20*time.Hour) }},
		{"one person at two places", func(s *jigplan.Schedule, _ *settings.Week) { shift(&s.Bookings[1], -90*time.Minute) }},
		{"work while everyone is away", func(s *jigplan.Schedule, _ *settings.Week) { s.Halves[3].People = 0 }},
		{"two at work when one is away", func(s *jigplan.Schedule, w *settings.Week) {
			w.Benches = 2
			for i := range s.Halves {
				s.Halves[i].People = 2
			}
			s.Halves[3].People = 1
			shift(&s.Bookings[1], 26*time.Hour)
			s.Bookings[1].Pinned, s.Bookings[1].Task.Pinned = s.Bookings[1].Start, s.Bookings[1].Start
			s.Bookings[1].End = s.Bookings[1].End.Add(3 * time.Hour)
		}},
		{"work in the buffer", func(_ *jigplan.Schedule, w *settings.Week) { w.BufferPercent = 30 }},
		{"a second date without a finish", func(s *jigplan.Schedule, _ *settings.Week) { s.Finishes = append(s.Finishes, s.Finishes[0]) }},
		{"before its wood is there", func(s *jigplan.Schedule, _ *settings.Week) { jobs[0].Tasks[2].Release = s.Bookings[1].End }},
		{"a pin not kept", func(s *jigplan.Schedule, _ *settings.Week) { shift(&s.Bookings[1], time.Hour/2) }},
		{"clamps that finished work still holds", func(s *jigplan.Schedule, _ *settings.Week) {
			jobs[0].Held = []jigplan.Held{{Clamps: 9, Until: s.Bookings[0].End}}
		}},
		{"too few clamps", func(_ *jigplan.Schedule, w *settings.Week) { w.Clamps = 12 }},
		{"a finish too early", func(s *jigplan.Schedule, _ *settings.Week) { s.Finishes[0].Done = s.Finishes[0].Done.Add(-time.Hour) }},
		{"a late day forgotten", func(s *jigplan.Schedule, _ *settings.Week) { s.Finishes[0].DaysLate = 0 }},
		{"no finish", func(s *jigplan.Schedule, _ *settings.Week) { s.Finishes = nil }},
		{"a lateness that is wrong", func(s *jigplan.Schedule, _ *settings.Week) { s.LateWeight = 1 }},
		{"a bound above the lateness", func(s *jigplan.Schedule, _ *settings.Week) { s.LateBound = 4 }},
		{"an evening that is wrong", func(s *jigplan.Schedule, _ *settings.Week) { s.Evenings[0].Clamps = 4 }},
		{"full evenings miscounted", func(s *jigplan.Schedule, _ *settings.Week) { s.FullEvenings = 0 }},
		{"setups miscounted", func(s *jigplan.Schedule, _ *settings.Week) { s.Setups = 2 }},
	}
	for _, f := range faults {
		jobs, s = goodWeek()
		s.Bookings = slices.Clone(s.Bookings)
		w := settings.Default().Week
		w.BufferPercent = 0
		f.plant(&s, &w)
		if len(check.Schedule(jobs, w, s)) == 0 {
			t.Errorf("%s: not found", f.name)
		}
	}
}
