package parts_test

import (
	"strings"
	"testing"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/parts"
	"batchwright/orders/settings"
)

const (
	inch    = measure.Inch
	half    = inch / 2
	quarter = inch / 4
)

// order is one line in a default shop.
func order(b orders.Box) *orders.Order {
	if b.Source.Cell == "" {
		b.Source = orders.Source{Sheet: "Boxes", Cell: "B7"}
	}
	return &orders.Order{Boxes: []orders.Box{b}, Settings: settings.Default()}
}

// plain is two open frames, 12 x 8 x 3-1/2 outside, of 1/2 in walnut.
func plain() orders.Box {
	return orders.Box{Name: "Tea box", Count: 2, Length: 12 * inch, Width: 8 * inch, Height: 7 * half,
		Thickness: half, EndThickness: half, Wood: "walnut",
		Bottom: orders.Bottom{Kind: orders.NoBottom}, Lid: orders.Lid{Kind: orders.NoLid}}
}

// one is the build and the parts of the first unit of a line that must be sound.
func one(t *testing.T, b orders.Box) (orders.Build, map[string]orders.Part) {
	t.Helper()
	r := parts.Make(order(b))
	for _, p := range r.Findings {
		if p.Level == orders.Error {
			t.Fatalf("refused: %s %s: %s", p.Source, p.Read, p.Did)
		}
	}
	byName := map[string]orders.Part{}
	for _, p := range r.Parts {
		if stem, ok := strings.CutPrefix(p.ID, "B7-1-"); ok {
			byName[stem] = p
		}
	}
	return r.Builds[0], byName
}

func TestOutsideSizesAreThoseOfTheWalls(t *testing.T) {
	r := parts.Make(order(plain()))
	if len(r.Findings) > 0 || len(r.Parts) != 8 {
		t.Fatalf("parts %d, problems %v", len(r.Parts), r.Findings)
	}
	s1, e1 := r.Parts[0], r.Parts[1]
	if s1.ID != "B7-1-S1" || r.Parts[7].ID != "B7-2-E2" {
		t.Errorf("ids %s, %s", s1.ID, r.Parts[7].ID)
	}
	if s1.Length != 12*inch || s1.Width != 7*half || e1.Length != 8*inch || e1.Width != 7*half {
		t.Errorf("side %v x %v, end %v x %v", s1.Length, s1.Width, e1.Length, e1.Width)
	}
}

func TestCutSizesAddProudOnlyToJointedLengths(t *testing.T) {
	b := plain()
	b.Bottom = orders.Bottom{Kind: orders.NailedBottom}
	_, p := one(t, b)
	proud, length, width := inch/64, inch/16, inch/8 // the defaults
	for _, c := range []struct {
		part string
		over measure.Length
		why  string
	}{
		{"S1", 2*proud + length, "a jointed side stands proud at both ends"},
		{"E2", 2*proud + length, "a jointed end does too"},
		{"BT", length, "a bottom carries no fingers"},
	} {
		got := p[c.part]
		if got.CutLength != got.Length+c.over || got.CutWidth != got.Width+width {
			t.Errorf("%s: cut %v x %v for %v x %v: %s", c.part, got.CutLength, got.CutWidth, got.Length, got.Width, c.why)
		}
	}
}

// The box is 12 x 8 x 3-1/2 inside; sides 1/2 in, ends 3/4 in; panels 1/4 in,
// grooves set back 1/4 in, lip 1/8 in, lift-off lid 1/2 in: the defaults.
func TestInsideSizes(t *testing.T) {
	for _, c := range []struct {
		name   string
		bottom orders.BottomKind
		lid    orders.LidKind
		height measure.Length // of the walls as jointed
		why    string
	}{
		{"frame", orders.NoBottom, orders.NoLid, 7 * half, "nothing takes height"},
		{"groove", orders.GrooveBottom, orders.NoLid, 4 * inch, "setback 1/4 and panel 1/4"},
		{"rabbet", orders.RabbetBottom, orders.NoLid, 15 * quarter, "the panel's 1/4"},
		{"nailed", orders.NailedBottom, orders.NoLid, 7 * half, "it lies under the walls"},
		{"lift-off", orders.NoBottom, orders.LiftOffLid, 7*half + inch/8, "the lip reaches down 1/8"},
		{"hinged", orders.NoBottom, orders.HingedLid, 7 * half, "it lies on the walls"},
		{"sliding", orders.GrooveBottom, orders.SlidingLid, 9 * half, "two grooves of 1/4 set back 1/4"},
		{"sawn off", orders.GrooveBottom, orders.SawnOffLid, 9*half + inch/8, "as sliding, and kerf 3/32 with clean-up 2 x 1/64"},
	} {
		b := plain()
		b.Inside, b.EndThickness = true, 3*quarter
		b.Bottom.Kind, b.Lid.Kind = c.bottom, c.lid
		build, p := one(t, b)
		if p["S1"].Length != 27*half || p["E1"].Length != 9*inch {
			t.Errorf("%s: side %v, end %v: outside is inside and two walls", c.name, p["S1"].Length, p["E1"].Length)
		}
		if p["S1"].Width != c.height || p["E1"].Width != c.height {
			t.Errorf("%s: walls %s high, want %s: %s", c.name, p["S1"].Width.Fraction(), c.height.Fraction(), c.why)
		}
		if build.Inside.Height != 7*half {
			t.Errorf("%s: inside height %s", c.name, build.Inside.Height.Fraction())
		}
	}
}

