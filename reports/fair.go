package reports

import (
	"fmt"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// FairSummary is a fair for a screen.
func FairSummary(f *jigplan.Fair) []Table {
	var out []Table
	if text := LossText(f); text != "" {
		out = append(out, Table{Notes: []string{text}})
	}
	if found := NotNotes(f.Findings); len(found) > 0 {
		out = append(out, FindingTable(found))
	}
	out = append(out, FairMix(f), FairFacts(f), FairLimits(f))
	if len(f.Past) > 0 {
		out = append(out, FairPast(f))
	}
	return out
}

// LossText says that the fair does not pay as planned, and what would make it
// pay; empty: it pays.
func LossText(f *jigplan.Fair) string {
	u, r := f.Order.Settings.Units, &f.Order.Settings.Rates
	loss := f.Fixed - f.Expected
	if loss <= 0 {
		return ""
	}
	text := fmt.Sprintf("This fair loses %s as planned. Do not go, or ", InUnit(loss, f.Order.Settings.Currency, u))
	var ways []string
	if f.Even > 0 && f.Sold > 0 {
		ways = append(ways, fmt.Sprintf("sell at least %s of this mix instead of %s", Counted(f.Even, "box", "boxes"), u.Number(f.Sold, 2)))
	}
	if f.Sold > 0 {
		ways = append(ways, fmt.Sprintf("charge about %s more for each box", u.Mark(loss.Per(f.Sold).String())))
	}
	if r.StallCost+r.TravelCost >= loss {
		ways = append(ways, fmt.Sprintf("bring Booth fee and Travel cost down by %s", u.Mark(loss.String())))
	}
	if len(ways) == 0 {
		ways = append(ways, "find boxes that sell: none is brought")
	}
	return text + strings.Join(ways, ", or ") + "."
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
	t := Table{Title: "What to bring to " + FairName(f), Head: []string{"Box", "Wood", "Make", "Finish half-made", "From stock", "Bring", "Price", "Alone", "Why none"}, Numbers: []int{2, 3, 4, 5, 6, 7}}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		why := ""
		if s.Brought() == 0 {
			why, _, _ = strings.Cut(s.Why, ";")
		}
		t.Add(s.Name, s.Wood, s.New, s.Half, s.Made, s.Brought(), s.Price.In(f.Order.Settings.Units), s.Alone, why)
	}
	t.Note("Alone: how many to bring if nothing were shared (newsvendor rule, whole boxes). From stock: finished boxes on hand.")
	return t
}

// FairFacts is the fair in money and dates.
func FairFacts(f *jigplan.Fair) Table {
	s, u := &f.Order.Settings, f.Order.Settings.Units
	t := Table{Title: "The fair", Head: []string{"", ""}}
	t.Add("The boxes earn", Money(s, f.Expected)+" on average, after wood, supplies and card fee")
	t.Add("Booth, travel, hours at the booth", Money(s, f.Fixed))
	t.Add("Expected profit", profitText(f))
	t.Add("Chance that it pays", chanceText(f.Pays, u))
	takings := Money(s, f.Revenue)
	if s.Rates.TaxInside() {
		takings += " without " + s.Rates.TaxName
	}
	t.Add("Sold", fmt.Sprintf("%s boxes on average, for %s", s.Units.Number(f.Sold, 2), takings))
	if f.Together != 0 {
		t.Add("Nested together", togetherText(f))
	}
	t.Add("Break-even", evenText(f))
	if wanted := f.Order.Settings.Rates.ProfitWanted; wanted > 0 {
		t.Add("To earn "+Money(s, wanted), earnText(f))
	}
	t.Add("How good", boundText(f))
	if !f.Ready.IsZero() {
		t.Add("Ready by", "the evening of "+u.LongDate(f.Ready.AddDate(0, 0, -1)))
		t.Add("Last day to start a box", lastText(f.LastMill, u))
		t.Add("Last day to glue up", lastText(f.LastGlue, u))
	}
	return t
}

func evenText(f *jigplan.Fair) string {
	switch {
	case f.Fixed == 0:
		return "no Booth fee, Travel cost or Booth hours are set: the first box sold"
	case f.Even == 0:
		return "these boxes can never pay for it"
	}
	return Counted(f.Even, "box", "boxes") + " of this mix"
}

func earnText(f *jigplan.Fair) string {
	switch {
	case f.Target == 0:
		return "these boxes never earn it"
	case float64(f.Target) > f.Sold:
		return fmt.Sprintf("%s of this mix, and %s are sold on average: too few", Counted(f.Target, "box", "boxes"), f.Order.Settings.Units.Number(f.Sold, 1))
	}
	return Counted(f.Target, "box", "boxes") + " of this mix"
}

// profitText is the profit, what an hour of making earns of it, and its spread.
func profitText(f *jigplan.Fair) string {
	profit, s := f.Expected-f.Fixed, &f.Order.Settings
	text := Money(s, profit) + " on average, give or take " + f.Spread.In(s.Units)
	if f.Hours < 0.05 {
		return text
	}
	return text + fmt.Sprintf("; the %s hours of making are paid out of it: %s an hour", s.Units.Number(f.Hours, 1), Money(s, profit.Per(f.Hours)))
}

func chanceText(chance float64, u measure.Unit) string {
	switch percent := 100 * chance; {
	case percent > 99:
		return "over " + u.Percent(99, 0)
	case percent < 1:
		return "under " + u.Percent(1, 0)
	default:
		return u.Percent(percent, 0)
	}
}

