package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// WeekHalf is one half-day of a week, or a whole day on which nobody works.
type WeekHalf struct {
	Day     time.Time
	Date    string // "Mar 8", as the shop writes it
	Name    string // "am", "pm"; empty: closed
	Hours   string // "8:00-12:00"; closed: why
	Away    string // "1 away", "all away"; empty: all are there
	First   bool   // of its day
	Last    bool
	Saw     []WeekEntry
	Bench   []WeekEntry // sanding and coating
	Clamps  []WeekEntry // glueing, and what is clamped
	Drying  []WeekEntry // coats, cures and milled wood at rest
	Planned int         // minutes of people's work
	Free    int         // minutes of people's time, the buffer included
	Needs   []WeekEntry // what the next day of work needs, on the day's last half
	Due     []string    // codes of the jobs due on the day, on its last half
}

// WeekEntry is one line of a half-day: which job, and what.
type WeekEntry struct{ Code, Text string }

func (e WeekEntry) String() string { return e.Code + " " + e.Text }

// codesOf is each job's code by its id.
func codesOf(w *jigplan.Week) map[string]string {
	out := map[string]string{}
	for _, j := range w.Jobs {
		out[j.ID] = j.Code
	}
	return out
}

// WeekHalves are the printed days of a week, half by half.
func WeekHalves(w *jigplan.Week) []WeekHalf {
	var out []WeekHalf
	for k := range w.Days {
		day := midnight(w.From).AddDate(0, 0, k)
		var halves []jigplan.HalfDay
		for _, h := range w.Schedule.Halves {
			if midnight(h.From).Equal(day) {
				halves = append(halves, h)
			}
		}
		out = append(out, halvesOf(w, day, halves)...)
	}
	return out
}

func halvesOf(w *jigplan.Week, day time.Time, halves []jigplan.HalfDay) []WeekHalf {
	if len(halves) == 0 {
		return []WeekHalf{{Day: day, Date: w.Settings.Units.Day(day), Hours: closedWhy(w, day), First: true, Last: true, Due: dueOn(w, day), Drying: drying(w, day, day.AddDate(0, 0, 1))}}
	}
	var out []WeekHalf
	for k, h := range halves {
		half := WeekHalf{Day: day, Date: w.Settings.Units.Day(day), Name: "am", Hours: clockText(h.From) + "-" + clockText(h.To), Away: away(w, h), First: k == 0, Last: k == len(halves)-1}
		if h.From.Hour() >= 12 {
			half.Name = "pm"
		}
		half.fill(w, h)
		if half.Last {
			half.Needs, half.Due = needsAfter(w, h.To), dueOn(w, day)
		}
		out = append(out, half)
	}
	return out
}

// away says how many of the people are not there in a half-day.
func away(w *jigplan.Week, h jigplan.HalfDay) string {
	switch n := w.Settings.Week.People - h.People; {
	case n <= 0:
		return ""
	case h.People == 0:
		return "all away"
	default:
		return fmt.Sprintf("%d away", n)
	}
}

func closedWhy(w *jigplan.Week, day time.Time) string {
	shop := w.Settings.Week
	switch {
	case shop.Closed[day.Weekday()]:
		return "closed"
	case slices.ContainsFunc(shop.Holidays, func(h time.Time) bool { return midnight(h).Equal(day) }):
		return "holiday"
	case day.Before(w.From):
		return "over"
	}
	return "closed"
}

// fill books the work of one half-day by place.
func (half *WeekHalf) fill(w *jigplan.Week, h jigplan.HalfDay) {
	var saw, bench, glue, held workLines
	codes := codesOf(w)
	for i := range w.Schedule.Bookings {
		b := &w.Schedule.Bookings[i]
		minutes := workIn(w, b, h)
		half.Planned += minutes
		switch {
		case b.Place == jigplan.AtClamps && b.Start.Before(h.From) && !b.Free.Before(h.From):
			held.add(codes[b.Job], b, b.Start, b.Free)
		case minutes == 0:
		case b.Place == jigplan.AtSaw:
			saw.add(codes[b.Job], b, later(b.Start, h.From), sooner(b.End, usable(w, h)))
		case b.Place == jigplan.AtClamps:
			glue.add(codes[b.Job], b, b.Start, b.End)
		default:
			bench.add(codes[b.Job], b, later(b.Start, h.From), sooner(b.End, usable(w, h)))
		}
	}
	half.Saw, half.Bench = saw.worked(), bench.worked()
	half.Clamps = append(held.unclamped(h, w.Settings.Units), glue.glued(h)...)
	half.Drying = drying(w, h.From, h.To)
	half.Free = h.People*int(h.To.Sub(h.From).Minutes()) - half.Planned
}

// Worked is a half-day with the work in it.
type Worked struct {
	jigplan.HalfDay
	Planned, Free int // minutes of people's time
}

// WorkedHalves are all half-days up to the last work, or the last printed day.
func WorkedHalves(w *jigplan.Week) (out []Worked) {
	end := midnight(w.From).AddDate(0, 0, w.Days)
	for i := range w.Schedule.Bookings {
		if b := &w.Schedule.Bookings[i]; b.End.After(end) {
			end = b.End
		}
	}
	for _, h := range w.Schedule.Halves {
		if !h.From.Before(end) {
			break
		}
		one := Worked{HalfDay: h}
		for i := range w.Schedule.Bookings {
			one.Planned += workIn(w, &w.Schedule.Bookings[i], h)
		}
		one.Free = h.People*int(h.To.Sub(h.From).Minutes()) - one.Planned
		out = append(out, one)
	}
	return out
}

