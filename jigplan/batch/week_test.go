package batch

import (
	"testing"
	"time"

	"batchwright/jigplan/schedule"
	"batchwright/nesting"
	"batchwright/orders"
)

// Two open orders of seven boxes each: everything finds its place, and what is
// done or pinned is respected.
func TestWeekOfOpenOrders(t *testing.T) {
	p, err := Plan(shopOrder(), Options{Limits: nesting.Limits{Seed: 1}})
	if err != nil {
		t.Fatal(err)
	}
	monday := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	pin := monday.Add(9 * time.Hour)
	open := []Open{
		{ID: "1", Name: "first", Due: monday.AddDate(0, 0, 4), Plan: p, Done: []string{"1/mill"}},
		{ID: "2", Name: "second", Due: monday.AddDate(0, 0, 11), Plan: p, Pinned: map[string]time.Time{"2/mill": pin}},
	}
	settings := orders.DefaultSettings()
	w, err := Week(WeekRequest{Open: open, From: monday, Days: 7, Settings: &settings, Limits: schedule.Limits{Work: 200}})
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
