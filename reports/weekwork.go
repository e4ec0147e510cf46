package reports

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// workLine is the work of one kind on one job within a half-day, told in one
// line: ten glue-ups of a box each are ten boxes.
type workLine struct {
	code, kind string
	boxes      int
	names      []string // of setups
	from, to   time.Time
	ends       []span
}

// span is a group of boxes and the clamps they leave.
type span struct {
	boxes, clamps int
	free          time.Time
}

type workLines []*workLine

// Kinds of work, as they are said on a week sheet.
const (
	mills   = "mill"
	saws    = "saw"
	grooves = "grooves"
	glues   = "glue"
	sands   = "sand"
)

// kindOf is what is done in a task; coats are told apart by their number.
func kindOf(t *jigplan.Task) string {
	switch {
	case t.Place == jigplan.AtSaw && t.Setup != "":
		return saws
	case t.Place == jigplan.AtSaw && t.Wait > 0:
		return mills
	case t.Place == jigplan.AtSaw:
		return grooves
	case t.Place == jigplan.AtClamps:
		return glues
	case t.Place == jigplan.AtBench:
		return sands
	}
	coat, _, _ := strings.Cut(t.What, " on ")
	return coat
}

func (s *workLines) add(code string, b *jigplan.Booking, from, to time.Time) {
	kind := kindOf(&b.Task)
	at := slices.IndexFunc(*s, func(one *workLine) bool { return one.code == code && one.kind == kind })
	if at < 0 {
		at = len(*s)
		*s = append(*s, &workLine{code: code, kind: kind, from: from, to: to})
	}
	one := (*s)[at]
	one.boxes += b.Boxes
	one.from, one.to = sooner(one.from, from), later(one.to, to)
	one.ends = append(one.ends, span{b.Boxes, b.Clamps, b.Free})
	if kind == saws {
		one.names = append(one.names, setupOf(b))
	}
}

// setupOf is the setup of a saw task: "U1".
func setupOf(b *jigplan.Booking) string {
	_, name, _ := strings.Cut(b.ID, "/saw ")
	return name
}

// worked is one line a strand: "sand 8 boxes 8:00-11:15".
func (s workLines) worked() (out []WeekEntry) {
	for _, one := range s {
		text := one.kind
		switch {
		case one.kind == saws:
			text += " " + strings.Join(one.names, ", ")
		case strings.HasPrefix(one.kind, "coat"):
			text += " on " + Counted(one.boxes, "box", "boxes")
		case one.kind != mills && one.kind != grooves:
			text += " " + Counted(one.boxes, "box", "boxes")
		}
		out = append(out, WeekEntry{one.code, text + " " + clockText(one.from) + "-" + clockText(one.to)})
	}
	return out
}

// glued is what is glued, and when its clamps come off.
func (s workLines) glued(h jigplan.HalfDay) (out []WeekEntry) {
	for _, one := range s {
		text := fmt.Sprintf("glue %s %s-%s", Counted(one.boxes, "box", "boxes"), clockText(one.from), clockText(one.to))
		boxes, clamps, last := 0, 0, time.Time{}
		for _, e := range one.ends {
			if midnight(e.free).After(midnight(h.From)) {
				boxes, clamps = boxes+e.boxes, clamps+e.clamps
				continue
			}
			last = later(last, e.free)
		}
		if !last.IsZero() && boxes < one.boxes {
			text += ", off by " + clockText(last)
		}
		switch {
		case boxes == one.boxes:
			text += fmt.Sprintf(", %s over night", Counted(clamps, "clamp", "clamps"))
		case boxes > 0:
			text += fmt.Sprintf("; %s, %s over night", Counted(boxes, "box", "boxes"), Counted(clamps, "clamp", "clamps"))
		}
		out = append(out, WeekEntry{one.code, text})
	}
	return out
}

// unclamped is what comes out of the clamps that was glued before.
func (s workLines) unclamped(h jigplan.HalfDay, unit measure.Unit) (out []WeekEntry) {
	for _, one := range s {
		last := one.ends[0].free
		for _, e := range one.ends {
			last = later(last, e.free)
		}
		out = append(out, WeekEntry{one.code, fmt.Sprintf("%s out by %s", Counted(one.boxes, "box", "boxes"), moment(last, h.From, unit))})
	}
	return out
}

// drying is what waits for wood, glue or finish between two times.
func drying(w *jigplan.Week, from, to time.Time) (out []WeekEntry) {
	var waiting workLines
	codes := codesOf(w)
	for i := range w.Schedule.Bookings {
		if b := &w.Schedule.Bookings[i]; b.Wait > 0 && b.End.Before(to) && b.Ready.After(from) {
			waiting.add(codes[b.Job], b, b.End, b.Ready)
		}
	}
	for _, one := range waiting {
		text := Counted(one.boxes, "box dries", "boxes dry")
		switch one.kind {
		case mills:
			text = "wood rests"
		case glues:
			text = Counted(one.boxes, "box cures", "boxes cure")
		}
		out = append(out, WeekEntry{one.code, text + " until " + moment(one.to, from, w.Settings.Units)})
	}
	return out
}

// needsAfter is what the first day of work after a time needs, a line a job.
func needsAfter(w *jigplan.Week, after time.Time) (out []WeekEntry) {
	var next time.Time
	for _, h := range w.Schedule.Halves {
		if h.From.After(after) {
			next = midnight(h.From)
			break
		}
	}
	if next.IsZero() {
		return nil
	}
	var work workLines
	codes := codesOf(w)
	for i := range w.Schedule.Bookings {
		if b := w.Schedule.Bookings[i]; midnight(b.Start).Equal(next) {
			if b.Place == jigplan.AtFinish {
				b.What = "coat" // whichever it is, it needs the same
			}
			work.add(codes[b.Job], &b, b.Start, b.End)
		}
	}
	for _, j := range w.Jobs {
		var texts []string
		for _, one := range work {
			if one.code == j.Code {
				texts = append(texts, one.needs(j.Plan)...)
			}
		}
		if len(texts) > 0 {
			out = append(out, WeekEntry{j.Code, strings.Join(texts, "; ")})
		}
	}
	return out
}

// needs is what must be there when a strand of work begins.
func (s *workLine) needs(p *jigplan.Plan) []string {
	switch s.kind {
	case mills:
		boards, _ := p.Layout.Count()
		return []string{Counted(boards, "board", "boards")}
	case saws:
		var cards []string
		for _, u := range p.Setups {
			if slices.Contains(s.names, u.ID) && !slices.Contains(cards, u.Program) {
				cards = append(cards, u.Program)
			}
		}
		return []string{"card " + strings.Join(cards, ", ")}
	case glues:
		return []string{"dry fit " + Counted(s.boxes, "box", "boxes")}
	case sands, grooves:
		return nil
	}
	return []string{fmt.Sprintf("%s for %d", finishesOf(p), s.boxes)}
}

// finishesOf names the finishes of an order.
func finishesOf(p *jigplan.Plan) string {
	var names []string
	for _, b := range p.Order.Boxes {
		if b.Finish != "" && !slices.Contains(names, b.Finish) {
			names = append(names, b.Finish)
		}
	}
	if len(names) == 0 {
		return "finish"
	}
	return Listed(names, 2)
}

func sooner(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
