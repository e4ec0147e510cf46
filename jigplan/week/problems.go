package week

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// unworkable says which settings of the shop let no week be planned, and takes
// out the tasks that wait for what the shop does not have.
func unworkable(w *jigplan.Week) {
	s, shop := w.Settings, w.Settings.Week
	report := func(setting, read, did, fix string) {
		w.Findings = append(w.Findings, orders.Finding{Level: orders.Error, Source: settingRow(s, setting), Read: read, Did: did, Fix: fix})
	}
	if shop.People < 1 {
		report("People", fmt.Sprint(shop.People), "nobody works: nothing can be scheduled", "set People to the number of people who work at the same time")
	}
	if shop.Morning.To <= shop.Morning.From && shop.Afternoon.To <= shop.Afternoon.From {
		report("Morning", shop.Morning.String()+", "+shop.Afternoon.String(), "no working hours in the morning or afternoon: nothing can be scheduled",
			"set Morning or Afternoon to hours such as 8:00-12:00")
	} else if open, there := openDays(w); there == 0 && shop.People > 0 {
		setting, why := "Closed days", "the shop is closed"
		switch {
		case open > 0:
			setting, why = "Absences", "everybody is away or the shop is closed"
		case s.Given("Holidays"):
			setting = "Holidays"
		}
		report(setting, closedText(w), fmt.Sprintf("%s on all of the %d days from %s: the sheet is empty, work is planned after them", why, w.Days, w.Settings.Units.LongDate(w.From)),
			"change Closed days, Holidays or Absences, or print more --days")
	}
	if short := needOf(w, func(t *jigplan.Task) bool { return t.Place == jigplan.AtClamps }); short && shop.Clamps < shop.ClampsBox {
		report("Clamps", fmt.Sprint(shop.Clamps), fmt.Sprintf("%d clamps, and one box needs %d: nothing can be glued; what comes before is planned, what comes after is not", shop.Clamps, shop.ClampsBox),
			"set Clamps to the clamps in the shop, or Clamps a box to what one box needs")
		leaveOut(w, func(t *jigplan.Task) bool { return t.Place == jigplan.AtClamps })
	}
	if dry := needOf(w, func(t *jigplan.Task) bool { return t.Space > shop.DryingPlaces }); dry {
		report("Drying places", fmt.Sprint(shop.DryingPlaces), "no room for boxes to dry: nothing can be coated", "set Drying places to how many boxes can stand and dry")
		leaveOut(w, func(t *jigplan.Task) bool { return t.Space > shop.DryingPlaces })
	}
	inCircle(w)
}

// settingRow is where a setting was read; the shop's defaults when nowhere.
func settingRow(s *settings.Shop, name string) orders.Source {
	if at := s.Source(name); at != (orders.Source{}) {
		return at
	}
	return orders.Source{Sheet: "Shop", Cell: name}
}

// openDays counts the printed days on which the shop is open, and those of
// them on which somebody is there.
func openDays(w *jigplan.Week) (open, there int) {
	shop := w.Settings.Week
	for k := range w.Days {
		day := w.From.AddDate(0, 0, k)
		if Closed(day, shop) {
			continue
		}
		open++
		if min(shop.Away(day, "morning"), shop.Away(day, "afternoon")) < shop.People {
			there++
		}
	}
	return open, there
}

// Closed reports whether nobody works on a day.
func Closed(day time.Time, shop settings.Week) bool {
	return shop.Closed[day.Weekday()] || slices.ContainsFunc(shop.Holidays, func(h time.Time) bool {
		return h.Year() == day.Year() && h.YearDay() == day.YearDay()
	})
}

func closedText(w *jigplan.Week) string {
	var days []string
	for k := range w.Days {
		days = append(days, w.Settings.Units.LongDay(w.From.AddDate(0, 0, k)))
	}
	if len(days) > 4 {
		days = append(days[:3], fmt.Sprintf("and %d more", len(days)-3))
	}
	return strings.Join(days, ", ")
}

func needOf(w *jigplan.Week, is func(*jigplan.Task) bool) bool {
	for i := range w.Jobs {
		for k := range w.Jobs[i].Tasks {
			if is(&w.Jobs[i].Tasks[k]) {
				return true
			}
		}
	}
	return false
}

// leaveOut takes tasks off the clock, and all that comes after them.
func leaveOut(w *jigplan.Week, is func(*jigplan.Task) bool) {
	out := map[string]bool{}
	for again := true; again; {
		again = false
		for i := range w.Jobs {
			for k := range w.Jobs[i].Tasks {
				t := &w.Jobs[i].Tasks[k]
				if !out[t.ID] && (is(t) || slices.ContainsFunc(t.After, func(id string) bool { return out[id] })) {
					out[t.ID], again = true, true
				}
			}
		}
	}
	for i := range w.Jobs {
		j := &w.Jobs[i]
		kept := []jigplan.Task{}
		for _, t := range j.Tasks {
			if out[t.ID] {
				j.Left = append(j.Left, t)
			} else {
				kept = append(kept, t)
			}
		}
		j.Tasks = kept
	}
}

