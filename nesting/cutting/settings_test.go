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
	at := func(first, second int, x, y measure.Length) *used {
		return &used{fill: fill{places: []place{{item: first}, {item: second, x: x, y: y}}}, times: 1}
	}
	long, short := at(0, 0, 0, 2*inch), at(1, 1, 20*inch, 0)
	if p.items[0].l != 40*inch {
		t.Fatal("the long part is the first item")
	}
	minute := int64(1000 * s.Times.SetSaw)
	if got := p.workOf(long) - long.work; got != minute || p.workOf(short)-short.work != minute {
		t.Errorf("a board of one size takes %d ms of setting, want %d", got, minute)
	}
	a, b := &state{p: p, cost: 200, worth: 200, net: 200, work: 4}, &state{p: p, cost: 200, worth: 200, net: 200, work: 6}
	if !a.better(b) || b.better(a) || a.saves(b) {
		t.Error("of equal plans the one with less work is the better, and saves nothing")
	}
	if dear := (&state{p: p, cost: 201, net: 201, work: 1}); dear.better(a) || !dear.mayReplace(a) {
		t.Error("a plan that costs half a percent more is no better, and may be used if it is less work")
	}
	if dear := (&state{p: p, cost: 202, net: 202, work: 1}); dear.mayReplace(a) {
		t.Error("a plan that costs one percent more is used")
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