func TestOverallCountsWhatStandsOut(t *testing.T) {
	b := plain()
	b.Bottom.Kind, b.Lid.Kind = orders.NailedBottom, orders.LiftOffLid
	build, _ := one(t, b)
	// 1/4 bottom below; 1/2 lid less its lip of 1/8 above
	if got, want := build.Overall.Height, 7*half+quarter+3*inch/8; got != want {
		t.Errorf("overall height %s, want %s", got.Fraction(), want.Fraction())
	}
}

// Common practice: panel = inside + 2 x groove depth - 2 x gap; + 2 x rabbet;
// nailed on = outside + overhang on each side. A groove is never deeper than
// half its wall.
func TestBottomSizes(t *testing.T) {
	for _, c := range []struct {
		kind          orders.BottomKind
		wood          string
		length, width measure.Length
	}{
		{orders.GrooveBottom, "birch plywood", 11*inch + half - inch/16, 7*inch + half - inch/16},
		{orders.RabbetBottom, "birch plywood", 11*inch + half, 7*inch + half},
		{orders.NailedBottom, "birch plywood", 12 * inch, 8 * inch},
	} {
		b := plain()
		b.Bottom = orders.Bottom{Kind: c.kind, Wood: c.wood}
		_, p := one(t, b)
		if bt := p["BT"]; bt.Length != c.length || bt.Width != c.width || bt.Thickness != quarter || bt.Wood != c.wood || bt.Joint != nil {
			t.Errorf("%s: %s x %s x %s of %s", c.kind, bt.Length.Fraction(), bt.Width.Fraction(), bt.Thickness.Fraction(), bt.Wood)
		}
	}
}

func TestGrooveIsAtMostHalfTheWall(t *testing.T) {
	b := plain()
	b.Thickness, b.EndThickness = 3*inch/8, half
	b.Bottom = orders.Bottom{Kind: orders.GrooveBottom, Wood: "plywood"}
	build, p := one(t, b)
	if g := build.Grooves[0]; g.SideCut != 3*inch/16 || g.EndCut != quarter {
		t.Errorf("groove %s in sides, %s in ends", g.SideCut.Fraction(), g.EndCut.Fraction())
	}
	// the panel's ends stand in the end boards, its edges in the sides
	if bt := p["BT"]; bt.Length != build.Inside.Length+half-inch/16 || bt.Width != build.Inside.Width+3*inch/8-inch/16 {
		t.Errorf("panel %s x %s", bt.Length.Fraction(), bt.Width.Fraction())
	}
}

func TestLids(t *testing.T) {
	for _, c := range []struct {
		kind          orders.LidKind
		length, width measure.Length
		why           string
	}{
		{orders.SlidingLid, 11*inch + quarter - inch/32 + half, 7*inch + half - inch/16, "over the front, into the back's groove"},
		{orders.SawnOffLid, 11*inch + half - inch/16, 7*inch + half - inch/16, "as a bottom"},
		{orders.LiftOffLid, 12 * inch, 8 * inch, "flush with the walls"},
		{orders.HingedLid, 12 * inch, 8 * inch, "flush with the walls"},
	} {
		b := plain()
		b.Lid = orders.Lid{Kind: c.kind, Wood: "plywood", Thickness: quarter}
		build, p := one(t, b)
		if ld := p["LD"]; ld.Length != c.length || ld.Width != c.width {
			t.Errorf("%s: %s x %s: %s", c.kind, ld.Length.Fraction(), ld.Width.Fraction(), c.why)
		}
		if c.kind == orders.SlidingLid && build.Lowered != 3*inch {
			t.Errorf("front lowered to %s, want the groove's floor at 3", build.Lowered.Fraction())
		}
	}
}

