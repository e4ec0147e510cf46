package document

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// Week is a week's schedule, version 1. Times are by the clock on the wall,
// "2027-03-08T08:00"; dates "2027-03-08"; an empty text is no time or no date.
type Week struct {
	Version      int            `json:"version"`
	From         string         `json:"from"`
	Days         int            `json:"days"` // that are printed; the bookings go on beyond them
	LateWeight   int            `json:"late_weight"`
	LateBound    int            `json:"late_bound"`    // proven: no schedule is below
	BoundBy      []string       `json:"late_bound_by"` // what does not allow less; empty: the waits of each job alone
	Help         []Help         `json:"would_help"`
	Proven       bool           `json:"proven"`
	Stop         string         `json:"stop"` // why the search ended: budget, time, interrupted
	FullEvenings int            `json:"full_evenings"`
	Setups       int            `json:"setups"`
	Settings     Named          `json:"settings"`
	Jobs         []WeekJob      `json:"jobs"`
	Halves       []WeekHalf     `json:"halves"`
	Bookings     []Booking      `json:"bookings"`
	Evenings     []Evening      `json:"evenings"`
	Unplaced     []string       `json:"unplaced"` // tasks without room, or left out
	Moved        []string       `json:"moved"`    // held tasks that could not keep their time
	Problems     []Finding      `json:"problems"`
	Changes      *reportedTable `json:"changes"` // since the sheet given out last; null: none was
}

// Help is a change with which the week was planned again.
type Help struct {
	What string `json:"what"`
	Late int    `json:"late_weight"`
}

// WeekJob is an open order. Where it has several dates, done is when all is
// done, and days late, slack and decide-by are those of the date that is worst
// off.
type WeekJob struct {
	ID       string `json:"id"`
	Code     string `json:"code"`
	Name     string `json:"name"`
	Due      string `json:"due"`
	Done     string `json:"done"`
	DaysLate int    `json:"days_late"`
	Slack    *int   `json:"slack_minutes"` // from done to the end of the due day; null: no date or no room
	Decide   string `json:"decide_by"`
	Weight   int    `json:"weight"`
	Minutes  int    `json:"minutes"` // of work left

	Dates []WeekDate `json:"dates"` // one at least
}

// WeekDate is a date of an open order.
type WeekDate struct {
	Due      string   `json:"due"`
	Boxes    []string `json:"boxes"` // the box lines due then
	Done     string   `json:"done"`
	DaysLate int      `json:"days_late"`
	Slack    *int     `json:"slack_minutes"`
	Decide   string   `json:"decide_by"`
}

// WeekHalf is a half-day.
type WeekHalf struct {
	From    string `json:"from"`
	To      string `json:"to"`
	People  int    `json:"people"`
	Planned int    `json:"planned_minutes"`
	Free    int    `json:"free_minutes"`
}

// Booking is a task on the clock.
type Booking struct {
	Task    string   `json:"task"`
	Job     string   `json:"job"`
	What    string   `json:"what"`
	Place   string   `json:"place"`
	Minutes int      `json:"minutes"`
	Boxes   int      `json:"boxes"`
	Clamps  int      `json:"clamps"`
	Space   int      `json:"drying_places"`
	After   []string `json:"after"`
	Start   string   `json:"start"`
	End     string   `json:"end"`
	Ready   string   `json:"ready"`
	Free    string   `json:"free"`
	Latest  string   `json:"begin_by"`
}

// Evening is a night of clamps.
type Evening struct {
	Day    string `json:"day"`
	Clamps int    `json:"clamps"`
}

// reportedTable is a table as it is printed.
type reportedTable struct {
	Head []string   `json:"head"`
	Rows [][]string `json:"rows"`
}

// WhatIf is a week beside what changes would make of it.
type WhatIf struct {
	Version int      `json:"version"`
	Changes []string `json:"what_if"`
	Now     Week     `json:"now"`
	Then    Week     `json:"then"`
}

// OfWhatIf is a what-if as a document.
func OfWhatIf(changes []string, now, then *jigplan.Week) WhatIf {
	return WhatIf{1, texts(changes), OfWeek(now), OfWeek(then)}
}

