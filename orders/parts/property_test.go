package parts_test

import (
	"testing"

	"pgregory.net/rapid"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

func anyLength(t *rapid.T, name string, low, high measure.Length) measure.Length {
	const step = measure.Inch / 64
	return measure.Length(rapid.Int64Range(int64(low/step), int64(high/step)).Draw(t, name)) * step
}

func anyBox(t *rapid.T) orders.Box {
	return orders.Box{
		Source: orders.Source{Sheet: "Boxes", Cell: "B7"}, Name: "any",
		Count:  rapid.IntRange(1, 4).Draw(t, "count"),
		Length: anyLength(t, "length", 0, 30*inch), Width: anyLength(t, "width", 0, 20*inch), Height: anyLength(t, "height", 0, 12*inch),
		Inside:    rapid.Bool().Draw(t, "inside"),
		Thickness: anyLength(t, "thickness", 0, inch), EndThickness: anyLength(t, "end thickness", 0, inch),
		Wood:     rapid.SampledFrom([]string{"walnut", "hard maple", "plywood", "zebrano"}).Draw(t, "wood"),
		Finger:   rapid.SampledFrom([]measure.Length{0, inch / 8, quarter, half}).Draw(t, "finger"),
		Bottom:   orders.Bottom{Kind: rapid.SampledFrom([]orders.BottomKind{orders.NoBottom, orders.GrooveBottom, orders.RabbetBottom, orders.NailedBottom}).Draw(t, "bottom")},
		Lid:      orders.Lid{Kind: rapid.SampledFrom([]orders.LidKind{orders.NoLid, orders.LiftOffLid, orders.SlidingLid, orders.SawnOffLid, orders.HingedLid}).Draw(t, "lid")},
		Dividers: orders.Dividers{Along: rapid.IntRange(0, 4).Draw(t, "along"), Across: rapid.IntRange(0, 4).Draw(t, "across")},
		Matched:  rapid.Bool().Draw(t, "matched"),
	}
}

// What every box must satisfy, reckoned from its parts alone.
func TestEveryBoxIsItsPartsOrAReason(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBox(t)
		o := order(b)
		o.Settings.Proud = anyLength(t, "proud", 0, inch/16)
		r := parts.Make(o)
		if hasError(r.Findings) != (len(r.Parts) == 0) || len(r.Parts) == 0 != (len(r.Builds) == 0) {
			t.Fatalf("%d parts, %d builds with problems %v", len(r.Parts), len(r.Builds), r.Findings)
		}
		if len(r.Parts) == 0 {
			return
		}
		want := 4 + max(0, b.Dividers.Along-1) + max(0, b.Dividers.Across-1)
		if b.Bottom.Kind != orders.NoBottom {
			want++
		}
		if b.Lid.Kind != orders.NoLid {
			want++
		}
		if len(r.Parts) != want*b.Count {
			t.Fatalf("%d parts, want %d for each of %d boxes", len(r.Parts), want, b.Count)
		}
		for _, p := range r.Parts {
			checkPart(t, &p, &o.Settings)
		}
		for unit := range b.Count {
			checkWalls(t, &b, r.Parts[unit*want:][:4], r.Builds[0])
		}
		for _, p := range r.Builds[0].Panels {
			checkPanel(t, &b, p, r.Builds[0])
		}
	})
}

func hasError(problems []orders.Finding) bool {
	o := orders.Order{Findings: problems}
	return o.HasErrors()
}

func checkPart(t *rapid.T, p *orders.Part, s *settings.Shop) {
	if p.Length <= 0 || p.Width <= 0 || p.Thickness <= 0 {
		t.Fatalf("%s is %v x %v x %v", p.ID, p.Length, p.Width, p.Thickness)
	}
	over := s.PartLength
	if p.Role == orders.Side || p.Role == orders.End {
		over += 2 * s.Proud
	}
	if p.CutLength-p.Length != over || p.CutWidth-p.Width != s.PartWidth {
		t.Fatalf("%s is cut %v x %v over", p.ID, p.CutLength-p.Length, p.CutWidth-p.Width)
	}
}

