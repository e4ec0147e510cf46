// Package times says how long a batch takes: elements of work times their
// counts, with allowances and the spread of the whole. It leaves the plan it
// times to the packages that made it, and days and people to schedule.
package times

import (
	"math"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
)

// Input is the plan to be timed.
type Input struct {
	Boxes    []orders.Box // Order.Boxes, which Part.Line counts
	Parts    []orders.Part
	Layout   nesting.Layout
	Programs []jigplan.Program
	Setups   []jigplan.Setup
	Stacks   []jigplan.Stack
	Sequence jigplan.Sequence
	Settings *settings.Shop
}

// Estimate times a plan. Boxes with a part that lies on no board are not
// built and not counted. Every element is rounded to a thousandth of a minute
// and Minutes is their exact sum.
func Estimate(in Input) jigplan.Time {
	s := &sheet{times: in.Settings.Times, settings: in.Settings}
	s.resawing(in)
	s.milling(in)
	s.sawing(in)
	s.panelGlueing(in)
	s.jig(in)
	s.changeovers(in.Sequence)
	s.handWork(in)
	return s.close()
}

// sheet collects the elements of an estimate.
type sheet struct {
	times    settings.Times
	settings *settings.Shop
	elements []jigplan.Element
	seconds  float64
	shims    float64 // put in for second passes
	variance float64 // of the sum, in seconds squared
}

// add notes work done count times, each taking so many seconds.
func (s *sheet) add(name string, count, each float64) {
	s.addUneven(name, count, each, count*each, count*each*each)
}

// addUneven notes work whose repetitions take different times: their sum, and
// the sum of their squares. Each is 0 when there is no one time for all.
func (s *sheet) addUneven(name string, count, each, seconds, squares float64) {
	if seconds <= 0 {
		return
	}
	spread := s.times.SpreadPercent / 100
	s.seconds += seconds
	s.variance += spread * spread * squares
	s.elements = append(s.elements, jigplan.Element{Name: name, Count: count, Each: each, Minutes: round(seconds / 60), Source: s.source(name)})
}

// source is the cell that set an element's time, or where the default is from.
func (s *sheet) source(name string) string {
	if s.settings.Given(name) {
		return s.settings.Source(name).String()
	}
	return "common practice"
}

// close puts the allowance on the work and adds up.
func (s *sheet) close() jigplan.Time {
	extra := Standard(s.seconds, s.times) - s.seconds
	if extra > 0 {
		s.elements = append(s.elements, jigplan.Element{Name: "Allowance", Minutes: round(extra / 60), Source: s.source("Allowance")})
	}
	thousandths := 0.0
	for _, e := range s.elements {
		thousandths += math.Round(e.Minutes * 1000)
	}
	t := jigplan.Time{Minutes: thousandths / 1000, Elements: s.elements, Sigma: sigma(s.seconds, s.variance, s.times)}
	if t.Elements == nil {
		t.Elements = []jigplan.Element{}
	}
	t.P80Minutes = round(Quantile(t, 0.8))
	return t
}

func round(minutes float64) float64 { return math.Round(minutes*1000) / 1000 }
