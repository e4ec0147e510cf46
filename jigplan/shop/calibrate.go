package shop

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// enoughLogs is how many logs of an element calibrate it (common practice).
const enoughLogs = 5

// Factors outside these bounds say more about the logs than about the work
// (common practice).
const minFactor, maxFactor = 0.5, 2.0

// StackEnd is the element that covers a whole stack end at the jig: loading,
// cuts, turns, checks and winding back.
const StackEnd = "Stack end"

// stackElements are the settings that time a stack end.
var stackElements = []string{"Load stack end", "Cut pass", "Forward turn", "Verify slot", "Return turn"}

// Factor is what the logs say of one element: by how much its time differs
// from the setting.
type Factor struct {
	Element string
	Logs    int
	Median  float64 // of actual over planned, before clipping
	Factor  float64 // the median within 0.5 to 2
	Spread  float64 // relative: the middle half's width over 1.349, of the logarithms; a standard deviation when they are normal
	Boards  int     // of a stack end: the stack size whose logs were taken, as sizes are never mixed
}

// Calibration gives the factors of all elements with at least five logs.
func Calibration(tx *Tx) ([]Factor, error) {
	logs, err := TimeLogs(tx, 0)
	if err != nil {
		return nil, err
	}
	ratios := map[string]map[int][]float64{}
	for _, l := range logs {
		if l.Dropped || l.Base <= 0 {
			continue
		}
		if ratios[l.Element] == nil {
			ratios[l.Element] = map[int][]float64{}
		}
		size := 0
		if l.Element == StackEnd {
			size = l.Boards
		}
		ratios[l.Element][size] = append(ratios[l.Element][size], l.Actual/l.Base)
	}
	var out []Factor
	for element, sizes := range ratios {
		best := Factor{Element: element}
		for size, list := range sizes {
			if len(list) > best.Logs || len(list) == best.Logs && size < best.Boards {
				best = factorOf(element, list)
				best.Boards = size
			}
		}
		if best.Logs >= enoughLogs {
			out = append(out, best)
		}
	}
	slices.SortFunc(out, func(a, b Factor) int { return settingPlace(a.Element) - settingPlace(b.Element) })
	return out, nil
}

func factorOf(element string, ratios []float64) Factor {
	logs := make([]float64, len(ratios))
	for i, r := range ratios {
		logs[i] = math.Log(r)
	}
	slices.Sort(logs)
	median := math.Exp(quantile(logs, 0.5))
	return Factor{Element: element, Logs: len(ratios), Median: median,
		Factor: min(max(median, minFactor), maxFactor),
		Spread: (quantile(logs, 0.75) - quantile(logs, 0.25)) / 1.349}
}

// quantile of sorted values, linear between neighbours (Hyndman and Fan's
// type 7, The American Statistician 50, 1996).
func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	low := int(at)
	if low+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[low] + (at-float64(low))*(sorted[low+1]-sorted[low])
}

// Calibrate multiplies the element times of s by the factors, and sets the
// spread of the pace to what the logs show: the schedule's P50 and the quote's
// P80 follow from both. The values written are those of the shop; an order's
// own Shop sheet starts from the defaults and is not touched.
func Calibrate(s *settings.Shop, factors []Factor) error {
	spread := 0.0
	for _, f := range factors {
		elements := settings.Timed(f.Element)
		if f.Element == StackEnd {
			elements = stackElements
		}
		for _, name := range elements {
			if err := scale(s, name, f); err != nil {
				return err
			}
		}
		spread += f.Spread / float64(len(factors))
	}
	if len(factors) == 0 {
		return nil
	}
	source := orders.Source{Sheet: settings.ShopFileSheet, Cell: fmt.Sprintf("the logs of %d elements", len(factors))}
	return s.Set("Pace spread", strconv.FormatFloat(100*spread, 'f', 2, 64), settings.Entry{Source: source})
}

func scale(s *settings.Shop, name string, f Factor) error {
	for _, d := range settings.Definitions {
		seconds, ok := d.Value(s).(float64)
		if d.Name != name || !ok {
			continue
		}
		source := orders.Source{Sheet: settings.ShopFileSheet, Cell: fmt.Sprintf("%d logs", f.Logs)}
		return s.Set(name, strconv.FormatFloat(seconds*f.Factor, 'f', 3, 64), settings.Entry{Source: source})
	}
	return nil
}

// FactorsByElement is what a revision keeps of a calibration.
func FactorsByElement(factors []Factor) map[string]float64 {
	out := map[string]float64{}
	for _, f := range factors {
		names := append([]string{f.Element}, settings.Timed(f.Element)...)
		if f.Element == StackEnd {
			names = append(names, stackElements...)
		}
		for _, name := range names {
			out[name] = f.Factor
		}
	}
	return out
}
