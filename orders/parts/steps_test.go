package parts_test

import (
	"strings"
	"testing"

	"batchwright/orders"
)

// TestStepsSayWhatTheBenchNeeds: what a maker with the sheet in hand would
// otherwise have to guess (common practice, read at the bench).
func TestStepsSayWhatTheBenchNeeds(t *testing.T) {
	sheet := func(b *orders.Box) { b.Wood = "birch ply" }
	cells := func(b *orders.Box) { b.Dividers = orders.Dividers{Along: 3, Across: 2} }
	for _, c := range []struct {
		reason    string
		change    func(*orders.Box)
		says, not string
	}{
		{"which end gets which mark", func(*orders.Box) {}, "a side 2 at the left and 1 at the right, an end 1 at the left and 2 at the right", "dovetail"},
		{"solid wood is planed", func(*orders.Box) {}, "plane all sides to 1/2 in", "measure the sheets"},
		{"a sheet is not", sheet, "measure the sheets: sides of 1/2 in", "plane all sides"},
		{"a top that is forgotten cannot be put in any more", func(b *orders.Box) {
			b.Bottom, b.Lid = orders.Bottom{Kind: orders.GrooveBottom, Wood: "birch ply"}, orders.Lid{Kind: orders.SawnOffLid, Wood: "birch ply"}
		}, "the bottom and the top in their grooves", "without glue"},
		{"a solid top beside a bottom of plywood", func(b *orders.Box) {
			b.Bottom, b.Lid = orders.Bottom{Kind: orders.GrooveBottom, Wood: "birch ply"}, orders.Lid{Kind: orders.SawnOffLid}
		}, "their grooves, solid wood without glue", "the bottom in its groove"},
		{"a top over a nailed bottom", func(b *orders.Box) {
			b.Bottom, b.Lid = orders.Bottom{Kind: orders.NailedBottom, Wood: "birch ply"}, orders.Lid{Kind: orders.SawnOffLid, Wood: "birch ply"}
		}, "the top in its groove", "slotted holes"},
		{"a wide solid bottom that is nailed on", func(b *orders.Box) { b.Bottom = orders.Bottom{Kind: orders.NailedBottom} },
			"fasten its edges through slotted holes", "in its groove"},
		{"the wall a sliding lid leaves over is an end: the drawing's front is a side", func(b *orders.Box) {
			b.Lid = orders.Lid{Kind: orders.SlidingLid, Wood: "birch ply"}
		}, "the strip, trimmed at its lower edge to 1/4 in and glued on the lid's end", "front"},
		// 11 in inside, two dividers of 1/4 in: cells of 3-1/2 in. A divider is
		// 1/32 in shorter than the box, a notch 0.006 in wider than a divider.
		{"where the laps are cut", cells, "beginning 3.481 in and 7.231 in from either end", "marked end"},
	} {
		b := plain()
		c.change(&b)
		build, _ := one(t, b)
		if !hasStep(build, c.says) || hasStep(build, c.not) {
			t.Errorf("%s: no step says %q, or one says %q:\n%s", c.reason, c.says, c.not, saidBy(build))
		}
	}
}

func saidBy(b orders.Build) string {
	var all []string
	for _, s := range b.Steps {
		all = append(all, s.What)
	}
	return strings.Join(all, "\n")
}