// OfWeek is a week as a document.
func OfWeek(w *jigplan.Week) Week {
	s := &w.Schedule
	doc := Week{
		Version: 1, From: date(w.From), Days: w.Days, LateWeight: s.LateWeight, LateBound: s.LateBound, BoundBy: texts(s.BoundBy), Proven: s.Proven,
		Help: each(w.Help, func(h *jigplan.Help) Help { return Help{h.What, h.Late} }), Stop: string(s.Stop),
		FullEvenings: s.FullEvenings, Setups: s.Setups, Settings: weekSettings(w.Settings), Jobs: weekJobs(w), Halves: []WeekHalf{},
		Bookings: each(s.Bookings, booking), Unplaced: texts(s.Unplaced), Moved: texts(s.Moved), Problems: Findings(w.Findings),
		Evenings: each(s.Evenings, func(e *jigplan.Evening) Evening { return Evening{date(e.Day), e.Clamps} }),
	}
	for _, j := range w.Jobs {
		for _, t := range j.Left {
			doc.Unplaced = append(doc.Unplaced, t.ID)
		}
	}
	for _, h := range reports.WorkedHalves(w) {
		doc.Halves = append(doc.Halves, WeekHalf{clock(h.From), clock(h.To), h.People, h.Planned, h.Free})
	}
	if w.Before != nil {
		t := reports.WeekChanges(w)
		doc.Changes = &reportedTable{t.Head, append([][]string{}, t.Rows...)}
	}
	return doc
}

func weekSettings(s *settings.Shop) Named {
	shop := s.Week
	return Named{
		{"people", shop.People}, {"morning", shop.Morning.String()}, {"afternoon", shop.Afternoon.String()},
		{"benches", shop.Benches}, {"clamps", shop.Clamps}, {"clamps_a_box", shop.ClampsBox}, {"drying_places", shop.DryingPlaces},
		{"buffer_percent", json.Number(fmt.Sprint(shop.BufferPercent))},
	}
}

func weekJobs(w *jigplan.Week) []WeekJob {
	return each(w.Jobs, func(j *jigplan.WeekJob) WeekJob {
		out := WeekJob{ID: j.ID, Code: j.Code, Name: j.Name, Due: date(j.Due), Weight: j.Weight, Dates: []WeekDate{}}
		for _, t := range j.Tasks {
			out.Minutes += t.Minutes
		}
		whole := true
		for _, f := range w.Schedule.Finishes {
			if f.Job != j.ID {
				continue
			}
			d := WeekDate{Due: date(f.Due), Boxes: boxesOf(j, f.Due), Done: clock(f.Done), DaysLate: f.DaysLate, Decide: clock(f.Decide)}
			if !f.Due.IsZero() && !f.Done.IsZero() {
				minutes := int(f.Slack.Minutes())
				d.Slack = &minutes
			}
			if len(out.Dates) == 0 || d.Slack != nil && out.Slack != nil && *d.Slack < *out.Slack {
				out.DaysLate, out.Slack, out.Decide = d.DaysLate, d.Slack, d.Decide
			}
			whole = whole && d.Done != ""
			out.Done = max(out.Done, d.Done)
			out.Dates = append(out.Dates, d)
		}
		if !whole {
			out.Done = ""
		}
		return out
	})
}

// boxesOf is the box lines of a job that are due on a date.
func boxesOf(j *jigplan.WeekJob, due time.Time) []string {
	names := []string{}
	for _, t := range j.Tasks {
		at := j.Due
		if !t.Due.IsZero() {
			at = t.Due
		}
		if at.Equal(due) && t.Box != "" && !slices.Contains(names, t.Box) {
			names = append(names, t.Box)
		}
	}
	return names
}

func booking(b *jigplan.Booking) Booking {
	return Booking{b.ID, b.Job, b.What, string(b.Place), b.Minutes, b.Boxes, b.Clamps, b.Space, texts(b.After),
		clock(b.Start), clock(b.End), clock(b.Ready), clock(b.Free), clock(b.Latest)}
}

func date(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02T15:04")
}