// usable is when the planned work of a half-day ends: what follows is kept
// free for what goes wrong.
func usable(w *jigplan.Week, h jigplan.HalfDay) time.Time {
	const unit = 5 * time.Minute
	if h.People < 1 {
		return h.From
	}
	return h.From.Add(time.Duration(float64(h.To.Sub(h.From)) * (1 - w.Settings.Week.BufferPercent/100)).Truncate(unit))
}

// workIn is how many minutes of a booking lie in a half-day.
func workIn(w *jigplan.Week, b *jigplan.Booking, h jigplan.HalfDay) int {
	from, to := h.From, usable(w, h)
	if b.Start.After(from) {
		from = b.Start
	}
	if b.End.Before(to) {
		to = b.End
	}
	return max(0, int(to.Sub(from).Minutes()))
}

func dueOn(w *jigplan.Week, day time.Time) (out []string) {
	for _, p := range promises(w) {
		if !p.Finish.Due.IsZero() && midnight(p.Finish.Due).Equal(day) {
			out = append(out, p.Code)
		}
	}
	return out
}

func midnight(t time.Time) time.Time {
	year, month, day := t.Date()
	return time.Date(year, month, day, 0, 0, 0, 0, t.Location())
}

func clockText(t time.Time) string { return fmt.Sprintf("%d:%02d", t.Hour(), t.Minute()) }

// moment is a time as it is said on a day: without the day when it is that
// one, without the date within a week.
func moment(t, said time.Time, unit measure.Unit) string {
	switch days := midnight(t).Sub(midnight(said)).Hours() / 24; {
	case days == 0:
		return clockText(t)
	case days > 0 && days < 7:
		return t.Format("Mon ") + clockText(t)
	}
	return dayAndTime(t, unit)
}

// WeekTable is the week by half-day, for a screen and a sheet.
func WeekTable(w *jigplan.Week) Table {
	t := Table{Title: "The week by half-day", Head: []string{"Half-day", "Saw", "Bench", "Clamps", "Drying", "Planned", "Free", "The next day needs"}}
	for _, h := range WeekHalves(w) {
		name := w.Settings.Units.LongDay(h.Day) + " " + h.Name
		if h.Name == "" {
			t.Add(name+h.Hours, "", "", "", entries(h.Drying), "", "", due(h.Due))
			continue
		}
		t.Add(joined("\n", name, h.Hours, h.Away), entries(h.Saw), entries(h.Bench), entries(h.Clamps), entries(h.Drying), Hours(float64(h.Planned)), Hours(float64(h.Free)),
			joined("\n", entries(h.Needs), due(h.Due)))
	}
	return t
}

func entries(list []WeekEntry) string {
	var out []string
	for _, e := range list {
		out = append(out, e.String())
	}
	return strings.Join(out, "\n")
}

func due(codes []string) string {
	if len(codes) == 0 {
		return ""
	}
	return "DUE: " + strings.Join(codes, ", ")
}

// promise is a date of a job, and when its boxes are done.
type promise struct {
	*jigplan.WeekJob
	jigplan.Finish
	Name string // the job's; with its boxes where the job has several dates
	At   int    // which of the job's dates it is, from 0
}

// promises lists the dates of all jobs, the jobs without one last. None is
// done of a job of which some work is left out.
func promises(w *jigplan.Week) (out []promise) {
	for i := range w.Jobs {
		j := &w.Jobs[i]
		first := len(out)
		for _, f := range w.Schedule.Finishes {
			if f.Job == j.ID {
				out = append(out, promise{j, f, j.Name, len(out) - first})
			}
		}
		own := out[first:]
		if len(own) == 0 || len(j.Left) > 0 {
			own = append(own[:0], promise{j, jigplan.Finish{Job: j.ID, Due: j.Job.Due}, j.Name, 0})
			out = append(out[:first], own...)
		}
		for k := range own {
			if boxes := boxesDue(j, own[k].Finish.Due); len(own) > 1 && boxes != "" {
				own[k].Name += ": " + boxes
			}
		}
	}
	slices.SortStableFunc(out, func(a, b promise) int {
		x, y := a.Finish.Due, b.Finish.Due
		if x.IsZero() != y.IsZero() {
			return cmp.Compare(b2i(x.IsZero()), b2i(y.IsZero()))
		}
		return x.Compare(y)
	})
	return out
}

// boxesDue names the boxes of a job that are due on a date.
func boxesDue(j *jigplan.WeekJob, due time.Time) string {
	var names []string
	for _, t := range j.Tasks {
		at := j.Job.Due
		if !t.Due.IsZero() {
			at = t.Due
		}
		if at.Equal(due) && t.Box != "" && !slices.Contains(names, t.Box) {
			names = append(names, t.Box)
		}
	}
	return Listed(names, 3)
}

// oneAJob keeps the first date of each job.
func oneAJob(list []promise) (out []promise) {
	for _, p := range list {
		if p.At == 0 {
			out = append(out, p)
		}
	}
	return out
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Late reports whether a date is missed, a hold is not kept, or a job finds no
// room.
func Late(w *jigplan.Week) bool {
	return w.Schedule.LateWeight > 0 || len(w.Schedule.Moved) > 0 || len(w.Schedule.Unplaced) > 0 || slices.ContainsFunc(w.Findings, func(p orders.Finding) bool { return p.Level == orders.Error })
}
