package reports

import (
	"fmt"
	"strings"

	"batchwright/jigplan/improve"
	"batchwright/orders"
)

// MaxSuggestions is how many a start page has room for.
const MaxSuggestions = 5

// Improvements is what would pay, for the screen: the best changes one by one,
// and the best set of them.
func Improvements(o *orders.Order, r *improve.Result) []Table {
	w := Words{o.Settings.Units}
	t := Table{Title: "What would pay", Head: []string{"Change", "Where", "Saves", "What it costs you"}}
	for i := range r.Suggestions[:min(len(r.Suggestions), MaxSuggestions)] {
		g := &r.Suggestions[i]
		t.Add(ChangeText(o, &g.Change), placesText(&g.Change), SavesText(o, g), sacrifice(o, &g.Change, w))
	}
	if len(t.Rows) == 0 {
		t.Head = nil
		t.Title = "What would pay: nothing found"
	}
	if len(r.Set) > 1 {
		var names []string
		for i := range r.Set {
			names = append(names, ChangeText(o, &r.Set[i]))
		}
		t.Note(fmt.Sprintf("Together: %s. Saves %s.", strings.Join(names, "; "), valueText(o, r.SetSaves)))
	}
	t.Note(triedText(r))
	return []Table{t}
}

// triedText says how thorough the search was.
func triedText(r *improve.Result) string {
	text := fmt.Sprintf("%d of %d changes within your limits were planned.", r.Tried, r.Possible)
	switch {
	case r.Tried >= r.Possible && len(r.Suggestions) == 0:
		text += " No single change within your limits saves anything."
	case r.Tried >= r.Possible:
		text += " No other single change saves more."
	default:
		text += " A longer --think tries more."
	}
	if r.Proven {
		text += " The layout of the order as it is cannot be improved (proven)."
	}
	return text
}

// ChangeText is a change in a few words: "Tea box: height 3-7/16 in".
func ChangeText(o *orders.Order, c *improve.Change) string {
	e := &c.Edits[0]
	name := e.Column
	if c.Line >= 0 {
		name = o.Boxes[c.Line].Name + ": " + strings.ToLower(e.Column)
	}
	switch {
	case c.Boxes > 0:
		return "one more " + o.Boxes[c.Line].Name
	case c.Boxes < 0:
		return "one " + o.Boxes[c.Line].Name + " fewer"
	}
	return fmt.Sprintf("%s %s, not %s", name, e.To, e.From)
}

func placesText(c *improve.Change) string {
	var places []string
	for i := range c.Edits {
		places = append(places, c.Edits[i].Place())
	}
	return strings.Join(places, ", ")
}

// SavesText says what a change saves; of a box more or fewer, what it costs
// beside the others.
func SavesText(o *orders.Order, g *improve.Suggestion) string {
	switch {
	case g.Boxes > 0:
		return fmt.Sprintf("it costs %s; each of the others %s", valueText(o, g.Marginal), valueText(o, g.Average))
	case g.Boxes < 0:
		return fmt.Sprintf("%s; the others cost %s each", valueText(o, g.Marginal), valueText(o, g.Average))
	}
	return valueText(o, g.Saves)
}

// valueText lists the parts of a value that are not zero; what grows has a plus.
func valueText(o *orders.Order, v improve.Value) string {
	var parts []string
	add := func(amount float64, text string) {
		if amount != 0 {
			parts = append(parts, text)
		}
	}
	add(float64(v.Unmade), Counted(v.Unmade, "part that could not be made", "parts that could not be made"))
	add(float64(v.Cost), Money(&o.Settings, v.Cost))
	if !o.Settings.Units.Metric() && (v.BoardFeet >= 0.1 || v.BoardFeet <= -0.1) {
		parts = append(parts, fmt.Sprintf("%.1f board feet", v.BoardFeet))
	}
	if v.Minutes >= 1 || v.Minutes <= -1 {
		parts = append(parts, fmt.Sprintf("%.0f min", v.Minutes))
	}
	add(float64(v.Setups), Counted(v.Setups, "setup", "setups"))
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, ", ")
}

// sacrifice is what the maker gives up.
func sacrifice(o *orders.Order, c *improve.Change, w Words) string {
	switch c.Kind {
	case improve.Heights, improve.Lengths:
		return "the size changes by " + w.Len(c.Moves)
	case improve.Woods:
		return "another wood"
	case improve.Bottoms:
		return "another bottom"
	case improve.Grain:
		return "the grain does not run around the corners"
	case improve.Spares:
		return "nothing in reserve if a part is spoiled"
	case improve.Stacks:
		return "more boards lost if a count is lost"
	case improve.Tools:
		return "a change of tools"
	case improve.Counts:
		if c.Boxes > 0 {
			return "one more box to sell"
		}
		return "one box fewer"
	}
	return ""
}
