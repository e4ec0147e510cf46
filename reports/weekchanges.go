package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
)

// WeekChanges is what differs from the sheet given out before: jobs first,
// then the tasks that either sheet has in the printed days.
func WeekChanges(w *jigplan.Week) Table {
	t := Table{Title: "Changes since the last week sheet", Head: []string{"Job", "What", "Was", "Is"}}
	if w.Before == nil {
		t.Note("No week sheet was given out before this one, so there is nothing to compare with. --give-out keeps a sheet in the shop file; the next one says what changed.")
		return t
	}
	t.Title = "Changes"
	if !w.Before.Given.IsZero() {
		t.Title = "Changes since the week sheet given out on " + dayAndTime(w.Before.Given, w.Settings.Units)
	}
	jobChanges(&t, w)
	taskChanges(&t, w)
	if len(t.Rows) == 0 {
		t.Note("Nothing has changed.")
	}
	return t
}

func jobChanges(t *Table, w *jigplan.Week) {
	codes := codesOf(w)
	was := map[string][]jigplan.SheetJob{}
	for _, j := range w.Before.Jobs {
		was[j.ID] = append(was[j.ID], j)
	}
	for _, p := range promises(w) {
		old := was[p.ID]
		if p.At >= len(old) {
			t.Add(codes[p.ID], p.Name, "not on the sheet", "done "+momentText(p.Done, w.Settings.Units))
			continue
		}
		if !old[p.At].Due.Equal(p.Finish.Due) {
			t.Add(codes[p.ID], p.Name+": due", orNone(dayText(old[p.At].Due, w.Settings.Units)), orNone(dayText(p.Finish.Due, w.Settings.Units)))
		}
		if !old[p.At].Done.Equal(p.Done) {
			t.Add(codes[p.ID], p.Name+": done", momentText(old[p.At].Done, w.Settings.Units), momentText(p.Done, w.Settings.Units))
		}
	}
	for _, j := range w.Before.Jobs {
		if codes[j.ID] == "" {
			t.Add(j.ID, j.Name, "on the sheet", "no longer open")
		}
	}
}

// move is the tasks of one kind on one job that went from one day to another.
type move struct {
	job, what string
	tasks     int
	was, is   time.Time // the earliest; zero: not on that sheet
	end       string    // "done", "no room": why it is not on this one
}

func taskChanges(t *Table, w *jigplan.Week) {
	codes := codesOf(w)
	for _, m := range moves(w) {
		what := m.what
		if m.tasks > 1 {
			what = fmt.Sprintf("%s, in %d groups", what, m.tasks)
		}
		was, is := "not on the sheet", m.end
		if !m.was.IsZero() {
			was = dayAndTime(m.was, w.Settings.Units)
		}
		if !m.is.IsZero() {
			is = dayAndTime(m.is, w.Settings.Units)
		}
		t.Add(codes[m.job], what, was, is)
	}
}

// moves are the tasks of known jobs that begin at another time, in the printed
// days of this week.
func moves(w *jigplan.Week) (out []*move) {
	from, end := midnight(w.From), midnight(w.From).AddDate(0, 0, w.Days)
	inWeek := func(at time.Time) bool { return !at.Before(from) && at.Before(end) }
	was, jobs := map[string]jigplan.SheetTask{}, map[string]bool{}
	for _, task := range w.Before.Tasks {
		was[task.ID] = task
		jobs[task.Job] = true
	}
	for _, b := range w.Schedule.Bookings {
		old := was[b.ID]
		delete(was, b.ID)
		if jobs[b.Job] && !old.Start.Equal(b.Start) && (inWeek(b.Start) || inWeek(old.Start)) {
			out = moved(out, move{b.Job, workName(b.ID), 1, old.Start, b.Start, ""})
		}
	}
	open := codesOf(w)
	for _, task := range w.Before.Tasks {
		if _, gone := was[task.ID]; gone && open[task.Job] != "" && inWeek(task.Start) {
			why := "no room"
			if slices.Contains(w.Done, task.ID) {
				why = "done"
			}
			out = moved(out, move{task.Job, workName(task.ID), 1, task.Start, time.Time{}, why})
		}
	}
	slices.SortStableFunc(out, func(a, b *move) int { return later(a.was, a.is).Compare(later(b.was, b.is)) })
	return out
}

