package joint

import (
	"fmt"
	"math"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Habits is how exactly a shop works. Half-widths unless the name says other.
type Habits struct {
	LeadError     float64        // of the rod, as a share: 0.002 is 0.2 %
	HandleDegrees float64        // how far off its mark the handle may stop
	KerfSpread    measure.Length // how well the kerf is known
	RunOut        measure.Length // of the blade's rim: it only ever widens the kerf
	Backlash      measure.Length // of the nut
	Thickness     measure.Length // spread of the boards' thickness
}

// UsualHabits are common practice for a hardware-store rod and a careful
// maker; run-out as a workshop magazine gives for an arbor.
var UsualHabits = Habits{
	LeadError: 0.002, HandleDegrees: 10, KerfSpread: measure.Inch / 1000,
	RunOut: measure.Inch / 1000, Backlash: 5 * measure.Inch / 1000, Thickness: 5 * measure.Inch / 1000,
}

// Hazard is one cause of a fit other than planned.
type Hazard struct {
	Cause   string
	Low     float64 // change of the fit, ticks; 0 or less
	High    float64 // 0 or more
	Matters bool    // more than a fifth of the fit's whole range
	Say     string
}

// Budget is what a program's fit may come out as.
type Budget struct {
	Hazards             []Hazard
	WorstLow, WorstHigh float64 // ticks, everything at once in one direction
	Low, High           float64 // ticks, root of the squares: to be expected
}

// BudgetOf adds up what changes the fit: |dc| is at most 2 dk + 2 di + e m q for
// a kerf error dk, an index error di and a lead error e.
func BudgetOf(p jigplan.Program, h Habits, unit measure.Unit) Budget {
	lead, fit := p.Lead.Float(), p.Fit.Float()
	index := lead * h.HandleDegrees / 360
	mq := 2*float64(p.Kerf) - fit
	tallest := 0.0
	for _, height := range p.Heights {
		tallest = math.Max(tallest, float64(height.Height))
	}
	shift := h.LeadError * p.Spacer.Float()
	size := func(ticks float64) string { return say(measure.Length(math.Round(ticks)).Ratio(), unit) }
	b := Budget{Hazards: []Hazard{
		{Cause: "kerf", Low: -2 * float64(h.KerfSpread), High: 2 * float64(h.KerfSpread),
			Say: "measure the kerf in a test corner after every sharpening; the fit changes twice as much"},
		{Cause: "run-out", High: 2 * float64(h.RunOut), Say: "clean the flanges; runout widens every kerf"},
		{Cause: "handle", Low: -2 * index, High: 2 * index,
			Say: "stop on the mark; the error does not add up from slot to slot, because every stop is counted from home"},
		{Cause: "lead", Low: -h.LeadError * math.Abs(mq), High: h.LeadError * math.Abs(mq),
			Say: fmt.Sprintf("A and B cut together see only a shift of %s between them; boards turned edge for edge see %s", size(shift), size(h.LeadError*tallest))},
		{Cause: "backlash", Say: fmt.Sprintf("none when every stop is reached turning the same way; else up to %s: after an overshoot go back a full turn and come again", size(float64(h.Backlash)))},
		{Cause: "thickness", Say: fmt.Sprintf("none; it moves the fingers' ends by up to %s, which Proud must cover, and boards over %s apart do not clamp true", size(float64(h.Thickness)), size(5*float64(measure.Inch)/1000))},
	}}
	var low2, high2, all float64
	for _, z := range b.Hazards {
		b.WorstLow, b.WorstHigh = b.WorstLow+z.Low, b.WorstHigh+z.High
		low2, high2 = low2+z.Low*z.Low, high2+z.High*z.High
		all += z.High - z.Low
	}
	for i := range b.Hazards {
		b.Hazards[i].Matters = b.Hazards[i].High-b.Hazards[i].Low > all/5
	}
	b.WorstLow, b.WorstHigh = fit+b.WorstLow, fit+b.WorstHigh
	b.Low, b.High = fit-math.Sqrt(low2), fit+math.Sqrt(high2)
	return b
}
