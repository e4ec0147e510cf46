package main

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// BenchmarkByHand measures a plan against what a careful person does with the
// same order and boards (common practice): a board is crosscut clear of its
// defects; the parts, matched runs whole, are taken in a fixed order, and each is
// cut from the smallest clear piece already opened that holds it, a piece keeping
// to one thickness; else a board is opened that holds it, rack before yard. All
// of it is done with the longest, the widest and the largest part first, opening
// the board that costs least or that costs least for its size, and the cheapest
// is kept, wood by wood, ripped first, crosscut first, or whichever leaves the
// larger piece. Then the hand looks whether one board of a wood could be
// left on the rack, the dearest first, and does all of it again without it, until
// none can. The hand may plane short pieces, which the plan may not.
func BenchmarkByHand(b *testing.B) {
	for _, name := range []string{"demo.xlsx", "metric.xlsx"} {
		b.Run(name, func(b *testing.B) {
			data, err := os.ReadFile(filepath.Join(ordersFolder, name))
			if err != nil {
				b.Fatal(err)
			}
			o, err := intake.Read(name, data, settings.Default())
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				p, err := plan.Plan(o, plan.Options{Limits: nesting.Limits{Seed: 1, Think: 5 * time.Second}, Partial: true})
				if err != nil {
					b.Fatal(err)
				}
				hand, missing := byHand(p.Parts, o)
				b.ReportMetric(float64(p.Layout.Cost)/100, "cost")
				b.ReportMetric(float64(p.Layout.CostBound)/100, "bound")
				b.ReportMetric(float64(hand)/100, "hand")
				b.ReportMetric(float64(missing), "hand-short")
				b.ReportMetric(float64(len(p.Layout.Short)), "short")
			}
		})
	}
}

// blank is what is cut as one: a part, or a matched run end to end.
type blank struct {
	wood        string
	thick, l, w measure.Length
	turn        bool
}

func blanksOf(parts []orders.Part, s *settings.Shop) (out []blank) {
	at := map[string]int{}
	for _, part := range parts {
		if i, known := at[part.Run]; known && part.Run != "" {
			out[i].l += s.CrosscutKerf + part.CutLength
			out[i].w = max(out[i].w, part.CutWidth)
			continue
		}
		at[part.Run] = len(out)
		out = append(out, blank{woods.Key(part.Wood), part.Thickness, part.CutLength, part.CutWidth,
			part.Run == "" && part.Grain == orders.EitherWay})
	}
	return out
}

// byHand adds up the woods, each planned the best of the ways, and counts the
// blanks that found no board.
func byHand(parts []orders.Part, o *orders.Order) (cost measure.Money, missing int) {
	byWood := map[string][]blank{}
	for _, r := range blanksOf(parts, &o.Settings) {
		byWood[r.wood] = append(byWood[r.wood], r)
	}
	for _, list := range byWood {
		c, m := withoutAny(list, append(slices.Clone(o.Rack), o.Yard...), &o.Settings)
		cost, missing = cost+c, missing+m
	}
	return cost, missing
}

// withoutAny leaves one board after another out while that costs less.
func withoutAny(list []blank, boards []orders.Board, s *settings.Shop) (measure.Money, int) {
	cost, missing := bestWay(list, boards, s)
	slices.SortStableFunc(boards, func(a, b orders.Board) int {
		first, _ := a.Worth(s)
		second, _ := b.Worth(s)
		return cmp.Compare(second, first)
	})
	for i := 0; i < len(boards); i++ {
		if boards[i].Count <= 0 && !boards[i].Unlimited {
			continue
		}
		fewer := slices.Clone(boards)
		if fewer[i].Unlimited {
			fewer[i].Unlimited = false
			fewer[i].Count = 0
		} else {
			fewer[i].Count--
		}
		if c, m := bestWay(list, fewer, s); m < missing || m == missing && c < cost {
			boards, cost, missing, i = fewer, c, m, -1
		}
	}
	return cost, missing
}

func bestWay(list []blank, boards []orders.Board, s *settings.Shop) (measure.Money, int) {
	ways := []func(r blank) measure.Length{
		func(r blank) measure.Length { return r.l },
		func(r blank) measure.Length { return r.w },
		func(r blank) measure.Length { return r.l / 1024 * (r.w / 1024) },
	}
	cost, missing := measure.Money(0), -1
	for _, way := range ways {
		slices.SortStableFunc(list, func(a, b blank) int { return cmp.Compare(way(b), way(a)) })
		for _, bySize := range []bool{false, true} {
			for _, first := range []nesting.CutKind{nesting.Rip, nesting.Crosscut, ""} {
				if c, m := handPlan(list, slices.Clone(boards), s, bySize, first); missing < 0 || m < missing || m == missing && c < cost {
					cost, missing = c, m
				}
			}
		}
	}
	return cost, missing
}