func togetherText(f *jigplan.Fair) string {
	less, word := f.Together, "less"
	if less < 0 {
		less, word = -less, "more"
	}
	return fmt.Sprintf("wood and supplies of the batch come to %s %s than box by box; counted above", less.In(f.Order.Settings.Units), word)
}

// boundText says how good the mix is, and how much better one could be at most.
func boundText(f *jigplan.Fair) string {
	text := "no better mix was found under these limits"
	if f.Proven {
		text = "best mix within these limits, at what each box costs and takes by itself"
	}
	if f.Bound > f.Expected {
		text += fmt.Sprintf("; however well a mix is nested and shares its setups, the most it can earn is %s", f.Bound.In(f.Order.Settings.Units))
	}
	return text + fmt.Sprintf(". Demand alone would allow %s. Nested and put on the clock for real, in %s", f.Free.In(f.Order.Settings.Units), Counted(f.Rounds, "round", "rounds"))
}

func lastText(day time.Time, u measure.Unit) string {
	if day.IsZero() {
		return "it is too late for one"
	}
	return u.LongDate(day)
}

// FairLimits is what is shared, what is left of it, and what one more brings.
func FairLimits(f *jigplan.Fair) Table {
	t := Table{Title: "What limits", Head: []string{"Limit", "There is", "Used", "Limits", "Would bring", "One more"}}
	unit := f.Order.Settings.Units
	for _, l := range f.Limits {
		has, needs := limitText(l.Has, l.Unit, unit), limitText(l.Needs, l.Unit, unit)
		binds, worth := "", "nothing"
		if l.Binds {
			binds, worth = "yes", "+"+l.Worth.In(unit)
		}
		if l.Before > l.Has*1.001+1e-9 {
			has += " usable of " + limitText(l.Before, l.Unit, unit)
		}
		t.Add(l.Name, has, needs, binds, worth, l.More)
	}
	if len(f.Limits) == 0 {
		t.Note("Only demand limits: no date is set, no boards are given, and booth and vehicle have no limit.")
		return t
	}
	t.Note("Usable: what the mix can really use; cures, drying and board shapes leave the rest unused.")
	if names := atDemand(f); len(names) > 0 {
		t.Note("Demand limits " + strings.Join(names, ", ") + ": more of them would not sell often enough.")
	}
	return t
}

func limitText(amount float64, of string, unit measure.Unit) string {
	switch of {
	case "min":
		return Hours(amount)
	case "m2":
		return unit.Number(amount, 2) + " m2"
	}
	return fmt.Sprintf("%.0f %s", amount, of)
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

// FairPast is what earlier fairs sold of the boxes of the catalog, and what
// that makes of the guesses.
func FairPast(f *jigplan.Fair) Table {
	t := Table{Title: "Sold before", Head: []string{"Box", "Fair", "Day", "Brought", "Sold", "Left", "Guess", "Now"}, Numbers: []int{3, 4, 5}}
	for _, p := range f.Past {
		guess, now := "", ""
		for i := range f.Stalls {
			if s := &f.Stalls[i]; s.Line == p.Line {
				guess, now = f.Order.Settings.Units.Number(s.Guess, 1), demandText(s, f.Order.Settings.Units)
			}
		}
		left := fmt.Sprint(p.Brought - p.Sold)
		if p.Sold == p.Brought {
			left = "sold out"
		}
		t.Add(f.Order.Candidates[p.Line].Name, p.Fair, f.Order.Settings.Units.Date(p.Day), p.Brought, p.Sold, left, guess, now)
	}
	t.Note(fmt.Sprintf("The demand estimate counts as %g fairs beside these (Weight of the demand estimate). A sold-out fair counts as the average demand of at least that many.", f.Order.Settings.Rates.GuessWeighs))
	return t
}

func demandText(s *jigplan.Stall, unit measure.Unit) string {
	if s.Poisson {
		return unit.Number(s.Mean, 1) + " (Poisson)"
	}
	return fmt.Sprintf("%s, give or take %s", unit.Number(s.Mean, 1), unit.Number(s.Spread, 1))
}

// FairCount is the page to tick at the booth, and what is typed afterwards.
func FairCount(f *jigplan.Fair) Table {
	t := Table{Title: "Sold at " + FairName(f), Head: []string{"Box", "Wood", "Price", "Brought", "Tally", "Sold", "Left"}, Numbers: []int{2, 3}}
	for i := range f.Stalls {
		if s := &f.Stalls[i]; s.Brought() > 0 {
			t.Add(s.Name, s.Wood, s.Price.In(f.Order.Settings.Units), s.Brought(), "", "", "")
		}
	}
	t.Note("Afterwards: fill in Sold or Left and give this workbook to batchwright log sold; or log left \"BOX, WOOD=LEFT\" for what came home (what is not named was sold out). The next fair starts from it. The fair is known if fair --give-out kept the mix; otherwise name it with --fair and --date.")
	return t
}

// TagText says on a price tag what the box is.
func TagText(s *jigplan.Stall, w Words) string {
	text := s.Wood
	if s.Box.Finish != "" {
		text += ", " + s.Box.Finish
	}
	return fmt.Sprintf("%s; %s x %s x %s", text, w.Bare(s.Box.Length), w.Bare(s.Box.Width), w.Len(s.Box.Height))
}
