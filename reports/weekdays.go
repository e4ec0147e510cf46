package reports

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
)

// maxDue is how many dates fit on a screen beside the days.
const maxDue = 12

// WeekDays is the week with a row for each printed day, short enough for a
// screen.
func WeekDays(w *jigplan.Week) Table {
	t := Table{Title: "Day by day", Head: []string{"Day", "Saw", "Bench and finish", "Glue", "Planned", ""}}
	codes := codesOf(w)
	var halves []WeekHalf
	flush := func() {
		if len(halves) == 0 {
			return
		}
		last := &halves[len(halves)-1]
		day, planned := last.Day, 0
		name := w.Settings.Units.LongDay(day)
		for i := range halves {
			planned += halves[i].Planned
			if half := joined(" ", halves[i].Name, halves[i].Away); halves[i].Away != "" {
				name += "\n" + half
			}
		}
		if last.Name == "" {
			t.Add(name+" "+last.Hours, "", "", "", "", due(last.Due))
		} else {
			saw, bench, glue := dayWork(w, codes, day)
			t.Add(name, saw, bench, glue, Hours(float64(planned)), due(last.Due))
		}
		halves = halves[:0]
	}
	for _, h := range WeekHalves(w) {
		if h.First {
			flush()
		}
		halves = append(halves, h)
	}
	flush()
	return t
}

// dayWork is what is done on a day by place, job by job.
func dayWork(w *jigplan.Week, codes map[string]string, day time.Time) (saw, bench, glue string) {
	var at [3]workLines
	for i := range w.Schedule.Bookings {
		b := &w.Schedule.Bookings[i]
		if b.Start.Before(day.AddDate(0, 0, 1)) && b.End.After(day) {
			place := 1
			switch b.Place {
			case jigplan.AtSaw:
				place = 0
			case jigplan.AtClamps:
				place = 2
			}
			at[place].add(codes[b.Job], b, b.Start, b.End)
		}
	}
	return at[0].brief(), at[1].brief(), at[2].brief()
}

// brief is all strands in one text, those of a job together: "2 mill, saw U1".
func (s workLines) brief() string {
	var jobs, texts []string
	for _, one := range s {
		text := one.kind
		switch {
		case one.kind == saws:
			text += " " + strings.Join(one.names, " ")
		case strings.HasPrefix(one.kind, "coat"):
			text += fmt.Sprintf(" on %d", one.boxes)
		case one.kind != mills && one.kind != grooves:
			text += fmt.Sprintf(" %d", one.boxes)
		}
		k := slices.Index(jobs, one.code)
		if k < 0 {
			jobs, texts = append(jobs, one.code), append(texts, one.code+" "+text)
			continue
		}
		texts[k] += ", " + text
	}
	return strings.Join(texts, "\n")
}

// shortDueList is the dates that fit on a screen, those that break before all.
func shortDueList(w *jigplan.Week) Table {
	t := DueList(w)
	if extra := len(t.Rows) - maxDue; extra > 0 {
		const standing = 4
		ok := func(row []string) bool {
			return row[standing] == "ok" || row[standing] == "no date" || row[standing] == "done"
		}
		slices.SortStableFunc(t.Rows, func(a, b []string) int { return b2i(ok(a)) - b2i(ok(b)) })
		t.Rows = t.Rows[:maxDue]
		t.Notes = append([]string{Counted(extra, "more date", "more dates") + ": --all shows them."}, t.Notes...)
	}
	return t
}
