package solve

// Stock is a kind of plate: how many there are and what one costs.
type Stock struct {
	Plate
	Count int   // Unlimited for no limit
	Cost  int64 // of one, more than 0
}

// CutPlate is one way a plate is cut, and how many plates are cut like that.
type CutPlate struct {
	Stock int // index of the kind of plate
	Times int
	Tree  *Node
	Made  []int // copies of each part on one plate
}

// Cover is which plates are cut, and how, to make what is wanted.
type Cover struct {
	Plates  []CutPlate
	Missing []int // copies of each part that no plate was found for
	Cost    int64
	Bound   int64 // proven: the copies wanted (the fitting ones) cannot cost less
	Stop    Stop
	Work    int64
}

// stock2DWork is the default budget of Stock2D, some seconds.
const stock2DWork = 5_000_000_000

// Stock2D makes Max copies of every part (which must be limited; Value has no
// meaning here) from the plates in stock at the least cost it finds, with a
// proven bound. It fills plates greedily, then generates columns: a master
// problem chooses among known fillings, its duals price the parts, and each kind
// of plate is searched for a filling worth more than it costs (Gilmore and
// Gomory, Operations Research 13 (1965)). Dives that fix fillings of the master
// one by one make whole plates of it.
//
// A part larger than every plate, and what limited stock cannot hold, is
// reported missing; the plates then cover the rest.
func Stock2D(stock []Stock, parts []PlatePart, rules Rules, budget Budget) Cover {
	s := newStock2D(stock, parts, rules, NewMeter(budget, stock2DWork))
	s.run()
	return s.cover()
}