// workName is what a task's id says of its work: "saw U1", "glue", "coat".
func workName(id string) string {
	_, name, _ := strings.Cut(id, "/")
	if kind, _, numbered := strings.Cut(name, " "); numbered && kind != saws {
		return kind
	}
	return name
}

// moved adds a move to those of the same work between the same days.
func moved(list []*move, m move) []*move {
	for _, one := range list {
		if one.job == m.job && one.what == m.what && one.end == m.end && midnight(one.was).Equal(midnight(m.was)) && midnight(one.is).Equal(midnight(m.is)) {
			one.tasks++
			one.was, one.is = sooner(one.was, m.was), sooner(one.is, m.is)
			return list
		}
	}
	return append(list, &m)
}

func orNone(text string) string { return cmp.Or(text, "no date") }

// WeekDifference sets a week beside what it would be with a change.
func WeekDifference(now, then *jigplan.Week, what string) Table {
	t := Table{Title: "What if: " + what, Head: []string{"Job", "Order", "Due", "Done now", "Done then", "Late now", "Late then"}}
	unit := now.Settings.Units
	type key struct {
		job string
		at  int
	}
	before, seen := map[key]promise{}, map[key]bool{}
	for _, p := range promises(now) {
		before[key{p.ID, p.At}] = p
	}
	for _, p := range promises(then) {
		k := key{p.ID, p.At}
		seen[k] = true
		done, late := "not in it", ""
		if old, known := before[k]; known {
			done, late = momentText(old.Done, unit), lateText(old.Finish)
		}
		t.Add(p.Code, p.Name, dayText(p.Finish.Due, unit), done, momentText(p.Done, unit), late, lateText(p.Finish))
	}
	for _, p := range promises(now) {
		if !seen[key{p.ID, p.At}] {
			t.Add(p.Code, p.Name, dayText(p.Finish.Due, unit), momentText(p.Done, unit), "not in it", lateText(p.Finish), "")
		}
	}
	a, b := &now.Schedule, &then.Schedule
	t.Add("", "days late (weighted)", "", "", "", fmt.Sprint(a.LateWeight), fmt.Sprint(b.LateWeight))
	t.Add("", "at best (proven)", "", "", "", fmt.Sprint(a.LateBound), fmt.Sprint(b.LateBound))
	t.Add("", "evenings with all clamps at work", "", "", "", fmt.Sprintf("%d of %d", a.FullEvenings, len(a.Evenings)), fmt.Sprintf("%d of %d", b.FullEvenings, len(b.Evenings)))
	t.Add("", "changes of the saw", "", "", "", fmt.Sprint(a.Setups), fmt.Sprint(b.Setups))
	t.Note(verdict(now, then))
	return t
}

func lateText(f jigplan.Finish) string {
	switch {
	case f.Done.IsZero():
		return "no room"
	case f.Due.IsZero():
		return ""
	case f.DaysLate == 0:
		return "kept"
	}
	return Counted(f.DaysLate, "day", "days")
}

// verdict is the difference in a sentence or two.
func verdict(now, then *jigplan.Week) string {
	type key struct {
		job string
		at  int
	}
	was := map[key]string{}
	for _, p := range promises(now) {
		was[key{p.ID, p.At}] = p.standing()
	}
	var breaks, saves, ousts []string
	for _, p := range promises(then) {
		j := p.WeekJob
		state := p.standing()
		switch old := was[key{p.ID, p.At}]; {
		case state == old:
		case state == "NO ROOM":
			ousts = append(ousts, j.Code)
		case state == "LATE":
			breaks = append(breaks, j.Code)
		case old == "LATE" || old == "NO ROOM":
			saves = append(saves, j.Code)
		}
	}
	text := "No date would be missed because of it."
	if len(breaks) > 0 {
		text = "It would miss the date of " + Listed(breaks, 8) + "."
	}
	if len(ousts) > 0 {
		text += " It would leave no time for " + Listed(ousts, 8) + "."
	}
	if len(saves) > 0 {
		text += " It would meet the date of " + Listed(saves, 8) + "."
	}
	return text
}
