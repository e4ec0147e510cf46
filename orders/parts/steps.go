package parts

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// worklist collects the order of work of one line.
type worklist struct {
	frame *frame
	build *orders.Build
	out   []orders.MakingStep
}

// steps is what is done to the line's boxes, in order, and why then. It is
// common practice, the order of things matters more than their wording.
func (f *frame) steps(b *orders.Build) []orders.MakingStep {
	w := worklist{frame: f, build: b}
	w.beforeJoints()
	w.beforeGlue()
	w.glueUp()
	w.afterGlue()
	return w.out
}

func (w *worklist) add(when orders.When, why, what string, args ...any) {
	w.out = append(w.out, orders.MakingStep{When: when, What: fmt.Sprintf(what, args...), Why: why})
}

func (w *worklist) beforeJoints() {
	f := w.frame
	if f.box.Opened {
		w.add(orders.BeforeJoints, "the faces that lay together in the board mirror each other, and the grain then runs around all four corners, but for what the band saw and the cleaning-up take",
			"mark one end and one edge of the board across its thickness, resaw it and open the two leaves like a book: the sawn faces become the show faces")
	}
	if f.mixedRun() { // what is planed apart is cut apart before
		w.fromOneRun("still rough")
		w.thickness()
	} else {
		w.thickness()
		w.fromOneRun("one after the other")
	}
	w.add(orders.BeforeJoints, "equal lengths matter more than exact ones",
		"crosscut both sides of every box at one stop setting to %s, then both ends at one stop setting to %s",
		f.show(f.outside.Length+2*f.set.Proud), f.show(f.outside.Width+2*f.set.Proud))
	w.add(orders.BeforeJoints, "the marked edge goes to the stop for every cut; marked so, equal marks meet with every show face outside",
		"mark the bottom edge and the show face of every wall, and with that face towards you and the edge down its ends: a side 2 at the left and 1 at the right, an end 1 at the left and 2 at the right")
}

// fromOneRun cuts the walls of matched grain apart.
func (w *worklist) fromOneRun(how string) {
	switch b := w.frame.box; {
	case b.Opened:
		w.add(orders.BeforeJoints, "neighbors on a leaf meet at corners marked 1, the outer ends of the leaves at corners marked 2",
			"crosscut the walls of each box from its two leaves, %s and both from the marked end: S1, E1 from the first and E2, S2 from the second, and number them before they leave the saw", how)
	case b.Matched:
		w.add(orders.BeforeJoints, "the grain then runs around three corners; the fourth, E2 to S1, goes to the back",
			"crosscut the walls of each box %s from one strip: S1, E1, S2, E2, and number them before they leave the saw", how)
	}
}

// thickness is planed, but for walls of a manufactured sheet: those are measured.
func (w *worklist) thickness() {
	f := w.frame
	why := "boards of one stack must be equal within " + f.set.Units.Either("0.005 in (0.13 mm)", "0.13 mm") + " to clamp true, and the blade is set to the mate's thickness"
	if woods.IsSheet(f.box.Wood) {
		w.add(orders.BeforeJoints, why+"; sheets are often thinner than their name",
			"measure the sheets: sides of %s and ends of %s were ordered; cut all boards of a stack from one sheet, the face grain along their length, and a test piece with them", f.show(f.side), f.show(f.end))
		return
	}
	w.add(orders.BeforeJoints, why, "plane all sides to %s and all ends to %s in one go, with a test piece from the same wood", f.show(f.side), f.show(f.end))
}

func (w *worklist) beforeGlue() {
	f, b := w.frame, w.build
	for _, g := range b.Grooves {
		w.groove(g)
	}
	if b.Lowered > 0 {
		strip := ""
		if b.FrontTop > 0 {
			strip = fmt.Sprintf("; %s of its top finger stays", f.show(b.FrontTop))
		}
		w.add(orders.BeforeGlue, "ripping after the joints keeps its fingers in step with the sides'",
			"rip the end E1, over which the lid slides out, down to %s%s; the strip, trimmed at its lower edge to %s and glued on the lid's end, closes the corner",
			f.show(b.Lowered), strip, f.show(f.set.Making.GrooveSetback))
	}
	for _, p := range b.Panels {
		w.panel(p)
	}
	if slices.ContainsFunc(f.grooved(), func(p orders.Panel) bool { return p.Room > 0 }) {
		w.add(orders.BeforeGlue, "a panel in a groove cannot be put in afterwards, nor its edges finished",
			"finish the edges of the solid panels that go into grooves, so that no bare wood shows when they shrink")
	}
	w.add(orders.BeforeGlue, "inside faces are hard to reach after glue-up",
		"sand the inside faces; keep sandpaper off the fingers")
	w.add(orders.BeforeGlue, "a joint that does not close dry will not close with glue", "put the box together dry, with its panels")
}

