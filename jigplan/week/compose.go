// Package week puts open orders on the calendar. Plan turns each order's plan
// into tasks, takes off what is done, leaves out what the shop has no clamps or
// places for, searches for the schedule with the least lateness, and has it
// checked. It leaves how long work takes to times and the pages to reports.
package week

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Open is an accepted order whose work is not done.
type Open struct {
	ID, Name string
	Code     string    // stands for it in large letters; empty: its ID
	Due      time.Time // zero: no date
	Placed   time.Time // the day its wood was ordered; zero: the week's first day
	Weight   int       // how much a day late matters; 0 counts as 1
	Plan     *jigplan.Plan
	Done     []string             // ids of its tasks that are done: "12/mill"
	Logged   []jigplan.Logged     // work of it that was timed, the oldest first
	Pinned   map[string]time.Time // task id -> when it must start
	Extra    []jigplan.Task       // work beside the plan's, on boxes half made already
}

// Request is which orders are put on the clock, from when, and how many
// days of it are printed.
type Request struct {
	Open     []Open
	From     time.Time
	Days     int
	Settings *settings.Shop // the shop's: hours, people, clamps
	Limits   Limits
	Help     bool // say what would help a late week, each by planning it
}

// Plan puts the work of open orders on the clock. It plans on past the printed
// days until all work has its place. What has none is left out and said in
// Findings; the rest is planned. An error means that the check found fault
// with the schedule, or with its hours.
func Plan(r Request) (*jigplan.Week, error) {
	w := &jigplan.Week{From: r.From, Days: r.Days, Settings: r.Settings}
	for _, o := range r.Open {
		job, done := Remaining(o, r.Settings.Week)
		w.Jobs, w.Done = append(w.Jobs, job), append(w.Done, done...)
		awaitWood(w, &w.Jobs[len(w.Jobs)-1], o.Placed)
		if err := check.Minutes(JobOf(o.ID, o.Name, o.Due, o.Plan).Tasks, o.Plan); err != nil {
			return w, fmt.Errorf("%w: %s: %w", jigplan.ErrFault, o.ID, err)
		}
	}
	unworkable(w)
	for i := range w.Jobs {
		pastDue(w, &w.Jobs[i])
	}
	if err := planWeek(w, r.Limits, r.Help); err != nil {
		return w, err
	}
	missed(w)
	return w, nil
}

// Remaining is an open order's tasks with this week's clamps and places, less
// what is done, and the ids of the tasks that are.
func Remaining(o Open, shop settings.Week) (job jigplan.WeekJob, done []string) {
	order, plan := *o.Plan.Order, *o.Plan
	order.Settings.Week = shop
	plan.Order = &order
	of := JobOf(o.ID, o.Name, o.Due, &plan)
	of.Weight = max(1, o.Weight)
	of.Tasks = append(of.Tasks, o.Extra...)
	left, logged, held := Left(of, o.Plan, o.Logged)
	done = slices.Clone(o.Done)
	for _, id := range logged {
		if !slices.Contains(done, id) {
			done = append(done, id)
		}
	}
	of.Tasks, of.Held = []jigplan.Task{}, held
	for _, t := range left {
		if !slices.Contains(done, t.ID) {
			t.Pinned = o.Pinned[t.ID]
			of.Tasks = append(of.Tasks, t)
		}
	}
	code := o.Code
	if code == "" {
		code = o.ID
	}
	return jigplan.WeekJob{Job: of, Code: code, Plan: o.Plan}, done
}

// TaskIDs names the tasks of an open order, done ones too.
func TaskIDs(o Open, shop settings.Week) (ids []string) {
	o.Done, o.Logged = nil, nil
	job, _ := Remaining(o, shop)
	for _, t := range job.Tasks {
		ids = append(ids, t.ID)
	}
	return ids
}

// awaitWood keeps a job's milling until the wood it buys has arrived and has
// taken on the shop's moisture. Wood without a date of arrival is there so many
// days after it was ordered.
func awaitWood(w *jigplan.Week, j *jigplan.WeekJob, ordered time.Time) {
	if ordered.IsZero() {
		ordered = w.From
	}
	shop := &w.Settings.Week
	usual := Midnight(ordered).Add(days(shop.BuyingDays))
	var arrives time.Time
	said := false
	for i := range j.Plan.Layout.Boards {
		stock := &j.Plan.Layout.Boards[i].Stock
		at := stock.Arrives
		if bought := stock.Origin == orders.FromYard || stock.Origin == orders.FromTypical; at.IsZero() && bought {
			at = usual
		}
		if at.After(arrives) {
			arrives, said = at, !stock.Arrives.IsZero()
		}
	}
	ready := arrives.Add(days(shop.AcclimatiseDays))
	if arrives.IsZero() || !ready.After(w.From) || len(j.Tasks) == 0 || !strings.HasSuffix(j.Tasks[0].ID, "/mill") {
		return
	}
	j.Tasks[0].Release, j.Arrives, j.MillFrom = ready, arrives, ready
	why := "Arrives in the yard"
	if !said {
		why = fmt.Sprintf("Buying takes %v days", shop.BuyingDays)
	}
	w.Findings = append(w.Findings, orders.Finding{Level: orders.Note, Source: settingRow(w.Settings, "Acclimate"), Read: fmt.Sprintf("%v d", shop.AcclimatiseDays),
		Did: fmt.Sprintf("%s: the wood to buy arrives %s (%s) and rests %v days; milling starts %s", j.Name, dayWords(arrives), why, shop.AcclimatiseDays, dayWords(ready)),
		Fix: "lower Acclimate only for wood whose moisture is measured"})
}

