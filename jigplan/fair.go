package jigplan

import (
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Stall is one box of a fair's catalog in one wood, and how many of it are
// brought.
type Stall struct {
	Line   int // index into Order.Candidates
	Source orders.Source
	Name   string
	Wood   string
	Box    orders.Box

	Price             measure.Money
	Tax               measure.Money // in the price
	Net               measure.Money // of the price, less tax and card fee
	Material          measure.Money // wood and supplies of a new box
	Finishing         measure.Money // supplies of a half-made one
	Keep              measure.Money // what one left at home is worth
	Home              measure.Money // what one carried home is worth
	Minutes           float64       // of work on one new box, setting up apart
	Saw               float64       // of which at the saw
	Finish            float64       // of work on a half-made one
	Setup             float64       // minutes once, when any is made new
	Litres, Kilograms float64       // packed; of one
	Coats             int
	Area              map[string]float64 // square metres of each wood in a new box, the waste of its boards included

	Mean, Spread float64 // of the demand for the line, all woods together
	Poisson      bool
	Guess        float64 // the mean before earlier fairs sharpened it
	InHand       int     // finished ones that are there
	Ratio        float64 // the critical ratio of a new box
	Alone        int     // what the newsvendor rule would bring with nothing shared
	Why          string  // nothing is brought; empty: something is

	Made, Half, New int // brought: from hand, finished from half-made, made new
}

// Brought is how many stand on the stall.
func (s *Stall) Brought() int { return s.Made + s.Half + s.New }

// Past is what an earlier fair sold of a box of the catalog, all woods
// together.
type Past struct {
	Line          int
	Fair          string
	Day           time.Time
	Brought, Sold int
}

// Limit is something shared that a fair runs out of.
type Limit struct {
	Name   string
	Unit   string
	Has    float64
	Needs  float64 // what the mix uses, as it was reckoned
	More   string  // one more of it: "one more clamp set"
	Worth  measure.Money
	Binds  bool
	Before float64 // what it had before the real plan and week showed it was less or more
}

// Fair is what to make and bring.
type Fair struct {
	Order    *orders.Order
	From     time.Time
	Ready    time.Time // the last moment of making
	LastMill time.Time // the last day a new box can be begun; zero: none
	LastGlue time.Time // the last day one can be glued up; zero: none
	Stalls   []Stall
	Limits   []Limit
	Demand   [][]float64 // by line of the catalog: P(k or more are asked for), k from 1
	Past     []Past      // the earliest fair first

	Expected measure.Money // from the boxes, over leaving at home what is there, as nested
	Together measure.Money // in it: what nesting the boxes together spends less than box by box
	Best     measure.Money // no mix brings more under the limits and costs as reckoned box by box
	Bound    measure.Money // no mix brings more, however well it is nested and shares its setups
	Free     measure.Money // what demand alone would allow, as reckoned
	Proven   bool          // the mix is as good as Best
	Fixed    measure.Money // stall, travel, hours at the stand
	Sold     float64       // boxes, on average
	Revenue  measure.Money // on average, without tax, before fees
	Spread   measure.Money // standard deviation of what the boxes bring
	Pays     float64       // chance that the boxes bring more than Fixed
	Even     int           // boxes to sell until Fixed is paid, of the mix; 0: they never pay
	Target   int           // boxes to sell for the profit wanted; 0: none is wanted, or never
	Hours    float64       // of making
	Rounds   int           // how often the mix was planned until it could be made

	Plan     *Plan // of the new boxes; nil: none
	Week     *Week
	Findings []orders.Finding
	Unjudged bool // some row has no price, no demand or cannot be made
}