// H = box + lid + saw kerf + 2 x clean-up (common practice).
func TestSawnOffLidAddsKerfAndCleaningUp(t *testing.T) {
	b := plain()
	b.Lid = orders.Lid{Kind: orders.SawnOffLid, Wood: "plywood"}
	build, p := one(t, b)
	if got, want := p["S1"].Width, 7*half+inch*3/32+2*inch/64; got != want {
		t.Errorf("walls %s high, want %s", got.Fraction(), want.Fraction())
	}
	lid := p["S1"].Width - build.Parting.High
	if lid+build.Parting.Low != 7*half || lid != inch {
		t.Errorf("lid %s and box %s do not make the box asked for", lid.Fraction(), build.Parting.Low.Fraction())
	}
}

func TestUnequalThicknessNamesTheMate(t *testing.T) {
	b := plain()
	b.EndThickness = 3 * quarter
	_, p := one(t, b)
	if p["S1"].Joint.Mate != 3*quarter || p["E1"].Joint.Mate != half || p["E1"].Thickness != 3*quarter {
		t.Errorf("side meets %v, end meets %v", p["S1"].Joint.Mate, p["E1"].Joint.Mate)
	}
	b.EndThickness = 0
	if _, p = one(t, b); p["E1"].Thickness != half {
		t.Errorf("a blank end thickness is the sides': %v", p["E1"].Thickness)
	}
}

func TestSidesAreRowAUnlessTheyStartWithAPin(t *testing.T) {
	for starts, want := range map[string][2]orders.Row{"notch": {orders.RowA, orders.RowB}, "pin": {orders.RowB, orders.RowA}} {
		o := order(plain())
		o.Settings.SideStarts = starts
		p := parts.Make(o).Parts
		if got := [2]orders.Row{p[0].Joint.Row, p[1].Joint.Row}; got != want {
			t.Errorf("%s: sides %s, ends %s", starts, got[0], got[1])
		}
	}
}

// Going round the box A1(1)-B1(1), B1(2)-A2(2), A2(1)-B2(1), B2(2)-A1(2): ends
// cut in one run meet only ends of that run.
func TestCornersMeetInPairsOfOneMark(t *testing.T) {
	_, p := one(t, plain())
	seen := map[string]int{}
	for _, c := range parts.Corners() {
		side, end := p[c.Side], p[c.End]
		if side.Joint.Ends[c.Mark-1] != c.Mark || end.Joint.Ends[c.Mark-1] != c.Mark {
			t.Errorf("%s meets %s with unequal marks", c.Side, c.End)
		}
		if side.Joint.Row == end.Joint.Row {
			t.Errorf("%s and %s are of one row", c.Side, c.End)
		}
		seen[c.Side+string(rune('0'+c.Mark))]++
		seen[c.End+string(rune('0'+c.Mark))]++
	}
	if len(seen) != 8 {
		t.Errorf("%d ends meet, want each of eight once: %v", len(seen), seen)
	}
}

func TestMatchedGrainRunsRoundEachBox(t *testing.T) {
	b := plain()
	b.Matched = true
	r := parts.Make(order(b))
	for i, p := range r.Parts {
		if p.Place != i%4+1 || p.Run != []string{"B7-1", "B7-2"}[i/4] {
			t.Errorf("%s: run %q place %d", p.ID, p.Run, p.Place)
		}
	}
	b.Matched = false
	if p := parts.Make(order(b)).Parts[0]; p.Run != "" || p.Place != 0 {
		t.Errorf("no grain asked for, run %q", p.Run)
	}
}

// cell = (inside - n x thickness) / (n + 1); lap notch = thickness and a
// clearance of 0.004 to 0.010 in, half the height deep (common practice).
func TestDividersLapIntoEqualCells(t *testing.T) {
	b := plain()
	b.Dividers = orders.Dividers{Along: 3, Across: 2}
	build, p := one(t, b)
	if len(p) != 4+3 {
		t.Fatalf("parts %d, want two dividers across and one along", len(p))
	}
	along := build.Panels[0]
	if along.Count != 1 || len(along.NotchAt) != 2 || !along.NotchFromTop {
		t.Fatalf("along: %+v", along)
	}
	cell := (11*inch - 2*quarter) / 3
	clearance, play := inch*6/1000, inch/32
	if got, want := along.NotchAt[0], cell-play/2-clearance/2; got-want > 1 || want-got > 1 {
		t.Errorf("first notch at %v, want %v", got, want)
	}
	if got, want := along.NotchAt[1]-along.NotchAt[0], cell+quarter; got-want > 1 || want-got > 1 {
		t.Errorf("notches %v apart, want %v", got, want)
	}
	across := build.Panels[1]
	if across.NotchFromTop || along.NotchDepth+across.NotchDepth < along.Width {
		t.Errorf("laps %v and %v do not close a height of %v", along.NotchDepth, across.NotchDepth, along.Width)
	}
}