func days(n float64) time.Duration { return time.Duration(n * 24 * float64(time.Hour)) }

func dayWords(t time.Time) string { return t.Format("Mon Jan 2") }

// planWeek looks ahead as far as the work seems to reach, and farther while
// something has no place.
func planWeek(w *jigplan.Week, limits Limits, help bool) error {
	setAside(w)
	var jobs []jigplan.Job
	for _, j := range w.Jobs {
		jobs = append(jobs, j.Job)
	}
	shop := w.Settings.Week
	in := WeekInput{Jobs: jobs, Week: shop}
	for days := lookAhead(w); ; days = min(2*days, maxDays) {
		in.Halves = Calendar(w.From, days, shop)
		if first, _ := searched(in, Limits{Work: 1}); first.best.none == 0 || days == maxDays {
			break
		}
	}
	if len(in.Halves) == 0 {
		limits.Work = 1 // nobody works: there is nothing to search
	}
	w.Schedule = Schedule(in, limits)
	if faults := check.Schedule(jobs, shop, w.Schedule); len(faults) > 0 {
		return fmt.Errorf("%w: the schedule: %w", jigplan.ErrFault, errors.Join(faults...))
	}
	if help && w.Schedule.LateWeight > 0 {
		w.Help = whatHelps(w, in, limits.Stop)
	}
	return nil
}

// setAside takes off the clock what alone would fill more days than are looked
// ahead, so that the other jobs find their room.
func setAside(w *jigplan.Week) {
	shop := w.Settings.Week
	minutes := 0.0
	for _, h := range Calendar(w.From, maxDays, shop) {
		minutes += h.To.Sub(h.From).Minutes() * (1 - shop.BufferPercent/100)
	}
	for i := range w.Jobs {
		j := &w.Jobs[i]
		saw, all := 0.0, 0.0
		for _, t := range j.Tasks {
			all += float64(t.Minutes)
			if t.Place == jigplan.AtSaw {
				saw += float64(t.Minutes)
			}
		}
		need := max(saw, all/float64(max(1, shop.People)), (all-saw)/float64(max(1, shop.Benches)))
		if minutes == 0 || need <= minutes {
			continue
		}
		tooLarge(w, j, fmt.Sprintf("it needs %.0f h of saw, bench or people, and %.0f h of them are looked ahead: none of it is planned", need/60, minutes/60))
		j.Left, j.Tasks = append(j.Left, j.Tasks...), []jigplan.Task{}
	}
}

// lookAhead is how many days the work and its dates seem to need.
func lookAhead(w *jigplan.Week) int {
	days, minutes, waits := w.Days, 0, 0
	for _, j := range w.Jobs {
		wait := 0
		for _, t := range j.Tasks {
			minutes += t.Minutes
			wait = max(wait, t.Wait)
			if !t.Release.IsZero() {
				days = max(days, int(t.Release.Sub(w.From).Hours()/24)+14)
			}
		}
		waits = max(waits, wait)
		if !j.Due.IsZero() {
			days = max(days, int(j.Due.Sub(w.From).Hours()/24)+7)
		}
	}
	shop := w.Settings.Week
	daily := float64(shop.Morning.To-shop.Morning.From+shop.Afternoon.To-shop.Afternoon.From) * (1 - shop.BufferPercent/100)
	if daily > 0 {
		days = max(days, 14+int(2*float64(minutes)/daily)+waits/(24*60)*7)
	}
	return min(days, maxDays)
}

// Sheet is what is kept of a week that is given out.
func Sheet(w *jigplan.Week, given time.Time) jigplan.WeekSheet {
	s := jigplan.WeekSheet{Given: given, From: w.From, Days: w.Days, Jobs: []jigplan.SheetJob{}, Tasks: []jigplan.SheetTask{}, Done: append([]string{}, w.Done...)}
	names := map[string]string{}
	for _, j := range w.Jobs {
		names[j.ID] = j.Name
	}
	for _, f := range w.Schedule.Finishes {
		s.Jobs = append(s.Jobs, jigplan.SheetJob{ID: f.Job, Name: names[f.Job], Due: f.Due, Done: f.Done})
	}
	for _, b := range w.Schedule.Bookings {
		s.Tasks = append(s.Tasks, jigplan.SheetTask{ID: b.ID, Job: b.Job, What: b.What, Start: b.Start, End: b.End})
	}
	return s
}
