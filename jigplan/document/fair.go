package document

import (
	"encoding/json"

	"batchwright/jigplan"
)

// Fair is a fair's mix, version 1. Money is in the shop's currency, times are
// minutes; an empty text is no date.
type Fair struct {
	Version  int         `json:"version"`
	Fair     string      `json:"fair"`
	Date     string      `json:"date"`
	Ready    string      `json:"ready_by"`
	LastMill string      `json:"begin_no_new_box_after"`
	LastGlue string      `json:"glue_no_box_after"`
	Order    Order       `json:"order"`
	Expected json.Number `json:"expected"` // from the boxes, after wood, supplies and card fee
	Fixed    json.Number `json:"fixed"`
	Profit   json.Number `json:"profit"`
	Spread   json.Number `json:"spread"`
	Together json.Number `json:"nested_together"`  // in expected: what nesting all boxes together spends less than box by box
	Best     json.Number `json:"best_as_reckoned"` // no mix brings more under the limits, at what each box costs by itself
	Bound    json.Number `json:"bound"`            // no mix brings more, however well it is nested and shares its setups
	Free     json.Number `json:"demand_alone"`
	Proven   bool        `json:"proven"`
	Sold     json.Number `json:"sold"`
	Revenue  json.Number `json:"revenue"`
	Pays     json.Number `json:"chance_it_pays"`
	Even     int         `json:"break_even_boxes"`
	Target   int         `json:"boxes_for_profit_wanted"` // 0: none is wanted, or never
	Minutes  json.Number `json:"minutes"`
	Rounds   int         `json:"rounds"`
	Stalls   []FairBox   `json:"boxes"`
	Limits   []FairLimit `json:"limits"`
	Past     []FairPast  `json:"sold_before"`
	Problems []Finding   `json:"problems"`
}

// FairBox is one box in one wood.
type FairBox struct {
	Line     string      `json:"line"`
	Box      string      `json:"box"`
	Wood     string      `json:"wood"`
	Price    json.Number `json:"price"`
	Material json.Number `json:"wood_and_supplies"`
	Minutes  json.Number `json:"minutes_each"`
	Mean     json.Number `json:"demand_mean"`
	SD       json.Number `json:"demand_sd"` // of a normal demand cut at the halves; Poisson's where it is 0 and a mean alone is known
	Poisson  bool        `json:"demand_poisson"`
	Guess    json.Number `json:"guess_mean"` // before earlier fairs sharpened it
	InHand   int         `json:"in_hand"`
	Ratio    json.Number `json:"critical_ratio"`
	Alone    int         `json:"alone"` // what the newsvendor rule brings with nothing shared
	New      int         `json:"make"`
	Half     int         `json:"finish_half_made"`
	Made     int         `json:"from_hand"`
	Why      string      `json:"why_none"`
}

// FairLimit is something shared.
type FairLimit struct {
	Name   string      `json:"name"`
	Unit   string      `json:"unit"`
	Has    json.Number `json:"has"`
	Needs  json.Number `json:"needs"`
	Before json.Number `json:"has_before"` // the real plan and week found less of it usable, or more
	Binds  bool        `json:"binds"`
	More   string      `json:"one_more"`
	Worth  json.Number `json:"worth"`
}

// FairPast is what an earlier fair sold of a box.
type FairPast struct {
	Box     string `json:"box"`
	Fair    string `json:"fair"`
	Date    string `json:"date"`
	Brought int    `json:"brought"`
	Sold    int    `json:"sold"`
	SoldOut bool   `json:"sold_out"`
}

// OfFair is a fair as a document.
func OfFair(f *jigplan.Fair) Fair {
	r := &f.Order.Settings.Rates
	return Fair{
		Version: 1, Fair: r.FairName, Date: date(r.FairDate), Ready: moment(f.Ready), LastMill: date(f.LastMill), LastGlue: date(f.LastGlue),
		Order: Order{f.Order.File, f.Order.SHA256}, Expected: money(f.Expected), Fixed: money(f.Fixed), Profit: money(f.Expected - f.Fixed), Spread: money(f.Spread),
		Together: money(f.Together), Best: money(f.Best), Bound: money(f.Bound), Free: money(f.Free), Proven: f.Proven, Sold: float(f.Sold), Revenue: money(f.Revenue), Pays: float(f.Pays), Even: f.Even, Target: f.Target,
		Minutes: float(60 * f.Hours), Rounds: f.Rounds, Problems: Findings(f.Findings),
		Stalls: each(f.Stalls, func(s *jigplan.Stall) FairBox {
			return FairBox{s.Source.String(), s.Name, s.Wood, money(s.Price), money(s.Material), float(s.Minutes), float(s.Mean), float(s.Spread), s.Poisson, float(s.Guess), s.InHand,
				float(s.Ratio), s.Alone, s.New, s.Half, s.Made, s.Why}
		}),
		Limits: each(f.Limits, func(l *jigplan.Limit) FairLimit {
			return FairLimit{l.Name, l.Unit, float(l.Has), float(l.Needs), float(l.Before), l.Binds, l.More, money(l.Worth)}
		}),
		Past: each(f.Past, func(p *jigplan.Past) FairPast {
			return FairPast{f.Order.Candidates[p.Line].Name, p.Fair, date(p.Day), p.Brought, p.Sold, p.Sold == p.Brought}
		}),
	}
}
