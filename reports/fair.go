package reports

import (
	"fmt"
	"strings"
	"time"

	"batchwright/jigplan"
)

// FairSummary is a fair for a screen.
func FairSummary(f *jigplan.Fair) []Table {
	var out []Table
	if found := NotNotes(f.Problems); len(found) > 0 {
		out = append(out, ProblemTable(found))
	}
	return append(out, FairMix(f), FairFacts(f), FairLimits(f))
}

// FairName is the fair's name, or just that.
func FairName(f *jigplan.Fair) string {
	if name := f.Order.Settings.Rates.FairName; name != "" {
		return name
	}
	return "the fair"
}

// FairMix is what is brought, a box and wood a row.
func FairMix(f *jigplan.Fair) Table {
	t := Table{Title: "What to bring to " + FairName(f), Head: []string{"Box", "Wood", "Make", "Finish half-made", "From hand", "Bring", "Price", "Alone", "Why none"}, Numbers: []int{2, 3, 4, 5, 7}}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		why := ""
		if s.Brought() == 0 {
			why = s.Why
		}
		t.Add(s.Name, s.Wood, s.New, s.Half, s.Made, s.Brought(), s.Price.String(), s.Alone, why)
	}
	t.Note("Alone: what would be brought if nothing were shared, by the newsvendor rule on whole boxes (demand cut at the halves).")
	return t
}

// FairFacts is the fair in money and dates.
func FairFacts(f *jigplan.Fair) Table {
	cur := f.Order.Settings.Currency
	t := Table{Title: "The fair", Head: []string{"", ""}}
	t.Add("The boxes bring", Amount(f.Expected, cur)+" on average, after wood, supplies and card fee, over leaving at home what is there")
	t.Add("Stall, travel, hours at the stand", Amount(f.Fixed, cur))
	t.Add("Expected profit", fmt.Sprintf("%s for %.1f hours of making; give or take %s", Amount(f.Expected-f.Fixed, cur), f.Hours, f.Spread))
	t.Add("Chance that it pays", fmt.Sprintf("%.0f %%", 100*f.Pays))
	t.Add("Sold", fmt.Sprintf("%.1f boxes on average, for %s", f.Sold, Amount(f.Revenue, cur)))
	t.Add("Break-even", evenText(f))
	if wanted := f.Order.Settings.Rates.ProfitWanted; wanted > 0 {
		t.Add("To earn "+Amount(wanted, cur), earnText(f))
	}
	t.Add("How good", boundText(f))
	if !f.Ready.IsZero() {
		t.Add("Ready by", "the evening of "+f.Ready.AddDate(0, 0, -1).Format("Mon 2 Jan 2006"))
		t.Add("Begin no new box after", lastText(f.LastMill))
		t.Add("Glue no box after", lastText(f.LastGlue))
	}
	return t
}

func evenText(f *jigplan.Fair) string {
	switch {
	case f.Fixed == 0:
		return "no Stall cost, Travel cost or Stand hours are set: the first box sold"
	case f.Even == 0:
		return "these boxes never pay for it"
	}
	return Counted(f.Even, "box", "boxes") + " of this mix"
}

func earnText(f *jigplan.Fair) string {
	switch {
	case f.Target == 0:
		return "these boxes never earn it"
	case float64(f.Target) > f.Sold:
		return fmt.Sprintf("%s of this mix, and %.1f are sold on average: too few", Counted(f.Target, "box", "boxes"), f.Sold)
	}
	return Counted(f.Target, "box", "boxes") + " of this mix"
}

func boundText(f *jigplan.Fair) string {
	text := fmt.Sprintf("as the limits were reckoned no mix brings more than %s", f.Bound)
	if f.Proven {
		text = "as the limits were reckoned no mix brings more"
	}
	return text + fmt.Sprintf("; demand alone would allow %s. Nested and put on the clock for real, in %s", f.Free, Counted(f.Rounds, "round", "rounds"))
}

func lastText(day time.Time) string {
	if day.IsZero() {
		return "it is too late for one"
	}
	return day.Format("Mon 2 Jan 2006")
}

// FairLimits is what is shared, what is left of it, and what one more brings.
func FairLimits(f *jigplan.Fair) Table {
	t := Table{Title: "What limits", Head: []string{"Limit", "There is", "Used", "Limits", "Would bring", "One more"}}
	for _, l := range f.Limits {
		has, needs := limitText(l.Has, l.Unit), limitText(l.Needs, l.Unit)
		binds, worth := "", "nothing"
		if l.Binds {
			binds, worth = "yes", "+"+l.Worth.String()
		}
		if l.Before > l.Has*1.001+1e-9 {
			has += " usable of " + limitText(l.Before, l.Unit)
		}
		t.Add(l.Name, has, needs, binds, worth, l.More)
	}
	t.Note("Usable: cures and drying leave no use for the rest of the hours, or shapes for the rest of the boards; found by planning the mix for real.")
	if names := atDemand(f); len(names) > 0 {
		t.Note("Demand limits " + strings.Join(names, ", ") + ": more of them would not sell often enough.")
	}
	return t
}

func limitText(amount float64, unit string) string {
	if unit == "min" {
		return Hours(amount)
	}
	if unit == "m2" {
		return fmt.Sprintf("%.2f m2", amount)
	}
	return fmt.Sprintf("%.0f %s", amount, unit)
}

// atDemand are the boxes of which as many are brought as demand allows.
func atDemand(f *jigplan.Fair) (names []string) {
	brought, alone := map[int]int{}, map[int]int{}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		brought[s.Line] += s.Brought()
		alone[s.Line] = max(alone[s.Line], s.Alone)
	}
	seen := map[int]bool{}
	for i := range f.Stalls {
		if line := f.Stalls[i].Line; !seen[line] && brought[line] > 0 && brought[line] >= alone[line] {
			seen[line] = true
			names = append(names, f.Stalls[i].Name)
		}
	}
	return names
}

// TagText says on a price tag what the box is.
func TagText(s *jigplan.Stall, w Words) string {
	text := s.Wood
	if s.Box.Finish != "" {
		text += ", " + s.Box.Finish
	}
	return fmt.Sprintf("%s; %s x %s x %s", text, w.Bare(s.Box.Length), w.Bare(s.Box.Width), w.Len(s.Box.Height))
}