func TestDividersMayBeOfAnotherWood(t *testing.T) {
	b := plain()
	b.Dividers = orders.Dividers{Along: 2}
	o := order(b)
	o.Settings.Making.DividerWood = "plywood"
	for _, p := range parts.Make(o).Parts {
		if want := map[bool]string{true: "plywood", false: "walnut"}[p.Role == orders.Divider]; p.Wood != want {
			t.Errorf("%s is of %s, want %s", p.ID, p.Wood, want)
		}
	}
}

func TestLooseParts(t *testing.T) {
	o := &orders.Order{Settings: settings.Default(), Loose: []orders.LoosePart{{
		Source: orders.Source{Sheet: "Parts", Cell: "B3"}, Name: "tray", Count: 2, Length: 10 * inch, Width: 3 * inch, Thickness: half, Wood: "ash", Grain: orders.EitherWay}, {
		Source: orders.Source{Sheet: "Parts", Cell: "B4"}, Count: 1, Length: 10 * inch, Width: 3 * inch, Thickness: half, Wood: "ash"}}}
	p := parts.Make(o).Parts
	if len(p) != 3 || p[1].ID != "P3-2" || p[0].Grain != orders.EitherWay || p[2].Grain != orders.AlongLength || p[0].Joint != nil {
		t.Errorf("%+v", p)
	}
	if p[0].CutLength != 10*inch+inch/16 || p[0].CutWidth != 3*inch+inch/8 {
		t.Errorf("cut %v x %v", p[0].CutLength, p[0].CutWidth)
	}
}

func TestIdsStayUniqueAcrossSheets(t *testing.T) {
	o := order(plain())
	other := plain()
	other.Source = orders.Source{Sheet: "More", Cell: "C7"}
	unknown := plain()
	unknown.Source = orders.Source{Sheet: "fair"}
	o.Boxes = append(o.Boxes, other, unknown)
	seen := map[string]bool{}
	for _, p := range parts.Make(o).Parts {
		if seen[p.ID] {
			t.Errorf("%s twice", p.ID)
		}
		seen[p.ID] = true
	}
	if !seen["B7b-2-E1"] && !seen["B7a-2-E1"] {
		t.Errorf("second sheet's ids: %v", seen)
	}
}

