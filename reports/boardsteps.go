package reports

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/nesting"
	"batchwright/orders/measure"
)

// BoardStep is one row of a board's page: a cut, cuts of equal settings that
// follow each other, or planing.
type BoardStep struct {
	Do   string // "Crosscut, 6 times"
	Set  string // what the stop, fence or planer is set to, in figures
	From string // which end or edge it is measured from
	Gets string // what is finished then
	Cuts []int  // numbers of its cuts in the plan; none: it is planing
}

// sameSetting is what cuts of one step share.
type sameSetting struct {
	kind  nesting.CutKind
	set   measure.Length
	from  nesting.Reference
	guide nesting.Guide
	takes measure.Length // of a trim
	rough bool
}

func settingOf(c *CutSetting) sameSetting {
	return sameSetting{c.Kind, c.Set, c.Reference, c.Guide, c.trim(), c.Rough}
}

// trim is what a cut takes off that finishes nothing, else 0.
func (c *CutSetting) trim() measure.Length {
	if c.finishes() {
		return 0
	}
	return c.Takes
}

func (c *CutSetting) finishes() bool {
	for _, n := range c.Gets {
		if len(n.pieces) > 0 || n.keep {
			return true
		}
	}
	return false
}

// longestTurn is how many different settings may take turns in one step.
const longestTurn = 4

// steps joins cuts of equal settings, and those whose settings take turns: side,
// end, side, end.
func (l *Layout) steps(cuts []CutSetting, names Names, w Words) (out []BoardStep) {
	for i := 0; i < len(cuts); {
		trim := i
		if i+1 < len(cuts) && cuts[i].trims(&cuts[i+1]) {
			i++
		}
		period, count := repeats(cuts[i:])
		step := l.step(cuts[i:i+period*count], period, names, w)
		if trim < i {
			step = step.after(&cuts[trim], w)
		}
		out = append(out, step)
		i += period * count
	}
	return out
}

// trims reports whether a cut only cleans the end or edge that the next one is
// measured from.
func (c *CutSetting) trims(next *CutSetting) bool {
	if c.of == nil || c.Kind != next.Kind || c.Guide != next.Guide || c.Rough != next.Rough || next.of != c.of.after {
		return false
	}
	return !c.finishes()
}

// after is a step with the trim before it in the same row.
func (s BoardStep) after(trim *CutSetting, w Words) BoardStep {
	s.Do = "Trim, then " + strings.ToLower(s.Do[:1]) + s.Do[1:]
	s.Set = setWords(trim, w) + ", then " + s.Set
	s.From = joined(", ", string(trim.Reference), s.From)
	s.Gets = joined("; ", s.Gets, takesWords(trim, w))
	s.Cuts = append([]int{trim.N}, s.Cuts...)
	return s
}

// repeats is how many cuts from the first on repeat, and how often: the choice
// that covers most cuts, of those the shortest.
func repeats(cuts []CutSetting) (period, count int) {
	period, count = 1, 1
	for p := 1; p <= longestTurn; p++ {
		n := 1
		for (n+1)*p <= len(cuts) && sameRun(cuts[:p], cuts[n*p:(n+1)*p]) {
			n++
		}
		if n > 1 && n*p > period*count {
			period, count = p, n
		}
	}
	return period, count
}

func sameRun(a, b []CutSetting) bool {
	for i := range a {
		if settingOf(&a[i]) != settingOf(&b[i]) {
			return false
		}
	}
	return true
}

func (l *Layout) step(cuts []CutSetting, period int, names Names, w Words) BoardStep {
	s := BoardStep{Do: doWords(cuts, period), Gets: l.getWords(cuts, names, w)}
	var sets, froms []string
	for i := range cuts[:period] {
		sets = append(sets, setWords(&cuts[i], w))
		if from := string(cuts[i].Reference); !slices.Contains(froms, from) {
			froms = append(froms, from)
		}
	}
	for i := range cuts {
		s.Cuts = append(s.Cuts, cuts[i].N)
	}
	s.Set, s.From = strings.Join(sets, ", then "), strings.Join(froms, ", ")
	return s
}

