package week

import (
	"slices"
	"time"

	"batchwright/jigplan"
)

// schedule writes the best timetable down.
func (w *week) schedule() jigplan.Schedule {
	s := jigplan.Schedule{Halves: w.in.Halves, Bookings: []jigplan.Booking{}, Moved: w.moved}
	latest := w.allLatest()
	for i, t := range w.tasks {
		u := -1
		if i < len(w.best.start) {
			u = w.best.start[i]
		}
		if u < 0 {
			s.Unplaced = append(s.Unplaced, t.ID)
			continue
		}
		s.Bookings = append(s.Bookings, w.booking(i, u, latest[i]))
	}
	slices.SortStableFunc(s.Bookings, func(a, b jigplan.Booking) int { return a.Start.Compare(b.Start) })
	s.Finishes = w.finishes()
	s.LateWeight = w.best.score[lateDays]
	w.writeEvenings(&s)
	s.Setups = w.setupChanges(&w.best)
	return s
}

func (w *week) booking(i, u, latest int) jigplan.Booking {
	t := w.tasks[i]
	end := u + t.units
	b := jigplan.Booking{Task: t.Task, Start: w.axis.start(u), End: w.axis.end(end), Ready: w.readyAt(i, u)}
	b.Free = b.End
	if held := int(t.freed[end]); (t.Clamps > 0 || t.Space > 0) && t.Hold > 0 {
		b.Free = w.axis.start(held)
	}
	if latest >= u && latest < w.axis.units() {
		b.Latest = w.axis.start(latest)
	}
	return b
}

func (w *week) writeEvenings(s *jigplan.Schedule) {
	used, _ := w.evenings(&w.best)
	s.Evenings = []jigplan.Evening{}
	for d, n := range used {
		year, month, day := w.days[d].Date()
		s.Evenings = append(s.Evenings, jigplan.Evening{Day: time.Date(year, month, day, 0, 0, 0, 0, w.days[d].Location()), Clamps: n})
		if w.in.Week.Clamps-n < max(1, w.in.Week.ClampsBox) {
			s.FullEvenings++
		}
	}
}
