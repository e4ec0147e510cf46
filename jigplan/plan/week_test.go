package plan

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Two open orders of seven boxes each: everything finds its place, and what is
// done or pinned is respected.
func TestWeekOfOpenOrders(t *testing.T) {
	p, err := Plan(shopOrder(), Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	pin := monday.Add(9 * time.Hour)
	open := []week.Open{
		{ID: "1", Name: "first", Due: monday.AddDate(0, 0, 4), Plan: p, Done: []string{"1/mill"}},
		{ID: "2", Name: "second", Due: monday.AddDate(0, 0, 11), Plan: p, Pinned: map[string]time.Time{"2/mill": pin}},
	}
	settings := settings.Default()
	w, err := week.Plan(week.Request{Open: open, From: monday, Days: 7, Settings: &settings, Limits: week.Limits{Work: 200}})
	if err != nil {
		t.Fatal(err)
	}
	s := w.Schedule
	if s.LateWeight != 0 || len(s.Unplaced) > 0 || len(s.Moved) > 0 {
		t.Errorf("lateness %d, unplaced %v, moved %v", s.LateWeight, s.Unplaced, s.Moved)
	}
	for _, b := range s.Bookings {
		if b.ID == "1/mill" || b.ID == "2/mill" && !b.Start.Equal(pin) {
			t.Errorf("%s is booked at %s", b.ID, b.Start)
		}
	}
}

// monday is the first day of the weeks below; weekOf plans one order of seven
// boxes for them, changed as a case says.
var monday = time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)

