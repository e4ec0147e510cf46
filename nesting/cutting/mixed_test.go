package cutting_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// mixedRun is the four walls of one box, its ends of another thickness.
func mixedRun(name, wood string, long, short, high, side, end measure.Length) []orders.Part {
	var out []orders.Part
	for i, length := range []measure.Length{long, short, long, short} {
		out = append(out, orders.Part{ID: fmt.Sprint(name, "-", i+1), Wood: wood, Grain: orders.AlongLength, Length: length, CutLength: length,
			Width: high, CutWidth: high, Thickness: []measure.Length{side, end, side, end}[i], Run: name, Place: i + 1})
	}
	return out
}

// TestMixedRunsPassTheCheck draws matched runs with ends of another thickness
// among other parts: their walls are cut apart before they are planed.
func TestMixedRunsPassTheCheck(t *testing.T) {
	t.Parallel()
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		job.Settings.ShortestMachine = drawLength(t, "machine", 0, 8)
		job.Settings.ShortestRip = drawLength(t, "shortest rip", 0, 8)
		wood := job.Parts[0].Wood
		for i := range rapid.IntRange(1, 4).Draw(t, "runs") {
			run := mixedRun(fmt.Sprint("run", i), wood, drawLength(t, "long", 4, 12), drawLength(t, "short", 4, 9), drawLength(t, "high", 1, 4), inch*3/4, inch/2)
			job.Parts = append(job.Parts, run...)
			for k := range rapid.IntRange(0, 2).Draw(t, "more of it") {
				for _, p := range run {
					p.Run = fmt.Sprint(p.Run, "+", k)
					p.ID = fmt.Sprint(p.ID, "+", k)
					job.Parts = append(job.Parts, p)
				}
			}
		}
		for i := range job.Rack {
			if b := &job.Rack[i]; !b.Sheet && rapid.Bool().Draw(t, "thick") {
				b.Class, b.Thickness, b.Wood, b.Length = "5/4", 0, wood, b.Length+40*inch
			}
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: 3 * time.Millisecond})
		verify(t, job, l)
		for _, b := range l.Boards {
			for _, p := range b.Pieces {
				if strings.HasPrefix(p.Part, "run") {
					laid++
				}
			}
		}
	})
	t.Logf("%d walls of mixed runs", laid)
	if laid == 0 {
		t.Error("no mixed run was laid")
	}
}

// TestMixedRuns, worked by hand: a run of 14, 12, 14 and 12 in with its three
// kerfs takes 52-3/8 in, so that a board of 54 in holds one; two lie over each
// other on one 6-1/8 in wide. Below the planer's least each wall cannot be planed
// on its own (common practice: nothing under 12 in).
func TestMixedRuns(t *testing.T) {
	set := settings.Default()
	set.EndTrim, set.EdgeTrim = 0, 0
	board := orders.Board{ID: "R", Wood: "oak", Class: "5/4", Count: 2, Length: 54 * inch, Width: 6*inch + set.RipKerf, Cost: 1000, CostKnown: true}
	for _, c := range []struct {
		why   string
		runs  int
		short measure.Length
		cost  measure.Money
		says  string
	}{
		{"one run of one board", 1, 12 * inch, 1000, ""},
		{"two over each other", 2, 12 * inch, 1000, ""},
		{"a third takes another board", 3, 12 * inch, 2000, ""},
		{"ends under the planer's least", 1, 11 * inch, 0, "shorter than the planer takes"},
	} {
		job := cutting.Job{Rack: []orders.Board{board}, Settings: set}
		for i := range c.runs {
			job.Parts = append(job.Parts, mixedRun(fmt.Sprint("box", i), "oak", 14*inch, c.short, 3*inch, inch*3/4, inch/2)...)
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1})
		verify(t, job, l)
		switch {
		case c.says != "":
			if len(l.Short) != 4 || !strings.Contains(l.Short[0].Why, c.says) {
				t.Errorf("%s: %v", c.why, l.Short)
			}
		case l.Cost != c.cost || len(l.Short) > 0:
			t.Errorf("%s: costs %s, want %s; short %v", c.why, l.Cost, c.cost, l.Short)
		}
	}
}