// Blank = outside + 2 x proud and inside = outside - 2 x the mate's thickness
// exactly, whatever the proud is (common practice); the four walls, corners
// counted once, fill the ring between outside and inside.
func checkWalls(t *rapid.T, b *orders.Box, walls []orders.Part, build orders.Build) {
	side, end := walls[0], walls[1]
	inLength, inWidth := side.Length-2*side.Joint.Mate, end.Length-2*end.Joint.Mate
	if inLength != build.Inside.Length || inWidth != build.Inside.Width || inLength <= 0 || inWidth <= 0 {
		t.Fatalf("inside %v x %v, told %v x %v", inLength, inWidth, build.Inside.Length, build.Inside.Width)
	}
	asked := measure.Size{Length: side.Length, Width: end.Length}
	if b.Inside {
		asked = measure.Size{Length: inLength, Width: inWidth}
	}
	if asked.Length != b.Length || asked.Width != b.Width {
		t.Fatalf("%v x %v asked, got %v x %v", b.Length, b.Width, asked.Length, asked.Width)
	}
	ring := side.Length.Times(end.Length).Sub(inLength.Times(inWidth))
	boards := side.Length.Times(2 * side.Thickness).Add((end.Length - 2*side.Thickness).Times(2 * end.Thickness))
	if ring.Cmp(boards) != 0 {
		t.Fatalf("walls do not fill the ring between outside and inside")
	}
	for _, w := range walls {
		if w.Width != side.Width || w.Joint.Height != side.Width {
			t.Fatalf("%s is %v high, its neighbour %v", w.ID, w.Width, side.Width)
		}
	}
	if b.Inside && build.Inside.Height != b.Height || !b.Inside && build.Outside.Height != b.Height {
		t.Fatalf("height asked %v, inside %v, outside %v", b.Height, build.Inside.Height, build.Outside.Height)
	}
	if build.Inside.Height <= 0 || build.Outside.Height > build.Overall.Height {
		t.Fatalf("inside %v, outside %v, overall %v", build.Inside.Height, build.Outside.Height, build.Overall.Height)
	}
}

// A panel in a groove overlaps every wall and, swollen to the full, still does
// not touch the floors of its grooves.
func checkPanel(t *rapid.T, b *orders.Box, p orders.Panel, build orders.Build) {
	switch p.Role {
	case orders.Divider:
		room := build.Inside.Length
		if p.Across {
			room = build.Inside.Width
		}
		if p.Length >= room || p.Width >= build.Inside.Height {
			t.Fatalf("divider %v x %v does not go in", p.Length, p.Width)
		}
		for i, at := range p.NotchAt {
			if at <= 0 || at+p.Notch >= p.Length || i > 0 && at < p.NotchAt[i-1]+p.Notch {
				t.Fatalf("notches %v of %v on %v", p.NotchAt, p.Notch, p.Length)
			}
		}
	case orders.BottomP:
		if b.Bottom.Kind != orders.GrooveBottom {
			return
		}
		g := build.Grooves[0]
		if p.Length <= build.Inside.Length || p.Width+p.Room/2 <= build.Inside.Width-p.Room/2-g.SideCut {
			t.Fatalf("panel %v x %v does not reach over %v x %v", p.Length, p.Width, build.Inside.Length, build.Inside.Width)
		}
		if p.Width+p.Room > build.Inside.Width+2*g.SideCut || p.Length > build.Inside.Length+2*g.EndCut {
			t.Fatalf("panel %v x %v and room %v is too large", p.Length, p.Width, p.Room)
		}
	}
}

// Placing never makes a size negative, never loses a groove in silence, and
// never changes what was given.
func TestPlacedGroovesLieWhereTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, r := anyMade(t)
		height := r.Parts[0].Width
		c := mates(height, anyLength(t, "cell", inch/16, inch))
		before := r.Builds[0]
		build, problems := parts.Placed(o, before, c)
		if len(build.Grooves) != len(before.Grooves) {
			t.Fatalf("%d grooves of %d", len(build.Grooves), len(before.Grooves))
		}
		refused := 0
		for _, g := range build.Grooves {
			if g.Refused != "" {
				refused++
				continue
			}
			checkGroove(t, g, c, height)
		}
		warned := 0
		for _, p := range problems {
			if p.Level == orders.Warning {
				warned++
			}
		}
		if warned < refused {
			t.Fatalf("%d grooves refused, %d warnings", refused, warned)
		}
		if build.Inside.Height <= 0 {
			t.Fatalf("inside height %v", build.Inside.Height)
		}
		if p := build.Parting; p != nil && (p.Low <= 0 || p.High >= height || p.Below < 0 || p.Above < 0) {
			t.Fatalf("parting %+v", p)
		}
	})
}

// anyMade is an order of a box that is not refused, as most boxes at random are.
func anyMade(t *rapid.T) (*orders.Order, parts.Result) {
	for range 50 {
		o := order(anyBox(t))
		if r := parts.Make(o); len(r.Builds) > 0 {
			return o, r
		}
	}
	t.Skip("refused")
	return nil, parts.Result{}
}

// checkGroove looks at every wall: a groove may run out only where no pin of
// that wall stands beside it, but for a sliding lid's over the front.
func checkGroove(t *rapid.T, g orders.Groove, c parts.Cells, height measure.Length) {
	if g.From <= 0 || g.To >= height || g.To <= g.From {
		t.Fatalf("groove %v to %v in %v", g.From, g.To, height)
	}
	for _, w := range g.Walls {
		cells := c.Side
		if w.Wall[0] == 'E' {
			cells = c.End
		}
		for _, cell := range cells {
			if !cell.Pin || cell.To <= g.From || cell.From >= g.To {
				continue
			}
			for end, through := range w.Through {
				front := !g.Front && (w.Wall == "S1" && end == 0 || w.Wall == "S2" && end == 1)
				if through && !front {
					t.Fatalf("%s: the groove shows on the pin from %v to %v", w.Wall, cell.From, cell.To)
				}
				if !through && w.Block[end] <= 0 {
					t.Fatalf("%s: no stop block", w.Wall)
				}
			}
		}
	}
}