func doWords(cuts []CutSetting, period int) string {
	first := &cuts[0]
	text := "Crosscut"
	if first.Kind == nesting.Rip {
		text = "Rip"
	}
	for i := range cuts[:period] {
		if cuts[i].Kind != first.Kind {
			text = "Rip and crosscut"
		}
	}
	if first.Guide == nesting.ByStraightedge || first.Guide == nesting.ByStop && first.Kind == nesting.Rip {
		text += " by the " + string(first.Guide)
	}
	count := len(cuts) / period
	switch {
	case period > 1:
		text = fmt.Sprintf("%s in turn, %d times each", text, count)
	case count > 1:
		text = fmt.Sprintf("%s, %d times", text, count)
	}
	if slices.ContainsFunc(cuts, CutSetting.small) {
		text += "; push stick"
	}
	return text
}

// Work along the fence that is narrower or shorter brings a hand near the blade.
const (
	narrowWork = 6 * measure.Inch  // machine manuals, common practice
	shortWork  = 12 * measure.Inch // Canadian Centre for Occupational Health and Safety, push sticks: 300 mm
)

// small reports whether a cut along the fence asks for a push stick.
func (c CutSetting) small() bool {
	if c.Guide != nesting.ByFence || c.of == nil {
		return false
	}
	along, wide := c.of.x1-c.of.x0, c.of.y1-c.of.y0
	if c.Kind == nesting.Crosscut {
		along, wide = wide, along
	}
	return wide < narrowWork || along < shortWork
}

// PushSticks is what a page of boards says of the steps that name a push stick.
func PushSticks(w Words) string {
	wide, long := "6 in", "12 in"
	if w.Unit.Metric() {
		wide, long = "150 mm", "300 mm"
	}
	return "Push stick: work along the fence under " + wide + " wide or " + long + " long. Keep hands " + wide +
		" from the blade (machine manuals; CCOHS on push sticks)."
}

func setWords(c *CutSetting, w Words) string { return w.Rule(c.Set.Ratio()) }

// takesWords is what a trim takes off.
func takesWords(c *CutSetting, w Words) string {
	if trim := c.trim(); trim > 0 {
		return "the trim takes off " + w.Marked(trim)
	}
	return ""
}

// getWords is what some cuts finish: parts by name, strips, offcuts to keep.
func (l *Layout) getWords(cuts []CutSetting, names Names, w Words) string {
	var parts, untrimmed, rest []string
	add := func(text string) {
		if !slices.Contains(rest, text) {
			rest = append(rest, text)
		}
	}
	for i := range cuts {
		for _, n := range cuts[i].Gets {
			switch {
			case n.name != "":
				add(n.name)
			case len(n.pieces) == 1 && n.cut == nil:
				parts = append(parts, l.codes(n)...)
			case len(n.pieces) == 1:
				untrimmed = append(untrimmed, l.codes(n)...)
			case len(n.pieces) > 1:
				add(stripWords(names.Together(l.codes(n), false), len(n.pieces)))
			case n.keep:
				add("offcut to keep")
			}
		}
	}
	untrimmed = slices.DeleteFunc(untrimmed, func(code string) bool { return slices.Contains(parts, code) })
	said := []string{names.Together(parts, false)}
	if len(untrimmed) > 0 {
		said = append(said, names.Together(untrimmed, false)+", to be trimmed")
	}
	if text := joined("; ", append(said, rest...)...); text != "" {
		return text
	}
	if takes := takesWords(&cuts[0], w); takes != "" {
		return takes
	}
	return "trim or waste"
}

func stripWords(parts string, count int) string {
	const tooLong = 60
	if len(parts) > tooLong {
		return fmt.Sprintf("strip of %d parts", count)
	}
	return "strip: " + parts
}

// codes are the parts of a rectangle on every board that is cut so.
func (l *Layout) codes(n *node) (out []string) {
	for _, b := range l.Boards {
		for _, i := range n.pieces {
			if i < len(b.Pieces) {
				out = append(out, b.Pieces[i].Part)
			}
		}
	}
	return out
}