// clearPiece is clear wood that lies on the bench; thick is 0 until it is given to
// a thickness.
type clearPiece struct {
	wood         string
	thick, yield measure.Length
	sheet        bool
	l, w         measure.Length
}

func handPlan(list []blank, boards []orders.Board, s *settings.Shop, bySize bool, first nesting.CutKind) (cost measure.Money, missing int) {
	var bench []clearPiece
	for _, r := range list {
		i := bestPiece(bench, r)
		if i < 0 {
			opened, price := openBoard(boards, r, s, bySize)
			if opened == nil {
				missing++
				continue
			}
			cost += price
			bench = append(bench, opened...)
			i = bestPiece(bench, r)
		}
		rest := cutFrom(bench[i], r, s, first)
		bench = append(slices.Delete(bench, i, i+1), rest...)
	}
	return cost, missing
}

func (p clearPiece) holds(r blank) bool {
	planed := p.thick == r.thick || p.thick == 0 && (p.yield == r.thick || !p.sheet && p.yield > r.thick)
	return p.wood == r.wood && planed && (p.l >= r.l && p.w >= r.w || r.turn && p.l >= r.w && p.w >= r.l)
}

// bestPiece is the smallest piece on the bench that holds the blank.
func bestPiece(bench []clearPiece, r blank) int {
	best := -1
	for i, p := range bench {
		if p.holds(r) && (best < 0 || p.l.Times(p.w).Cmp(bench[best].l.Times(bench[best].w)) < 0) {
			best = i
		}
	}
	return best
}

// openBoard takes the cheapest board that holds the blank, or the cheapest for its
// size, rack before yard, and crosscuts it clear of its defects.
func openBoard(boards []orders.Board, r blank, s *settings.Shop, bySize bool) ([]clearPiece, measure.Money) {
	best, price, rate, pieces := -1, measure.Money(0), 0.0, []clearPiece(nil)
	for i, b := range boards {
		if b.Count <= 0 && !b.Unlimited || woods.Key(b.Wood) != r.wood {
			continue
		}
		list := clearPieces(b, s)
		worth, _ := b.Worth(s)
		fits := slices.ContainsFunc(list, func(p clearPiece) bool { return p.holds(r) })
		each := float64(worth)
		if bySize {
			each /= b.Length.Times(b.Width).SquareMillimetres()
		}
		if fits && (best < 0 || fromYard(b) == fromYard(boards[best]) && each < rate) {
			best, price, rate, pieces = i, worth, each, list
		}
	}
	if best < 0 {
		return nil, 0
	}
	boards[best].Count--
	return pieces, price
}

func fromYard(b orders.Board) bool { return b.Origin == orders.FromYard }

// clearPieces is a board without its raw ends and edges, crosscut on either side
// of every defect.
func clearPieces(b orders.Board, s *settings.Shop) (out []clearPiece) {
	end, edge := s.EndTrim, s.EdgeTrim
	if b.Origin == orders.FromOffcut {
		end, edge = 0, 0
	}
	at := end
	defects := slices.Clone(b.Defects)
	slices.SortFunc(defects, func(a, c orders.Defect) int { return cmp.Compare(a.X, c.X) })
	add := func(to measure.Length) {
		if to-at >= s.ShortestMachine || b.Sheet && to > at {
			out = append(out, clearPiece{wood: woods.Key(b.Wood), yield: b.Yields(s), sheet: b.Sheet, l: to - at, w: b.Width - 2*edge})
		}
	}
	for _, d := range defects {
		add(min(d.X, b.Length-end))
		at = max(at, d.X+d.Length)
	}
	add(b.Length - end)
	return out
}

// cutFrom cuts a blank from a piece and gives back what is left. Ripped first
// that is a strip as long as the piece and the end of the blank's own; crosscut
// first an end as wide as the piece, still rough if the piece was and long enough
// to be planed, and what is left beside the blank. With no way said, it is
// whichever leaves the larger piece.
func cutFrom(p clearPiece, r blank, s *settings.Shop, first nesting.CutKind) []clearPiece {
	l, w := r.l, r.w
	if p.l < l || p.w < w {
		l, w = w, l
	}
	beside, tail := p, p
	beside.w, tail.l = max(0, p.w-w-s.RipKerf), max(0, p.l-l-s.CrosscutKerf)
	if first == "" && p.l.Times(beside.w).Cmp(tail.l.Times(p.w)) < 0 {
		first = nesting.Crosscut
	}
	if first == nesting.Crosscut {
		beside.l, beside.thick = l, r.thick
		if l < s.ShortestMachine || tail.l < s.ShortestMachine {
			tail.thick = r.thick
		}
	} else {
		tail.w, tail.thick, beside.thick = w, r.thick, r.thick
	}
	return slices.DeleteFunc([]clearPiece{beside, tail}, func(c clearPiece) bool { return c.l <= 0 || c.w <= 0 })
}
