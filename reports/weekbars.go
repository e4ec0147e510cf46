package reports

import (
	"slices"
	"time"

	"batchwright/jigplan"
)

// WeekBars is a week as bars: a row a job over the printed days.
type WeekBars struct {
	From, To time.Time // midnights
	Days     []BarDay
	Rows     []BarRow
	Clamps   int // in the shop
}

// BarDay is one day of the picture.
type BarDay struct {
	Day        time.Time
	Date       string // "Mar 8", as the shop writes it
	Closed     string // why nobody works; empty: somebody does
	Work       []Worked
	OverNight  int // clamps in use in the night after it
	Open, Shut time.Time
}

// BarRow is one job.
type BarRow struct {
	Code, Name string
	Due, Done  time.Time
	DueDate    string // as the shop writes it
	Late       bool
	Work       []Bar // attended, by time
	Waits      []Bar // rest, cure, drying
	Words      []Bar // what is done in a half-day: a kind, all its boxes, from when
}

// Bar is one stretch: "mill", "saw", "grooves", "glue", "sand", "coat", and of
// waits "rest", "cure", "dry".
type Bar struct {
	Kind     string
	From, To time.Time
	Boxes    int
	Lane     int // bars of one row that overlap lie in different lanes, from 0
}

// BarsOf is the printed days of a week as bars.
func BarsOf(w *jigplan.Week) WeekBars {
	from := midnight(w.From)
	b := WeekBars{From: from, To: from.AddDate(0, 0, w.Days), Clamps: w.Settings.Week.Clamps}
	worked := WorkedHalves(w)
	for k := range w.Days {
		b.Days = append(b.Days, barDay(w, from.AddDate(0, 0, k), worked))
	}
	for _, p := range oneAJob(promises(w)) {
		row := BarRow{Code: p.Code, Name: p.WeekJob.Name, Due: p.Finish.Due, DueDate: w.Settings.Units.Day(p.Finish.Due), Done: p.Done, Late: p.DaysLate > 0}
		row.fill(w, p.ID, b.To)
		b.Rows = append(b.Rows, row)
	}
	return b
}

func barDay(w *jigplan.Week, day time.Time, worked []Worked) BarDay {
	out := BarDay{Day: day, Date: w.Settings.Units.Day(day)}
	for _, h := range worked {
		if midnight(h.From).Equal(day) {
			out.Work = append(out.Work, h)
		}
	}
	if len(out.Work) == 0 {
		out.Open, out.Shut = day.Add(8*time.Hour), day.Add(17*time.Hour)
		for _, h := range w.Schedule.Halves {
			if midnight(h.From).Equal(day) {
				out.Work = append(out.Work, Worked{HalfDay: h, Free: h.People * int(h.To.Sub(h.From).Minutes())})
			}
		}
		if len(out.Work) == 0 {
			out.Closed = closedWhy(w, day)
		}
	}
	if n := len(out.Work); n > 0 {
		out.Open, out.Shut = out.Work[0].From, out.Work[n-1].To
	}
	night := day.AddDate(0, 0, 1)
	for _, b := range w.Schedule.Bookings {
		if b.Clamps > 0 && b.Start.Before(night) && b.Free.After(night) {
			out.OverNight += b.Clamps
		}
	}
	return out
}

// fill joins a job's bookings of one kind that touch or overlap.
func (row *BarRow) fill(w *jigplan.Week, job string, end time.Time) {
	for i := range w.Schedule.Bookings {
		b := &w.Schedule.Bookings[i]
		if b.Job != job {
			continue
		}
		kind := kindOf(&b.Task)
		if b.Place == jigplan.AtFinish {
			kind = "coat"
		}
		for _, h := range w.Schedule.Halves {
			from, to := later(b.Start, h.From), sooner(b.End, usable(w, h))
			if from.Before(to) && from.Before(end) {
				row.Work = join(row.Work, Bar{Kind: kind, From: from, To: to}, 10*time.Minute)
				boxes := 0
				if !b.Start.Before(h.From) {
					boxes = b.Boxes
				}
				row.Words = join(row.Words, Bar{Kind: kind, From: from, To: h.To, Boxes: boxes}, 0)
			}
		}
		if b.Wait > 0 && b.End.Before(end) {
			wait := map[string]string{mills: "rest", glues: "cure"}[kind]
			if wait == "" {
				wait = "dry"
			}
			row.Waits = join(row.Waits, Bar{Kind: wait, From: b.End, To: sooner(b.Ready, end)}, 10*time.Minute)
		}
	}
	row.lanes()
}

// lanes puts each bar into the first lane that is free.
func (row *BarRow) lanes() {
	slices.SortStableFunc(row.Work, func(a, b Bar) int { return a.From.Compare(b.From) })
	for i := range row.Work {
		b := &row.Work[i]
		for slices.ContainsFunc(row.Work[:i], func(o Bar) bool { return o.Lane == b.Lane && o.To.After(b.From) }) {
			b.Lane++
		}
	}
}

// Lanes is how many there are, one at least.
func (row *BarRow) Lanes() int {
	most := 0
	for _, b := range row.Work {
		most = max(most, b.Lane)
	}
	return most + 1
}

// join adds a bar to one of its kind that it overlaps, or nearly touches.
func join(bars []Bar, next Bar, gap time.Duration) []Bar {
	for i := range bars {
		b := &bars[i]
		if b.Kind == next.Kind && !next.From.After(b.To.Add(gap)) && !next.To.Before(b.From) {
			b.From, b.To = sooner(b.From, next.From), later(b.To, next.To)
			b.Boxes += next.Boxes
			return bars
		}
	}
	return append(bars, next)
}

// WeekKey says what each letter of a sheet stands for.
func WeekKey(w *jigplan.Week) (out []string) {
	for _, p := range promises(w) {
		text := p.Code + " = " + p.Name
		if !p.Finish.Due.IsZero() {
			text += ", due " + dayText(p.Finish.Due, w.Settings.Units)
		}
		if state := p.standing(); state != "ok" && state != "no date" {
			text += ", " + joined(" ", state, slackText(p.Finish))
		}
		out = append(out, text)
	}
	return out
}