func (w *worklist) groove(g orders.Groove) {
	f := w.frame
	if g.Refused != "" {
		w.add(orders.BeforeGlue, g.Refused, "no groove for the %s can be cut as asked", g.For)
		return
	}
	walls := "all four walls"
	if !g.Front {
		walls = "both sides and the end E2"
	}
	w.add(orders.BeforeGlue, "the bottom cannot be put in afterwards", "groove %s for the %s, %s wide, from %s to %s above the marked edge; sides %s deep, ends %s deep",
		walls, g.For, f.grooveWidth(g), f.show(g.From), f.show(g.To), f.show(g.SideCut), f.show(g.EndCut))
	if g.For != "bottom" {
		w.out[len(w.out)-1].Why = "with the fingers cut, you see where it may run through"
	}
	w.stops(g.Walls)
	if len(g.Walls) > 0 && f.notched(g) {
		w.add(orders.BeforeGlue, "the groove stops at the inside corners", "notch the corners of the %s by %s x %s", g.For, f.show(g.EndCut), f.show(g.SideCut))
	}
}

// grooveWidth is a groove's width and how it follows from its panel.
func (f *frame) grooveWidth(g orders.Groove) string {
	text := f.show(g.To - g.From)
	if play := f.set.Making.GroovePlay; play > 0 {
		text += fmt.Sprintf(" (panel %s plus play %s)", f.show(g.To-g.From-play), f.show(play))
	}
	return text
}

// stops says where each wall's groove is stopped, equal walls together.
func (w *worklist) stops(walls []orders.GrooveWall) {
	for i := 0; i < len(walls); {
		names, last := walls[i].Wall, i+1
		for ; last < len(walls) && walls[last].Through == walls[i].Through && walls[last].Block == walls[i].Block; last++ {
			names += ", " + walls[last].Wall
		}
		w.stop(names, walls[i])
		i = last
	}
}

func (w *worklist) stop(names string, wall orders.GrooveWall) {
	const shows = "it would show on the end of a finger"
	f := w.frame
	switch {
	case wall.Through[0] && wall.Through[1]:
		w.add(orders.BeforeGlue, "it is in a slot, and the mate's pin covers it", "%s: the groove runs through at both ends", names)
	case wall.Through[0] || wall.Through[1]:
		end := 0
		if wall.Through[0] {
			end = 1
		}
		w.add(orders.BeforeGlue, shows, "%s: the groove runs out at end %d; stop block at end %d, %s from the cutter's center", names, 2-end, end+1, f.show(wall.Block[end]))
	default:
		w.add(orders.BeforeGlue, shows, "%s: stop blocks at both ends, %s from the cutter's center", names, f.show(wall.Block[0]))
	}
}

// panel is cut before glue-up where it goes into a groove; a divider may be.
func (w *worklist) panel(p orders.Panel) {
	f := w.frame
	size := fmt.Sprintf("%s x %s x %s", p.Length.BareOnRule(f.set.Units), p.Width.BareOnRule(f.set.Units), f.show(p.Thickness))
	if p.Role == orders.Divider {
		count := counted(p.Count, "divider", "dividers")
		if p.Across {
			count += " across the box"
		} else {
			count += " along the box"
		}
		if len(p.NotchAt) > 0 {
			count += fmt.Sprintf(", notched %s wide and %s deep from the %s, beginning %s from either end", f.fine(p.Notch), f.fine(p.NotchDepth), edgeName(p.NotchFromTop), f.places(p.NotchAt))
		}
		w.add(orders.BeforeGlue, "the cells come out equal; dividers are loose in the box", "cut %s, to %s", count, size)
		return
	}
	if !slices.ContainsFunc(f.grooved(), func(g orders.Panel) bool { return g.Role == p.Role }) {
		return
	}
	why := "a manufactured sheet hardly moves; the gap makes it easy to put in"
	if p.Room > 0 {
		why = fmt.Sprintf("the wood may swell by up to %s across its grain between %v%% and %v%% humidity", f.show(p.Room), f.set.Making.HumidityLow, f.set.Making.HumidityHigh)
	}
	w.add(orders.BeforeGlue, why, "cut the %s, to %s", p.What, size)
}

// places lists distances: "3.494 in and 7.244 in".
func (f *frame) places(at []measure.Length) string {
	var all []string
	for _, l := range at {
		all = append(all, f.fine(l))
	}
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return strings.Join(all, "")
}

func (w *worklist) glueUp() {
	w.add(orders.GlueUp, "glue squeezed into a groove locks the panel",
		"glue the four walls, ends with equal marks together%s", w.shutIn())
	w.add(orders.GlueUp, "equal diagonals mean a square box", "compare the diagonals before the clamps are tight; %s", clampAndCure(w.frame.set.Units))
}

