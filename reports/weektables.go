package reports

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// dayAndTime is a moment of the week: "Mon Mar 8 13:00".
func dayAndTime(t time.Time, unit measure.Unit) string { return unit.LongDay(t) + " " + clockText(t) }

// WeekFacts is how good the week is, and what is proven of it.
func WeekFacts(w *jigplan.Week) Table {
	s, left := &w.Schedule, len(w.Schedule.Unplaced)
	for _, j := range w.Jobs {
		left += len(j.Left)
	}
	t := Table{Title: weekTitle(w), Head: []string{"", ""}}
	lateness := Counted(s.LateWeight, "day", "days") + " late (weighted)"
	if s.LateBound > 0 {
		lateness += fmt.Sprintf(". At least %s late whatever you do: %s", Counted(s.LateBound, "day", "days"), boundReason(s))
	}
	switch {
	case s.LateWeight == 0 && left == 0:
		lateness = "every date is met"
	case s.LateWeight == 0:
		lateness = "every date that can be planned is met"
	case s.Proven:
		lateness = fmt.Sprintf("%s late (weighted), fewest possible: %s", Counted(s.LateWeight, "day", "days"), boundReason(s))
	}
	t.Add("Dates", lateness)
	if s.LateWeight > 0 {
		t.Add("Would help", helpText(w.Help))
	}
	if left > 0 {
		t.Add("Without room", Counted(left, "task", "tasks")+": see what could not be planned")
	}
	planned, free := 0, 0
	for _, h := range WeekHalves(w) {
		planned, free = planned+h.Planned, free+h.Free
	}
	t.Add("Hours of work", fmt.Sprintf("%s planned, %s free (%s of every half-day is kept free)", Hours(float64(planned)), Hours(float64(free)), w.Settings.Units.Percent(w.Settings.Week.BufferPercent, 0)))
	t.Add("Evenings", fmt.Sprintf("%d of %d with all clamps at work, up to the last glue-up", s.FullEvenings, len(s.Evenings)))
	t.Add("Setups", Counted(s.Setups, "change of the saw", "changes of the saw"))
	return t
}

// boundReason is what does not allow less lateness.
func boundReason(s *jigplan.Schedule) string {
	if len(s.BoundBy) == 0 {
		return "the work and waits of each job, even alone in the shop"
	}
	return Listed(s.BoundBy, 5)
}

// helpText says which changes keep every date, else which two save the most.
func helpText(list []jigplan.Help) string {
	var keep, less []string
	for _, h := range list {
		if h.Late == 0 {
			keep = append(keep, h.What)
		} else if len(less) < 2 {
			less = append(less, fmt.Sprintf("%s: %s late", h.What, Counted(h.Late, "day", "days")))
		}
	}
	switch {
	case len(keep) > 0:
		return "with " + strings.Join(keep, ", or ") + ", every date is met"
	case len(less) > 0:
		return "with " + strings.Join(less, "; with ")
	}
	return "none of the changes tried (more clamps or drying places, one evening, one more person)"
}

func weekTitle(w *jigplan.Week) string {
	last := w.From.AddDate(0, 0, w.Days-1)
	return fmt.Sprintf("Week from %s to %s", w.Settings.Units.LongDay(w.From), w.Settings.Units.LongDate(last))
}

// WeekTitle names the printed days.
func WeekTitle(w *jigplan.Week) string { return weekTitle(w) }

