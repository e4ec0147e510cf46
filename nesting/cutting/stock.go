package cutting

import (
	"cmp"
	"slices"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// stock is one line of boards, reduced to what may be used of them.
type stock struct {
	board   orders.Board
	wood    string
	pair    bool          // two leaves of one board: whatever lies on it is cut from both
	left    int           // boards of this line; meaningless when unlimited
	cost    measure.Money // what it counts for when plans are compared
	worth   measure.Money // its printed cost
	unsaid  bool          // to be bought, and nobody says for what
	yields  measure.Length
	sound   rect   // inside the raw ends and edges
	defects []rect // the part of each that lies on sound wood, by x0
}

// rect is half-open: two that share an edge do not overlap.
type rect struct{ x0, y0, x1, y1 measure.Length }

func (r rect) length() measure.Length { return r.x1 - r.x0 }
func (r rect) width() measure.Length  { return r.y1 - r.y0 }
func (r rect) empty() bool            { return r.x1 <= r.x0 || r.y1 <= r.y0 }

func (r rect) overlaps(s rect) bool {
	return r.x0 < s.x1 && s.x0 < r.x1 && r.y0 < s.y1 && s.y0 < r.y1
}

func (r rect) within(s rect) rect {
	return rect{max(r.x0, s.x0), max(r.y0, s.y0), min(r.x1, s.x1), min(r.y1, s.y1)}
}

// openStock lists rack, then yard.
func (p *problem) openStock() []stock {
	boards := make([]orders.Board, 0, len(p.job.Rack)+len(p.job.Yard))
	for _, b := range p.job.Rack {
		if b.Origin != orders.FromOffcut {
			b.Origin = orders.FromRack
		}
		boards = append(boards, b)
	}
	for _, b := range p.job.Yard {
		if b.Origin != orders.FromTypical {
			b.Origin = orders.FromYard
		}
		boards = append(boards, b)
	}
	stocks := make([]stock, 0, len(boards))
	for _, b := range boards {
		stocks = append(stocks, p.openBoard(b))
	}
	return stocks
}

func (p *problem) openBoard(b orders.Board) stock {
	s := stock{board: b, wood: woods.Key(b.Wood), pair: p.job.pairs[b.ID], left: b.Count, yields: b.Yields(p.set)}
	s.worth, _ = p.job.money.worth(&b)
	s.cost = p.job.money.counts(&b)
	if counted, isLeaf := p.job.leaves[b.ID]; isLeaf {
		s.cost = counted
	}
	s.unsaid = p.job.money.priced && isBought(&b) && s.cost > s.worth
	var barred []rect
	s.sound, barred = unedged(soundPart(b, p.set), b.Barred(p.set))
	for _, d := range barred {
		r := d.within(s.sound)
		if r.x0 <= r.x1 && r.y0 <= r.y1 { // a crack has no width and counts
			s.defects = append(s.defects, r)
		}
	}
	slices.SortFunc(s.defects, func(a, b rect) int { return cmp.Compare(a.x0, b.x0) })
	return s
}

// soundPart is the board inside its raw ends and edges. An offcut was cut on
// every side and has none.
func soundPart(b orders.Board, set *settings.Shop) rect {
	if b.Origin == orders.FromOffcut {
		return rect{0, 0, b.Length, b.Width}
	}
	return rect{set.EndTrim, set.EdgeTrim, b.Length - set.EndTrim, b.Width - set.EdgeTrim}
}

// unedged takes off the sound part what a defect bars of it from end to end
// along an edge, as sapwood does; the other defects come back.
func unedged(sound rect, defects []orders.Defect) (rect, []rect) {
	var rest []rect
	for _, d := range defects {
		r := rect{d.X, d.Y, d.X + d.Length, d.Y + d.Width}
		switch {
		case r.x0 > sound.x0 || r.x1 < sound.x1 || r.width() == 0:
			rest = append(rest, r)
		case r.y0 <= sound.y0 && r.y1 > sound.y0:
			sound.y0 = r.y1
		case r.y1 >= sound.y1 && r.y0 < sound.y1:
			sound.y1 = r.y0
		default:
			rest = append(rest, r)
		}
	}
	return sound, rest
}

// suits reports whether the item may be cut from the board at all, size aside.
func (s *stock) suits(it *item) bool {
	return s.wood == it.wood && s.takes(it.thick) && (s.pair || !it.book)
}

// leaves is how many leaves the stock stands for, each the size of its board.
func (s *stock) leaves() int64 {
	if s.pair {
		return 2
	}
	return 1
}

// each is how many units of an item one place on a stock takes.
func (p *problem) each(stock, item int) int {
	if p.stocks[stock].pair && !p.items[item].book {
		return 2
	}
	return 1
}

// places is how often each item may still be placed on a stock.
func (p *problem) placesFor(s *stock, left []int) []int {
	if !s.pair {
		return left
	}
	out := slices.Clone(left)
	for i := range out {
		if !p.items[i].book {
			out[i] /= 2
		}
	}
	return out
}

// machine is the least length that may be planed and ripped; a manufactured
// sheet is not planed, and small ones are cut on the sled.
func (p *problem) machine(s *stock) measure.Length {
	if s.board.Sheet {
		return 0
	}
	return max(p.set.ShortestMachine, p.set.ShortestRip)
}