// shutIn names the panels that the walls close round: what is forgotten then
// cannot be put in any more.
func (w *worklist) shutIn() string {
	f := w.frame
	text := ""
	solid := false
	if f.box.Bottom.Kind == orders.GrooveBottom {
		text = ", the bottom in its groove"
		solid = !woods.IsSheet(orWood(f.box.Bottom.Wood, f.box.Wood))
	}
	if f.box.Lid.Kind == orders.SawnOffLid {
		solid = solid || !woods.IsSheet(orWood(f.box.Lid.Wood, f.box.Wood))
		if text == "" {
			text = ", the top in its groove"
		} else {
			text = ", the bottom and the top in their grooves"
		}
	}
	if solid {
		text += ", solid wood without glue (a spot at the middle of its ends at most)"
	}
	return text
}

// clampAndCure is for white and yellow wood glue (PVA): clamped 30 to 90 min,
// fully cured after 24 h, not under 10 C; a retailer's technical article, and
// for the lowest temperature also the US Navy's manual on adhesives.
func clampAndCure(unit measure.Unit) string {
	return "in clamps 30 to 90 min, full strength after 24 h, not under " + unit.Either("50 F (10 C)", "10 °C") + " with white or yellow glue; follow the glue's label"
}

func (w *worklist) afterGlue() {
	f, b := w.frame, w.build
	w.add(orders.AfterGlue, fmt.Sprintf("the fingers stand %s proud", f.show(f.set.Proud)), "sand the fingers flush")
	for _, p := range b.Panels {
		if p.Role == orders.BottomP {
			w.bottomAfter(p)
		}
	}
	for _, p := range b.Panels {
		if p.Role == orders.LidP {
			w.lidAfter(p)
		}
	}
	if f.box.Finish != "" {
		w.add(orders.AfterGlue, "glue and dust are gone by then; spread oily rags out in the open to dry, they can catch fire by themselves", "finish: %s", f.box.Finish)
	}
}

func (w *worklist) bottomAfter(p orders.Panel) {
	f := w.frame
	switch f.box.Bottom.Kind {
	case orders.RabbetBottom:
		w.add(orders.AfterGlue, "a rabbet cut in single walls would show at the corners",
			"rout a rabbet round the bottom, %s into the ends, %s into the sides, %s deep; fit the bottom, %s x %s, its corners rounded to the cutter%s",
			f.show(f.endRabbet), f.show(f.sideRabbet), f.show(f.bottom), p.Length.BareOnRule(f.set.Units), f.show(p.Width), w.heldLoosely(p))
	case orders.NailedBottom:
		w.add(orders.AfterGlue, "it covers the lower edge of the joints and squares the box", "nail on the bottom, %s x %s%s", p.Length.BareOnRule(f.set.Units), f.show(p.Width), w.heldLoosely(p))
	}
}

// heldLoosely is how a bottom is fastened whose wood moves too far to be held
// fast all round.
func (w *worklist) heldLoosely(p orders.Panel) string {
	f := w.frame
	moves := f.room(p.Width, f.woodOf(p.Role))
	if moves <= sliver {
		return ""
	}
	return fmt.Sprintf("; it moves %s across its grain: glue it at the middle of its ends only and fasten its edges through slotted holes", f.show(moves))
}

func (w *worklist) lidAfter(p orders.Panel) {
	f, b := w.frame, w.build
	switch f.box.Lid.Kind {
	case orders.LiftOffLid:
		w.add(orders.AfterGlue, "the lip keeps the lid in place, with room to swell across the grain",
			"cut the lid to %s x %s and rabbet it underneath, %s deep, so that a lip of %s x %s stays: try it on its own box",
			p.Length.BareOnRule(f.set.Units), f.show(p.Width), f.show(p.LipDepth), p.LipLength.BareOnRule(f.set.Units), f.show(p.LipWidth))
	case orders.HingedLid:
		w.add(orders.AfterGlue, "let in hinges when box and lid are flush", "cut the lid to %s x %s; let in two hinges at the back", p.Length.BareOnRule(f.set.Units), f.show(p.Width))
	case orders.SlidingLid:
		w.add(orders.AfterGlue, "finish swells the edges a little", "slide the lid in and ease its edges until it runs")
	case orders.SawnOffLid:
		w.add(orders.AfterGlue, "the kerf closes on the blade when the last side is cut: shim it open; keep hands clear of the line",
			"saw the lid off with the kerf between %s and %s above the marked edge, the two sides first, then the ends; sand both edges flat by %s",
			f.show(b.Parting.Low+f.set.Making.CleanUp), f.show(b.Parting.High-f.set.Making.CleanUp), f.show(f.set.Making.CleanUp))
	}
}