// WeekWarning says in a line which dates break and what has no room; empty:
// nothing.
func WeekWarning(w *jigplan.Week) string {
	var out []string
	for _, p := range promises(w) {
		switch p.standing() {
		case "LATE":
			out = append(out, "job "+p.Code+" by "+Counted(p.DaysLate, "day", "days"))
		case "NO ROOM":
			out = append(out, "no room for job "+p.Code)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "LATE: " + Listed(out, 6)
}

// DueList is the jobs by their dates, with what is in hand.
func DueList(w *jigplan.Week) Table {
	t := Table{Title: "Due", Head: []string{"Job", "Order", "Due", "Done", "", "To spare", "Decide by", "Next"}}
	for _, p := range promises(w) {
		t.Add(p.Code, p.Name, dayText(p.Finish.Due, w.Settings.Units), momentText(p.Done, w.Settings.Units), p.standing(), slackText(p.Finish), p.decideText(w.Settings.Units), p.next(w))
	}
	t.Note("Decide by: the last moment its next work can begin with the date kept, if nothing else stood in the way.")
	return t
}

// standing is a date's state in a word: nothing hangs on a colour.
func (p *promise) standing() string {
	switch {
	case len(p.Tasks)+len(p.Left) == 0:
		return "done"
	case p.Done.IsZero() || len(p.Left) > 0:
		return "NO ROOM"
	case p.DaysLate > 0:
		return "LATE"
	case p.Finish.Due.IsZero():
		return "no date"
	case p.Slack < 24*time.Hour:
		return "TIGHT"
	}
	return "ok"
}

func slackText(f jigplan.Finish) string {
	switch {
	case f.Due.IsZero() || f.Done.IsZero():
		return ""
	case f.DaysLate > 0:
		return Counted(f.DaysLate, "day", "days") + " late"
	case f.Slack < 24*time.Hour:
		return fmt.Sprintf("%d h", int(f.Slack.Hours()))
	}
	return fmt.Sprintf("%d d %d h", int(f.Slack.Hours())/24, int(f.Slack.Hours())%24)
}

func (p *promise) decideText(unit measure.Unit) string {
	switch {
	case !p.Decide.IsZero():
		return dayAndTime(p.Decide, unit)
	case p.Finish.Due.IsZero() || len(p.Tasks) == 0:
		return ""
	}
	return "too late"
}

// next is the first work of the job that is not done.
func (p *promise) next(w *jigplan.Week) string {
	for _, b := range w.Schedule.Bookings {
		if b.Job == p.ID {
			return dayAndTime(b.Start, w.Settings.Units) + " " + b.What
		}
	}
	return ""
}

func dayText(t time.Time, unit measure.Unit) string {
	if t.IsZero() {
		return ""
	}
	return unit.LongDay(t)
}

func momentText(t time.Time, unit measure.Unit) string {
	if t.IsZero() {
		return "not within the days looked ahead"
	}
	return dayAndTime(t, unit)
}

// LateList says which dates break, by how much, and until when that can be
// turned; then which keep, and until when they do.
func LateList(w *jigplan.Week) Table {
	t := Table{Title: "Dates that break", Head: []string{"Job", "Order", "Due", "Done", "Late by", "Last moment to decide", "What would keep it"}}
	var kept []string
	for _, p := range promises(w) {
		state := p.standing()
		if state != "LATE" && state != "NO ROOM" {
			if !p.Decide.IsZero() {
				kept = append(kept, fmt.Sprintf("%s keeps %s while its next work begins by %s (planned: %s).", p.Code, dayText(p.Finish.Due, w.Settings.Units), p.decideText(w.Settings.Units), p.next(w)))
			}
			continue
		}
		by := Counted(p.DaysLate, "day", "days")
		if state == "NO ROOM" {
			by = "it has no room"
		}
		t.Add(p.Code, p.Name, dayText(p.Finish.Due, w.Settings.Units), momentText(p.Done, w.Settings.Units), by, p.decideText(w.Settings.Units), p.remedy(w))
	}
	if len(t.Rows) == 0 {
		t.Title = "No date breaks"
	}
	t.Notes = kept
	return t
}

func (p *promise) remedy(w *jigplan.Week) string {
	if p.Decide.IsZero() {
		return "nothing: even alone in the shop it would be late; agree on another date"
	}
	others := map[string]bool{}
	for _, b := range w.Schedule.Bookings {
		if b.Job != p.ID && b.Start.Before(p.Done) {
			others[b.Job] = true
		}
	}
	codes := codesOf(w)
	var names []string
	for id := range others {
		names = append(names, codes[id])
	}
	slices.Sort(names)
	if len(names) == 0 {
		return "more hours or people"
	}
	return "more hours or people, or it goes before " + Listed(names, 4)
}

// printed are the bookings that begin in the printed days.
func printed(w *jigplan.Week) (out []jigplan.Booking) {
	end := midnight(w.From).AddDate(0, 0, w.Days)
	for _, b := range w.Schedule.Bookings {
		if b.Start.Before(end) {
			out = append(out, b)
		}
	}
	return out
}

// Milling is the wood that is milled in the printed days.
func Milling(w *jigplan.Week) Table {
	words := Words{w.Settings.Units}
	measured := "Board feet"
	if words.Unit.Metric() {
		measured = "Cubic metres"
	}
	t := Table{Title: "To mill", Head: []string{"", "When", "Job", "Wood", "As it lies", "Mill to", "Boards", measured, "Which, and where"}, Numbers: []int{6, 7}}
	for _, b := range printed(w) {
		if b.Place != jigplan.AtSaw || b.Setup != "" || b.Wait == 0 {
			continue
		}
		at := slices.IndexFunc(w.Jobs, func(j jigplan.WeekJob) bool { return j.ID == b.Job })
		j := &w.Jobs[at]
		for _, g := range millGroups(j.Plan, words) {
			t.Add("☐", b.Start.Format("Mon 15:04"), j.Code, g.wood, g.lies, g.to, len(g.boards), g.content(words), Listed(g.boards, 8))
		}
	}
	return t
}

type millGroup struct {
	wood, lies, to string
	boards         []string
	solid          *big.Rat // board feet or cubic metres; sheets have none
}

func (g *millGroup) content(w Words) string {
	if g.solid.Sign() == 0 {
		return ""
	}
	return decimalIn(g.solid, w)
}

// millGroups puts a plan's boards of one wood, thickness and aim together.
func millGroups(p *jigplan.Plan, shop Words) (out []*millGroup) {
	words := WordsOf(p)
	thick := map[string]string{}
	for i := range p.Parts {
		thick[p.Parts[i].ID] = words.Bare(p.Parts[i].Thickness)
	}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		var aims []string
		for _, piece := range b.Pieces {
			if aim := thick[piece.Part]; !slices.Contains(aims, aim) {
				aims = append(aims, aim)
			}
		}
		slices.Sort(aims)
		to, lies := strings.Join(aims, ", ")+" "+words.UnitName(), b.Stock.Class
		switch {
		case b.Leaf.Count > 0:
			lies = "leaf of " + words.Len(b.Thickness)
		case lies == "":
			lies = words.Len(b.Thickness)
		}
		if b.Stock.Sheet {
			to = "as it is"
		}
		at := slices.IndexFunc(out, func(g *millGroup) bool { return g.wood == b.Stock.Wood && g.lies == lies && g.to == to })
		if at < 0 {
			at = len(out)
			out = append(out, &millGroup{wood: b.Stock.Wood, lies: lies, to: to, solid: new(big.Rat)})
		}
		name := b.ID
		if b.Stock.Place != "" {
			name += " (" + b.Stock.Place + ")"
		}
		out[at].boards = append(out[at].boards, name)
		if b.Leaf.N <= 1 && !b.Stock.Sheet { // a resawn board counts once
			out[at].solid.Add(out[at].solid, content(&b.Stock, shop))
		}
	}
	slices.SortStableFunc(out, func(a, b *millGroup) int { return cmp.Or(cmp.Compare(a.wood, b.wood), cmp.Compare(a.lies, b.lies)) })
	return out
}

// WeekFindings is what could not be planned as asked.
func WeekFindings(w *jigplan.Week) Table {
	t := FindingTable(w.Findings)
	t.Title = "What could not be planned as asked"
	return t
}

// WeekSummary is the week for a screen: one screenful, or with all half-days.
func WeekSummary(w *jigplan.Week, all bool) []Table {
	var out []Table
	if slices.ContainsFunc(w.Findings, func(p orders.Finding) bool { return p.Level != orders.Note }) {
		out = append(out, WeekFindings(w))
	}
	out = append(out, WeekFacts(w))
	if all {
		return append(out, WeekTable(w), DueList(w))
	}
	return append(out, WeekDays(w), shortDueList(w))
}
