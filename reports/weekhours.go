package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// HourList is the work of the printed days in time order, the groups of one
// kind on one job within a half-day as one line.
func HourList(w *jigplan.Week) Table {
	t := Table{Title: "Hour by hour", Head: []string{"", "Day", "From", "To", "Job", "Where", "What", "Then", "Begin by", "Task"}}
	codes := codesOf(w)
	for _, g := range gangs(w) {
		b := &g.list[0]
		end := clockText(g.end)
		if !midnight(g.end).Equal(midnight(b.Start)) {
			end = moment(g.end, b.Start, w.Settings.Units)
		}
		t.Add("☐", w.Settings.Units.LongDay(b.Start), clockText(b.Start), end, codes[b.Job], string(b.Place), g.what(), g.then(), g.beginBy(), g.tasks())
	}
	t.Note("Begin by: the last moment to begin and still meet the date. Task: the name for --done and --hold.")
	return t
}

// gang is bookings told in one line.
type gang struct {
	kind string
	half int
	end  time.Time
	list []jigplan.Booking
	unit measure.Unit
}

func gangs(w *jigplan.Week) (out []*gang) {
	for _, b := range printed(w) {
		half := slices.IndexFunc(w.Schedule.Halves, func(h jigplan.HalfDay) bool { return !b.Start.Before(h.From) && b.Start.Before(h.To) })
		kind := kindOf(&b.Task)
		at := slices.IndexFunc(out, func(g *gang) bool { return g.half == half && g.kind == kind && g.list[0].Job == b.Job })
		if at < 0 || kind == saws {
			at = len(out)
			out = append(out, &gang{kind: kind, half: half, unit: w.Settings.Units})
		}
		g := out[at]
		g.list, g.end = append(g.list, b), later(g.end, b.End)
	}
	return out
}

func (g *gang) what() string {
	if len(g.list) == 1 {
		return g.list[0].What
	}
	boxes, of, names := 0, map[string]int{}, []string{}
	for _, b := range g.list {
		if of[b.Box] == 0 && b.Box != "" {
			names = append(names, b.Box)
		}
		of[b.Box] += b.Boxes
		boxes += b.Boxes
	}
	kind := g.kind
	if g.list[0].Place == jigplan.AtFinish {
		kind += " on"
	}
	text := kind + " " + Counted(boxes, "box", "boxes")
	if len(names) == 1 {
		text += " of " + names[0]
	} else if len(names) > 1 {
		for k, name := range names {
			names[k] = fmt.Sprintf("%d %s", of[name], name)
		}
		text += " (" + strings.Join(names, ", ") + ")"
	}
	return fmt.Sprintf("%s, in %d groups", text, len(g.list))
}

// then is what follows unattended.
func (g *gang) then() string {
	var out []string
	b := &g.list[0]
	clamps, free, ready := 0, b.Free, b.Ready
	for _, one := range g.list {
		clamps, free, ready = clamps+one.Clamps, later(free, one.Free), later(ready, one.Ready)
	}
	if clamps > 0 {
		out = append(out, "clamps off by "+moment(free, b.Start, g.unit))
	}
	if b.Wait > 0 {
		out = append(out, map[jigplan.Place]string{jigplan.AtSaw: "rests", jigplan.AtClamps: "cures", jigplan.AtFinish: "dries"}[b.Place]+" until "+moment(ready, b.Start, g.unit))
	}
	return strings.Join(out, ", ")
}

// beginBy is the earliest of the last moments.
func (g *gang) beginBy() string {
	var first time.Time
	for _, b := range g.list {
		if !b.Latest.IsZero() && (first.IsZero() || b.Latest.Before(first)) {
			first = b.Latest
		}
	}
	if first.IsZero() {
		return ""
	}
	return moment(first, g.list[0].Start, g.unit)
}

// tasks names them in one text, by their numbers: "12/glue 1, 2, 7".
func (g *gang) tasks() string {
	list := slices.Clone(g.list)
	number := func(b jigplan.Booking) (n float64) {
		n, _ = strconv.ParseFloat(b.ID[strings.LastIndex(b.ID, " ")+1:], 64)
		return n
	}
	slices.SortStableFunc(list, func(a, b jigplan.Booking) int { return cmp.Compare(number(a), number(b)) })
	text := list[0].ID
	for _, b := range list[1:] {
		text += ", " + b.ID[strings.LastIndex(b.ID, " ")+1:]
	}
	return text
}