// inCircle leaves out tasks that wait for each other.
func inCircle(w *jigplan.Week) {
	waits := map[string][]string{}
	for i := range w.Jobs {
		for _, t := range w.Jobs[i].Tasks {
			waits[t.ID] = t.After
		}
	}
	for done := true; done; {
		done = false
		for id, after := range waits {
			if !slices.ContainsFunc(after, func(b string) bool { _, open := waits[b]; return open }) {
				delete(waits, id)
				done = true
			}
		}
	}
	if len(waits) == 0 {
		return
	}
	ring := circle(waits)
	w.Findings = append(w.Findings, orders.Finding{Level: orders.Error, Source: orders.Source{Sheet: "tasks", Cell: ring[0]}, Read: strings.Join(ring, " after "),
		Did: "these tasks wait for each other: they and the tasks after them are not planned", Fix: "take one of them off with --done when it is done"})
	leaveOut(w, func(t *jigplan.Task) bool { _, open := waits[t.ID]; return open })
}

// circle follows what waits for what until a task comes again.
func circle(waits map[string][]string) []string {
	at := ""
	for id := range waits {
		if at == "" || id < at {
			at = id
		}
	}
	var path []string
	for !slices.Contains(path, at) {
		path = append(path, at)
		for _, b := range waits[at] {
			if _, open := waits[b]; open {
				at = b
				break
			}
		}
	}
	return append(path[slices.Index(path, at):], at)
}

// DueRow is the earliest date of an order and the row that says it.
func DueRow(o *orders.Order) (due time.Time, row orders.Source) {
	for _, b := range o.Boxes {
		if !b.Due.IsZero() && (due.IsZero() || b.Due.Before(due)) {
			due, row = b.Due, b.Source
		}
	}
	return due, row
}

// InFile names a place of one of several order files.
func InFile(file string, at orders.Source) orders.Source {
	if at.Sheet != "" && !strings.HasPrefix(at.Sheet, "[") {
		at.Sheet = "[" + file + "]" + at.Sheet
	}
	return at
}

// pastDue says which dates of a job are before the first day.
func pastDue(w *jigplan.Week, j *jigplan.WeekJob) {
	year, month, day := w.From.Date()
	first := time.Date(year, month, day, 0, 0, 0, 0, w.From.Location())
	said := map[time.Time]bool{{}: true}
	late := func(due time.Time) {
		if said[due] || !due.Before(first) {
			return
		}
		said[due] = true
		w.Findings = append(w.Findings, orders.Finding{Level: orders.Error, Source: rowDue(j, due), Read: due.Format(time.DateOnly),
			Did: fmt.Sprintf("job %s: the date is before the first day, %s: planned as early as possible, and late", j.Code, w.From.Format(time.DateOnly)), Fix: "agree on a new date, and write it there"})
	}
	late(j.Due)
	for i := range j.Tasks {
		late(j.Tasks[i].Due)
	}
	if len(j.Tasks) == 0 && len(j.Left) == 0 {
		w.Findings = append(w.Findings, orders.Finding{Level: orders.Note, Source: orders.Source{Sheet: "[" + j.Plan.Order.File + "]Boxes", Cell: "A1"}, Read: j.Name,
			Did: fmt.Sprintf("job %s has no work left", j.Code), Fix: "finish it with job finish"})
	}
}

// rowDue is the first row of an order with a date; the first dated one when
// none has it.
func rowDue(j *jigplan.WeekJob, due time.Time) orders.Source {
	for i := range j.Plan.Order.Boxes {
		if b := &j.Plan.Order.Boxes[i]; b.Due.Equal(due) {
			return InFile(j.Plan.Order.File, b.Source)
		}
	}
	_, row := DueRow(j.Plan.Order)
	return InFile(j.Plan.Order.File, row)
}

// tooLarge says that a job does not fit into the days looked ahead.
func tooLarge(w *jigplan.Week, j *jigplan.WeekJob, how string) {
	w.Findings = append(w.Findings, orders.Finding{Level: orders.Error, Source: jobRow(j), Read: j.Name,
		Did: fmt.Sprintf("job %s is larger than the %d days that are looked ahead: %s; the others are planned", j.Code, maxDays, how),
		Fix: "split the order, or add people, hours or clamps"})
}

// jobRow is the row of an order that a finding about its job names.
func jobRow(j *jigplan.WeekJob) orders.Source {
	_, row := DueRow(j.Plan.Order)
	if row == (orders.Source{}) && len(j.Plan.Order.Boxes) > 0 {
		row = j.Plan.Order.Boxes[0].Source
	}
	return InFile(j.Plan.Order.File, row)
}

// missed says what found no room, what could not keep its time, and what is
// short of wood.
func missed(w *jigplan.Week) {
	for i := range w.Jobs {
		j := &w.Jobs[i]
		var none []string
		for _, t := range j.Tasks {
			if slices.Contains(w.Schedule.Unplaced, t.ID) {
				none = append(none, t.ID)
			}
		}
		if len(none) > 0 && len(w.Schedule.Halves) > 0 && w.Settings.Week.People > 0 {
			tooLarge(w, j, fmt.Sprintf("%d of its %d tasks, from %s on, do not fit in", len(none), len(j.Tasks), none[0]))
		}
		if len(j.Plan.Layout.Short)+len(j.Plan.Refusals) > 0 {
			w.Findings = append(w.Findings, orders.Finding{Level: orders.Error, Source: jobRow(j), Read: j.Name,
				Did: fmt.Sprintf("job %s: some parts cannot be made as asked; only whole boxes are on the clock", j.Code), Fix: "see what plan says of " + j.Plan.Order.File})
		}
	}
	for _, id := range w.Schedule.Moved {
		w.Findings = append(w.Findings, orders.Finding{Level: orders.Warning, Source: orders.Source{Sheet: "tasks", Cell: id}, Read: id,
			Did: "it cannot begin at the time it is held to; planned as early as possible", Fix: "change the time, or the work it waits for"})
	}
}
