package cutting_test

import (
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// TestResawnLayoutsPassTheCheck draws thick racks, parts that leaves would
// give, and a band saw of any size.
func TestResawnLayoutsPassTheCheck(t *testing.T) {
	t.Parallel()
	resawn := 0
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		set := &job.Settings
		set.ResawUpTo = drawLength(t, "resaw up to", 1, 20)
		set.ResawKerf = drawLength(t, "resaw kerf", 0, 1) / 8
		set.ResawCleanUp = drawLength(t, "resaw clean-up", 0, 1) / 8
		set.ResawCup = drawLength(t, "resaw cup", 0, 1) / 4
		for i := range job.Rack {
			if b := &job.Rack[i]; !b.Sheet && b.Class != "" {
				b.Class = rapid.SampledFrom([]string{"4/4", "8/4", "12/4"}).Draw(t, "thick class")
			}
		}
		if rapid.IntRange(0, 3).Draw(t, "thick parts") > 0 { // else little is worth resawing
			for i := range job.Parts {
				job.Parts[i].Thickness = inch * 5 / 16
			}
			for i := range job.Rack {
				if b := &job.Rack[i]; !b.Sheet {
					b.Class, b.Thickness, b.Wood = "8/4", 0, job.Parts[0].Wood
				}
			}
			set.ResawUpTo, job.Yard = 20*inch, nil
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: rapid.SampledFrom(thoughts).Draw(t, "think")})
		verify(t, job, l)
		for _, b := range l.Boards {
			resawn += b.Leaf.Count
		}
	})
	t.Logf("%d leaves", resawn)
	if !testing.Short() && resawn == 0 {
		t.Error("no board of any rack was resawn")
	}
}

// TestResawingTakesTheCheaperWay, worked by hand. The yields are those the
// trade counts on (common practice): 4/4 gives two at 5/16 in, 8/4 two at
// 3/4 in or four at 5/16 in.
func TestResawingTakesTheCheaperWay(t *testing.T) {
	board := func(id, class string, cents measure.Money) orders.Board {
		return orders.Board{ID: id, Wood: "cherry", Class: class, Count: 1, Length: 30 * inch, Width: 5 * inch, Cost: cents, CostKnown: true}
	}
	for _, c := range []struct {
		why   string
		rack  []orders.Board
		parts int
		thick measure.Length
		saw   measure.Length
		cost  measure.Money
		ids   []string
	}{
		{"two thin parts are one board in two leaves", []orders.Board{board("K1", "4/4", 1000), board("K2", "4/4", 1000)}, 2, inch * 5 / 16, 6 * inch, 1000, []string{"K1/1", "K1/2"}},
		{"without a band saw they are two boards planed away", []orders.Board{board("K1", "4/4", 1000), board("K2", "4/4", 1000)}, 2, inch * 5 / 16, 0, 2000, []string{"K1", "K2"}},
		{"a board wider than the saw takes is not resawn", []orders.Board{board("K1", "4/4", 1000), board("K2", "4/4", 1000)}, 2, inch * 5 / 16, 4 * inch, 2000, []string{"K1", "K2"}},
		{"3/8 in is more than a leaf of 4/4 gives", []orders.Board{board("K1", "4/4", 1000), board("K2", "4/4", 1000)}, 2, inch * 3 / 8, 6 * inch, 2000, []string{"K1", "K2"}},
		{"8/4 gives two at 3/4", []orders.Board{board("K1", "8/4", 1500), board("K2", "4/4", 1000), board("K3", "4/4", 1000)}, 2, inch * 3 / 4, 6 * inch, 1500, []string{"K1/1", "K1/2"}},
		{"8/4 gives four at 5/16", []orders.Board{board("K1", "8/4", 1500)}, 4, inch * 5 / 16, 6 * inch, 1500, []string{"K1/1", "K1/2", "K1/3", "K1/4"}},
		{"two thin boards that cost less are taken instead", []orders.Board{board("K1", "8/4", 2500), board("K2", "4/4", 1000), board("K3", "4/4", 1000)}, 2, inch * 3 / 4, 6 * inch, 2000, []string{"K2", "K3"}},
		{"a leaf that nothing is cut from goes back", []orders.Board{board("K1", "8/4", 1500)}, 3, inch / 4, 6 * inch, 1500, []string{"K1/1", "K1/2", "K1/3"}},
	} {
		job := cutting.Job{Rack: c.rack, Settings: settings.Default()}
		job.Settings.ResawUpTo = c.saw
		for i := range c.parts {
			job.Parts = append(job.Parts, orders.Part{ID: string(rune('a' + i)), Wood: "cherry", Grain: orders.AlongLength,
				Length: 20 * inch, Width: 4 * inch, Thickness: c.thick, CutLength: 20 * inch, CutWidth: 4 * inch})
		}
		l := cutting.Nest(job, nesting.Limits{Seed: 1, Think: 50 * time.Millisecond})
		verify(t, job, l)
		var ids []string
		for _, b := range l.Boards {
			ids = append(ids, b.ID)
		}
		if l.Cost != c.cost || len(l.Short) > 0 || len(ids) < len(c.ids) {
			t.Errorf("%s: %s on %v, %v", c.why, l.Cost, ids, l.Short)
			continue
		}
		for i, id := range c.ids {
			if ids[i] != id {
				t.Errorf("%s: %s on %v, not %v", c.why, l.Cost, ids, c.ids)
				break
			}
		}
	}
}
