package cutting

import (
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Two boards hold two long and two short parts however they are dealt out. Dealt
// alike, stop and fence are set for one size a board (common practice: equal
// stops together).
func TestEqualPlansSetTheStopLessOften(t *testing.T) {
	const inch = measure.Inch
	s := settings.Default()
	s.EndTrim, s.EdgeTrim, s.CrosscutKerf, s.RipKerf = 0, 0, 0, 0
	job := Job{Settings: s, Rack: []orders.Board{{ID: "R", Origin: orders.FromRack, Count: 2, Wood: "oak", Class: "4/4",
		Length: 40 * inch, Width: 4 * inch, Cost: 100, CostKnown: true}}}
	for i, size := range [][2]measure.Length{{20 * inch, 4 * inch}, {20 * inch, 4 * inch}, {40 * inch, 2 * inch}, {40 * inch, 2 * inch}} {
		job.Parts = append(job.Parts, orders.Part{ID: string(rune('A' + i)), Role: orders.Loose, Wood: "oak", Grain: orders.AlongLength,
			Length: size[0], Width: size[1], CutLength: size[0], CutWidth: size[1], Thickness: inch / 2})
	}
	p := newProblem(job)
	mixed := &used{fill: fill{places: []place{{item: 0}, {item: 1}}}}
	alike := &used{fill: fill{places: []place{{item: 0}, {item: 0}}}}
	if p.setsOf(mixed) != 4 || p.setsOf(alike) != 2 {
		t.Errorf("two sizes take %d settings, one %d; want 4 and 2", p.setsOf(mixed), p.setsOf(alike))
	}
	a, b := &state{p: p, cost: 200, net: 200, sets: 4}, &state{p: p, cost: 200, net: 200, sets: 6}
	if !a.better(b) || b.better(a) || a.saves(b) {
		t.Error("of equal plans the one with fewer settings is the better, and saves nothing")
	}
	if dear := (&state{p: p, cost: 201, net: 201, sets: 1}); dear.better(a) {
		t.Error("fewer settings are no reason to pay more")
	}
	l := Nest(job, nesting.Limits{Seed: 1, Think: time.Second})
	for _, board := range l.Boards {
		first := board.Pieces[0]
		for _, piece := range board.Pieces {
			if piece.Length != first.Length || piece.Width != first.Width {
				t.Errorf("board %s holds two sizes, and need not", board.ID)
			}
		}
	}
}
