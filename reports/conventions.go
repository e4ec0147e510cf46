package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// TimeRules says by which conventions the times are made. Two of each are in
// use under one name, so each is named with its formula and with what the
// other would make of the same figures.
func TimeRules(s *settings.Shop) Table {
	t, mark := &s.Times, s.Units.Mark
	out := Table{Title: "By which rules", Head: []string{"Rule", "As used here", "The other one in use"}}
	a := t.AllowancePercent / 100
	work := mark(fmt.Sprintf("of the work time: standard time = normal time x (1 + %.4g) = x %.3f", a, 1+a))
	shift := mark(fmt.Sprintf("of the shift: standard time = normal time / (1 - %.4g) = x %.3f", a, 1/(1-a)))
	if t.AllowanceOf == "shift" {
		work, shift = shift, work
	}
	of := mark(fmt.Sprintf("%.4g %% ", t.AllowancePercent))
	out.Add("Allowance", of+work, of+shift)
	unit, average := learnt(t)
	if t.LearningModel == "average" {
		unit, average = average, unit
	}
	out.Add("Learning model", mark(unit), mark(average))
	if t.AllowanceFor != "" {
		out.Note("The allowance adds up " + mark(t.AllowanceFor) + ".")
	}
	out.Note(mark(fmt.Sprintf("Allowance is of (work, shift) and Learning model (unit, average) choose between the two. Hand work on a box never takes less than %.4g%% of the first of its size (Learning floor).", 100*t.LearningFloor)))
	return out
}

// learnt is what either learning model makes of the tenth box.
func learnt(t *settings.Times) (unit, average string) {
	e := t.LearningExponent
	floored := func(share float64) string { return fmt.Sprintf("%.0f%%", 100*math.Max(share, t.LearningFloor)) }
	unit = fmt.Sprintf("unit (Crawford): box x of a size takes x to the power -%.4g of the first; the tenth %s", e, floored(math.Pow(10, -e)))
	average = fmt.Sprintf("average (Wright, 1936): the first x boxes take x to the power -%.4g of the first on average; the tenth alone %s", e,
		floored(math.Pow(10, 1-e)-math.Pow(9, 1-e)))
	return unit, average
}

// Allowances is the table of allowances by which the setting Allowance can be
// worked out, one line a group.
func Allowances(unit measure.Unit) Table {
	t := Table{Title: "Working out an allowance of your own", Head: []string{"Kind", "Conditions, in percent of the work time"}}
	for i := range settings.Relaxations {
		r := &settings.Relaxations[i]
		share := strconv.FormatFloat(r.Percent, 'f', -1, 64)
		if r.Most > r.Percent {
			share += " to " + strconv.FormatFloat(r.Most, 'f', -1, 64)
		}
		text := joined(": ", conditionIn(r.Condition, unit), unit.Mark(share))
		if n := len(t.Rows); n > 0 && t.Rows[n-1][0] == r.Group {
			t.Rows[n-1][1] += "; " + text
			continue
		}
		t.Add(r.Group, text)
	}
	t.Note("Recommended by the International Labour Organization, as printed with an operations textbook; personal needs and basic fatigue apply to everybody.")
	t.Note("As the setting Allowance: personal; basic fatigue; standing; noise intermittent loud. Kind and condition together are its name, one of a kind.")
	return t
}

// conditionIn is a condition of the table with its weight in the shop's unit:
// the table has pounds.
func conditionIn(condition string, unit measure.Unit) string {
	pounds, isWeight := strings.CutSuffix(condition, " lb")
	f, err := strconv.ParseFloat(pounds, 64)
	if !unit.Metric() || !isWeight || err != nil {
		return condition
	}
	return unit.Number(f*poundKg, 1) + " kg"
}