func weekOf(t *testing.T, change func(r *week.Request)) *jigplan.Week {
	t.Helper()
	plan := func() *jigplan.Plan {
		p, err := Plan(shopOrder(), Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	settings := settings.Default()
	r := week.Request{From: monday, Days: 7, Settings: &settings, Limits: week.Limits{Work: 50}, Open: []week.Open{
		{ID: "1", Name: "first", Due: monday.AddDate(0, 0, 11), Plan: plan()},
		{ID: "2", Name: "second", Due: monday.AddDate(0, 0, 18), Plan: plan()},
	}}
	change(&r)
	w, err := week.Plan(r) // through jigplan/check
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func set(r *week.Request, name, value string) {
	if err := r.Settings.Set(name, value, settings.Entry{Source: orders.Source{Sheet: "Shop", Cell: "A9"}}); err != nil {
		panic(err)
	}
}

// Every bad input gets an answer that names its row, and the rest of the week
// is planned.
func TestBadWeeks(t *testing.T) {
	for _, tt := range []struct {
		name, where, did string
		booked           func(w *jigplan.Week) bool // what is planned all the same
		change           func(r *week.Request)
	}{
		{"no working hours", "Shop!A9", "no working hours", func(w *jigplan.Week) bool { return len(w.Schedule.Bookings) == 0 },
			func(r *week.Request) { set(r, "Morning", "closed"); set(r, "Afternoon", "closed") }},
		{"nobody works", "Shop!People", "nobody works", func(w *jigplan.Week) bool { return len(w.Schedule.Bookings) == 0 },
			func(r *week.Request) { r.Settings.Week.People = 0 }},
		{"a closed week", "Shop!A9", "the shop is closed on all of the 7 days", func(w *jigplan.Week) bool { return len(w.Schedule.Unplaced) == 0 },
			func(r *week.Request) { set(r, "Holidays", "2027-03-08 2027-03-09 2027-03-10 2027-03-11 2027-03-12") }},
		{"everybody away all week", "Shop!A9", "everybody is away or the shop is closed on all of the 7 days", func(w *jigplan.Week) bool { return len(w.Schedule.Unplaced) == 0 },
			func(r *week.Request) {
				set(r, "Absences", "2027-03-08; 2027-03-09; 2027-03-10; 2027-03-11; 2027-03-12")
			}},
		{"zero clamps", "Shop!A9", "nothing can be glued", sawnButNotGlued, func(r *week.Request) { set(r, "Clamps", "0") }},
		{"fewer clamps than a box needs", "Shop!A9", "nothing can be glued", sawnButNotGlued, func(r *week.Request) { set(r, "Clamps", "3") }},
		{"a date in the past", "[hand.xlsx]Boxes!B2", "the date is before the first day", func(w *jigplan.Week) bool { return len(w.Schedule.Unplaced) == 0 && w.Schedule.LateWeight >= 4 },
			func(r *week.Request) {
				r.Open[0].Due = monday.AddDate(0, 0, -4)
				r.Open[0].Plan.Order.Boxes[0].Due = r.Open[0].Due
			}},
		{"a job larger than the look-ahead", "[hand.xlsx]Boxes!B2", "is larger than the 400 days", onlyTheSecond,
			func(r *week.Request) {
				for i := range r.Open[0].Plan.Time.Elements {
					r.Open[0].Plan.Time.Elements[i].Minutes *= 3000
				}
				r.Open[0].Plan.Time.Minutes *= 3000
				for i := range r.Open[0].Plan.Sequence.Changes {
					r.Open[0].Plan.Sequence.Changes[i].Minutes *= 3000
				}
				for i := range r.Open[0].Plan.Stacks {
					r.Open[0].Plan.Stacks[i].Minutes *= 3000
				}
			}},
		{"a job without a board", "[hand.xlsx]Boxes!B2", "some parts cannot be made", func(w *jigplan.Week) bool { return len(w.Schedule.Unplaced) == 0 },
			func(r *week.Request) {
				r.Open[0].Plan.Layout.Short = []nesting.Short{{Part: r.Open[0].Plan.Parts[0].ID, Why: "no board"}}
			}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := weekOf(t, tt.change)
			found := false
			for _, p := range w.Findings {
				found = found || p.Source.String() == tt.where && strings.Contains(p.Did, tt.did) && p.Fix != "" && p.Level == orders.Error
			}
			if !found {
				t.Errorf("no finding at %s says %q: %+v", tt.where, tt.did, w.Findings)
			}
			if !tt.booked(w) {
				t.Errorf("%d bookings, unplaced %v, lateness %d", len(w.Schedule.Bookings), w.Schedule.Unplaced, w.Schedule.LateWeight)
			}
		})
	}
}

func sawnButNotGlued(w *jigplan.Week) bool {
	sawn := false
	for _, b := range w.Schedule.Bookings {
		sawn = sawn || b.Place == jigplan.AtSaw
		if b.Place != jigplan.AtSaw {
			return false
		}
	}
	return sawn && len(w.Jobs[0].Left) > 0
}

func onlyTheSecond(w *jigplan.Week) bool {
	for _, b := range w.Schedule.Bookings {
		if b.Job != "2" {
			return false
		}
	}
	return len(w.Schedule.Bookings) > 0 && len(w.Jobs[0].Left) > 0
}

// Wood that arrives on Thursday is milled on Thursday, not on Monday, or as
// many days later as it has to stand in the shop (one to two weeks are common
// practice); what is milled in its place does not wait.
func TestMillingAwaitsItsWood(t *testing.T) {
	for _, c := range []struct {
		stands string
		from   time.Time
	}{{"0", monday.AddDate(0, 0, 3)}, {"1", monday.AddDate(0, 0, 4)}, {"1.5", monday.AddDate(0, 0, 4).Add(12 * time.Hour)}, {"7", monday.AddDate(0, 0, 10)}} {
		w := weekOf(t, func(r *week.Request) {
			r.Open[1].Plan.Layout.Boards[0].Stock.Arrives = monday.AddDate(0, 0, 3)
			set(r, "Acclimate", c.stands)
		})
		for _, b := range w.Schedule.Bookings {
			switch {
			case b.ID == "2/mill" && (b.Start.Before(c.from) || b.Start.After(c.from.Add(24*time.Hour))):
				t.Errorf("%s days: milled at %s, want from %s on", c.stands, b.Start, c.from)
			case b.ID == "1/mill" && !b.Start.Equal(monday.Add(8*time.Hour)):
				t.Errorf("%s days: the other job is milled at %s", c.stands, b.Start)
			}
		}
		if len(w.Findings) == 0 || w.Findings[0].Level != orders.Note {
			t.Errorf("%s days: nobody is told what the job waits for: %v", c.stands, w.Findings)
		}
	}
}

// The same request gives the same week, and a sheet of it keeps every task.
func TestAWeekRepeats(t *testing.T) {
	a, b := weekOf(t, func(*week.Request) {}), weekOf(t, func(*week.Request) {})
	if !reflect.DeepEqual(a.Schedule, b.Schedule) {
		t.Error("two runs differ")
	}
	sheet := week.Sheet(a, monday)
	if len(sheet.Tasks) != len(a.Schedule.Bookings) || len(sheet.Jobs) != 2 {
		t.Errorf("%d tasks, %d jobs on the sheet", len(sheet.Tasks), len(sheet.Jobs))
	}
}
