package jigplan

import (
	"math"
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// CostKind is what a line of a cost is for.
type CostKind string

// The kinds of cost, in the order they are listed.
const (
	WoodCost     CostKind = "wood on hand"
	BoughtCost   CostKind = "wood to buy"
	OffcutsKept  CostKind = "offcuts kept"
	SupplyCost   CostKind = "supplies"
	BladeCost    CostKind = "blade"
	SetupCost    CostKind = "setting up"
	LabourCost   CostKind = "labour"
	OverheadCost CostKind = "overhead"
)

// CostGroup is one of the ten lines that a cost is summed up in.
type CostGroup string

// CostGroups lists them in order.
var CostGroups = []CostGroup{"wood on hand", "wood to buy", "offcuts kept, taken off", "supplies and sharpening", "setting up",
	MillingGroup, JigGroup, BenchGroup, AllowanceGroup, "overhead"}

// The groups of labor.
const (
	MillingGroup   CostGroup = "milling and cutting to size"
	JigGroup       CostGroup = "joints and grooves"
	BenchGroup     CostGroup = "gluing, sanding, finishing"
	AllowanceGroup CostGroup = "allowances, and up to the 80% time"
)

// groupOf is the group of every kind but labor.
var groupOf = map[CostKind]CostGroup{WoodCost: CostGroups[0], BoughtCost: CostGroups[1], OffcutsKept: CostGroups[2], SupplyCost: CostGroups[3],
	BladeCost: CostGroups[3], SetupCost: CostGroups[4], OverheadCost: CostGroups[9]}

// CostLine is one line of what a batch costs:
//
//	amount = quantity x rate x share / for, rounded half to even to the cent
type CostLine struct {
	Kind     CostKind
	Labor    CostGroup // of a line of labor
	What     string
	Quantity float64 // at most three decimals; negative: taken off
	Unit     string
	Rate     measure.Money // for For units
	For      float64       // 60: the rate is an hour's and the unit minutes
	Share    float64       // 1, or the part of it that counts
	Setting  string        // that holds the rate, or else the share; empty: the board's own cost
	Amount   measure.Money
	Missing  bool   // no rate is set, or the board has no cost: the amount is 0 and not true
	From     string // where in the plan it stands
}

// Group is the group a line is summed up in.
func (l *CostLine) Group() CostGroup {
	if l.Labor != "" {
		return l.Labor
	}
	return groupOf[l.Kind]
}

// Cost is what a batch costs. Lines add up to Total, each counted once.
type Cost struct {
	Lines   []CostLine
	Total   measure.Money
	Bought  measure.Money // of which is wood to be bought
	Minutes float64       // charged: four batches in five take no longer
	Setup   float64       // of which for setting up, once a batch
}

// Missing names what the cost leaves out because nothing is known of it.
func (c *Cost) Missing() (what []string) {
	for _, l := range c.Lines {
		if l.Missing {
			what = append(what, l.What)
		}
	}
	return what
}

// WithOffcuts is the total if the offcuts kept counted at a share of what their
// wood cost, from 0 to 1. Not ok: none is kept, or none has a cost.
func (c *Cost) WithOffcuts(share float64) (total measure.Money, ok bool) {
	total = c.Total
	worth := 0.0
	for _, l := range c.Lines {
		if l.Kind == OffcutsKept {
			total -= l.Amount
			worth += l.Quantity * float64(l.Rate) / l.For
		}
	}
	return total + measure.Money(math.RoundToEven(worth*share)), worth != 0
}

// Of adds up the lines of some kinds.
func (c *Cost) Of(kinds ...CostKind) (sum measure.Money) {
	for _, l := range c.Lines {
		for _, k := range kinds {
			if l.Kind == k {
				sum += l.Amount
			}
		}
	}
	return sum
}

// PriceBy is what a price was made of.
type PriceBy string

// A price is the one the order names, or the cost with a margin or a markup.
const (
	ByOrder  PriceBy = "the order's price"
	ByMargin PriceBy = "margin"
	ByMarkup PriceBy = "markup"
	NoPrice  PriceBy = "" // see Price.Why
)

// Price is what is asked for a number of boxes.
type Price struct {
	By      PriceBy
	Why     string        // there is no price; empty: there is one
	Each    measure.Money // of one box, before tax unless the shop's prices include it
	Net     measure.Money // of all boxes, before tax
	Tax     measure.Money // on Net
	Total   measure.Money // Net with Tax
	Deposit measure.Money // of Total
	Percent float64       // Deposit as percent of Total
	Fee     measure.Money // what the card company keeps of Total
	Left    measure.Money // Net less fee and cost
	Wanted  float64       // the margin aimed at, percent of Net
	Margin  float64       // the margin it has, percent of Net
	Chance  float64       // that the margin aimed at is made, the hours being uncertain
	Even    float64       // that it is not sold below cost
}

// Mover is what a change of one thing does to the price of one box.
type Mover struct {
	What   string
	Change string
	Each   measure.Money
}

// Packed is how boxes are packed for the road.
type Packed struct {
	Box        measure.Size // one closed box
	Kilograms  float64      // of one
	Heaviest   []string     // woods whose weight is not known and is taken as the heaviest known
	Carton     measure.Size // inside
	Chosen     bool         // from the shop's cartons
	Each       int          // boxes in a full carton; 0: none of the shop's cartons takes the box
	Across     [3]int       // of them along the carton's length, width and height
	Cartons    int
	CartonKg   float64 // a full one
	Kg         float64 // all cartons
	Litres     float64 // of one box with its packing
	TooHeavyKg bool    // one box alone is above the heaviest carton
}

// Offer is one number of boxes of one option, planned for itself.
type Offer struct {
	Quantity int // to be sold; spares are made beyond it
	Spares   int
	Plan     *Plan
	Cost     Cost
	Price    Price
	Movers   []Mover
	Packed   Packed
	Done     time.Time // made, cured and dry; zero: not within what is looked ahead
	Delivery time.Time // a day; zero likewise
	Arrives  time.Time // the day the wood to be bought is there; zero: the work waits for none
	MillFrom time.Time // when that wood has rested
	Cannot   string    // why it cannot be made; empty: it can
}

// Option is one way to make an article: a row of the order.
type Option struct {
	Letter  string // "A"; empty where there is one way only
	Line    int    // index into Order.Boxes; below 0: the loose parts
	Box     orders.Box
	Build   orders.Build
	Finger  measure.Ratio  // of the joint as cut; 0: none
	Pattern string         // of the fingers; empty: plain ones
	Asked   measure.Length // the finger ordered, where another is cut; 0: as ordered
	Differ  []string       // what but the wood sets it apart from the first option
	Offers  []Offer
}

// Article is what the customer asked for, under one name.
type Article struct {
	Name    string
	Options []Option
}

// Quote is what is offered to one customer.
type Quote struct {
	Number   string
	Revision int // from 1
	Date     time.Time
	Valid    time.Time // the last day
	Customer string
	Order    *orders.Order
	Seed     int64
	Articles []Article
	Together *Offer // the first option of every article at its count, as one batch; nil: there is one article
	Others   int    // open jobs that were on the clock already
	Findings []orders.Finding
	Before   *QuoteBefore // the revision its prices are compared with; nil: none
}

// QuoteBefore is an earlier revision, as its record says.
type QuoteBefore struct {
	Number   string
	Revision int
	Date     string
	Prices   []PriceBefore
}

// PriceBefore is one price of an earlier revision.
type PriceBefore struct {
	Article, Option string
	Quantity        int
	Said            string // size, wood, joint, finish in a line
	Each, Total     measure.Money
	Taken           bool // the customer accepted it
}

// Incomplete reports whether something cannot be offered as asked.
func (q *Quote) Incomplete() bool {
	for _, a := range q.Articles {
		for _, o := range a.Options {
			for i := range o.Offers {
				if o.Offers[i].Cannot != "" || o.Offers[i].Price.By == NoPrice || o.Offers[i].Delivery.IsZero() {
					return true
				}
			}
		}
	}
	return false
}
