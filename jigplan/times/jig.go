package times

import (
	"batchwright/jigplan"
	"batchwright/orders/settings"
)

// StackMinutes is how long one end of a stack takes with program p, from
// loading to winding back to zero:
//
//	load + cuts x pass + turns x (forward + return) + slots x verify
//
// A card that is cut twice takes all but the load once more, and a shim.
func StackMinutes(p jigplan.Program, t settings.Times) float64 {
	turns := p.ReturnTurns.Float()
	card := float64(p.TotalCuts)*t.CutPass + turns*(t.ForwardTurn+t.ReturnTurn) + float64(len(p.Slots))*t.VerifySlot
	passes := float64(p.Passes())
	return round((t.LoadStack + passes*card + (passes-1)*t.ChangeSpacer) / 60)
}

// Stacks sets the minutes of every stack.
func Stacks(stacks []jigplan.Stack, setups []jigplan.Setup, programs []jigplan.Program, t settings.Times) {
	of := programOfSetup(setups, programs)
	for i := range stacks {
		stacks[i].Minutes = StackMinutes(of[stacks[i].Setup], t)
	}
}

func programOfSetup(setups []jigplan.Setup, programs []jigplan.Program) map[string]jigplan.Program {
	byID := map[string]jigplan.Program{}
	for _, p := range programs {
		byID[p.ID] = p
	}
	of := map[string]jigplan.Program{}
	for _, s := range setups {
		of[s.ID] = byID[s.Program]
	}
	return of
}

func (s *sheet) jig(in Input) {
	var cuts, turns, slots float64
	of := programOfSetup(in.Setups, in.Programs)
	for _, stack := range in.Stacks {
		p := of[stack.Setup]
		passes := float64(p.Passes())
		cuts += passes * float64(p.TotalCuts)
		turns += passes * p.ReturnTurns.Float()
		slots += passes * float64(len(p.Slots))
		s.shims += passes - 1
	}
	s.add("Load stack end", float64(len(in.Stacks)), s.times.LoadStack)
	s.add("Cut pass", cuts, s.times.CutPass)
	s.add("Forward turn", turns, s.times.ForwardTurn)
	s.add("Verify slot", slots, s.times.VerifySlot)
	s.add("Return turn", turns, s.times.ReturnTurn)
}

// changeovers counts what is done between setups, by the setting that times it.
func (s *sheet) changeovers(q jigplan.Sequence) {
	count := map[string]float64{}
	for _, c := range q.Changes {
		for _, name := range c.Elements {
			count[name]++
		}
	}
	s.add("Change rod", count["Change rod"], s.times.ChangeRod)
	s.add("Change blade", count["Change blade"], s.times.ChangeBlade)
	s.add("Change height", count["Change height"], s.times.ChangeHeight)
	s.add("Change spacer", count["Change spacer"]+s.shims, s.times.ChangeSpacer)
	s.add("Change card", count["Change card"], s.times.ChangeCard)
	s.add("Test corner", count["Test corner"], s.times.TestCorner)
}