func TestImpossibleBoxesCiteTheirCell(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*orders.Box)
		heading string
		says    string
	}{
		{"walls thicker than the box", func(b *orders.Box) { b.Width = inch }, "Width", "no room inside"},
		{"ends thicker than the box", func(b *orders.Box) { b.EndThickness = 6 * inch }, "Length", "no space inside"},
		{"lower than two fingers", func(b *orders.Box) { b.Finger = 2 * inch }, "Height", "two fingers"},
		{"lower than two of the narrowest fingers", func(b *orders.Box) { b.Height = inch / 5 }, "Height", "two fingers"},
		{"no size", func(b *orders.Box) { b.Height = 0 }, "Height", "not above zero"},
		{"no thickness", func(b *orders.Box) { b.Thickness = -1 }, "Thickness", "not above zero"},
		{"bottom and lid fill it", func(b *orders.Box) {
			b.Height, b.Bottom.Kind, b.Lid.Kind = inch, orders.GrooveBottom, orders.SlidingLid
		}, "Height", "no room inside"},
		{"sawn through its own top", func(b *orders.Box) { b.Lid = orders.Lid{Kind: orders.SawnOffLid, Thickness: inch} }, "Lid", "own top"},
		{"sawn lid takes it all", func(b *orders.Box) { b.Height, b.Lid.Kind = inch, orders.SawnOffLid }, "Height", "no box"},
		{"dividers fill it", func(b *orders.Box) { b.Dividers.Along = 60 }, "Dividers", "fill the inside"},
		{"panel does not reach", func(b *orders.Box) {
			b.Length, b.Width, b.Wood, b.Bottom.Kind = 40*inch, 36*inch, "beech", orders.GrooveBottom
		}, "Bottom", "does not reach"},
	} {
		b := plain()
		c.change(&b)
		o := order(b)
		o.Readings = []orders.Reading{
			{Source: orders.Source{Sheet: "Boxes", Cell: "X8"}, Heading: c.heading},
			{Source: orders.Source{Sheet: "Boxes", Cell: "X7"}, Heading: c.heading},
		}
		r := parts.Make(o)
		if len(r.Parts) > 0 || len(r.Findings) == 0 {
			t.Errorf("%s: %d parts, no problem", c.name, len(r.Parts))
			continue
		}
		if p := r.Findings[0]; p.Level != orders.Error || p.Cell != "X7" || !strings.Contains(p.Did, c.says) || p.Fix == "" {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

func TestTooManyPartsAreRefusedWithTheNumber(t *testing.T) {
	b := plain()
	b.Count = 25_001
	r := parts.Make(order(b))
	if len(r.Parts) > 0 || len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Read, "100004") {
		t.Errorf("%d parts, %v", len(r.Parts), r.Findings)
	}
}

func TestSolidPanelsThatMoveAreWarnedOf(t *testing.T) {
	for _, c := range []struct {
		name string
		box  func(*orders.Box)
		says string // empty: no warning
	}{
		{"nailed plywood", func(b *orders.Box) { b.Bottom = orders.Bottom{Kind: orders.NailedBottom, Wood: "Birch plywood"} }, ""},
		{"nailed beech", func(b *orders.Box) { b.Bottom = orders.Bottom{Kind: orders.NailedBottom, Wood: "beech"} }, "held fast"},
		{"unknown wood", func(b *orders.Box) { b.Bottom = orders.Bottom{Kind: orders.GrooveBottom, Wood: "zebrano"} }, "not known"},
		{"matched grain round unequal walls", func(b *orders.Box) { b.Matched, b.EndThickness = true, 3*quarter }, "each is planed separately"},
		{"the same, long enough for the planer", func(b *orders.Box) {
			b.Length, b.Width, b.Matched, b.EndThickness = 16*inch, 13*inch, true, 3*quarter
		}, ""},
		{"wide in a groove", func(b *orders.Box) {
			b.Width, b.Bottom = 14*inch, orders.Bottom{Kind: orders.GrooveBottom, Wood: "red oak"}
		}, "pull out"},
	} {
		b := plain()
		c.box(&b)
		var said []string
		for _, p := range parts.Make(order(b)).Findings {
			if p.Level == orders.Warning {
				said = append(said, p.Did)
			}
		}
		if text := strings.Join(said, "; "); c.says == "" && text != "" || !strings.Contains(text, c.says) {
			t.Errorf("%s: %q", c.name, text)
		}
	}
}

// TestOpenedLeavesMatchAllFourCorners walks round the box over two leaves that
// mirror each other: what meets at a corner is next to each other on one leaf,
// or lies at the same place on both. The way round is that of the jig (common
// practice): E1 follows S1, then S2, then E2.
func TestOpenedLeavesMatchAllFourCorners(t *testing.T) {
	b := plain()
	b.Matched, b.Opened = true, true
	_, p := one(t, b)
	type spot struct {
		run string
		x   measure.Length
	}
	ends := map[string][2]spot{} // end 1 and end 2 of each wall, without kerfs
	for _, w := range []string{"S1", "E1", "S2", "E2"} {
		low := measure.Length(0)
		for _, before := range p {
			if before.Run == p[w].Run && before.Place < p[w].Place {
				low += before.Length
			}
		}
		inner, outer := spot{p[w].Run, low + p[w].Length}, spot{p[w].Run, low}
		if p[w].Place == 2 {
			inner, outer = outer, inner
		}
		ends[w] = [2]spot{inner, outer}
		if p[w].Book == "" || p[w].Book == p[w].Run {
			t.Errorf("%s: run %q of book %q", w, p[w].Run, p[w].Book)
		}
	}
	for _, c := range parts.Corners() {
		side, end := ends[c.Side][c.Mark-1], ends[c.End][c.Mark-1]
		if side.x != end.x {
			t.Errorf("corner %s-%s, mark %d: %v meets %v", c.Side, c.End, c.Mark, side, end)
		}
		if sameLeaf := side.run == end.run; sameLeaf != (c.Mark == 1) {
			t.Errorf("corner %s-%s, mark %d: on one leaf %v", c.Side, c.End, c.Mark, sameLeaf)
		}
	}
}
