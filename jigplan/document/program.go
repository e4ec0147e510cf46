package document

import (
	"encoding/json"
	"math/big"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Program is one count card: every cut of one row, or of both at once.
type Program struct {
	ID           string        `json:"id"`
	Asked        []json.Number `json:"asked_mm"`
	Pattern      string        `json:"pattern"`
	Features     []json.Number `json:"features_mm"`
	SecondPass   *json.Number  `json:"second_pass_shim_mm"`
	Row          string        `json:"row"`
	Mate         *string       `json:"mate"`
	Regular      bool          `json:"regular"`
	Rod          string        `json:"rod"`
	Lead         json.Number   `json:"lead_mm"`
	StopsPerTurn int           `json:"stops_per_turn"`
	Kerf         json.Number   `json:"kerf_mm"`
	Finger       json.Number   `json:"finger_mm"`
	Slot         json.Number   `json:"slot_mm"`
	Pin          json.Number   `json:"pin_mm"`
	Fit          json.Number   `json:"fit_mm"`
	Period       json.Number   `json:"period_mm"`
	Spacer       json.Number   `json:"spacer_mm"`
	Origin       json.Number   `json:"origin_mm"`
	CutsPerSlot  int           `json:"cuts_per_slot"`
	PastPin      string        `json:"past_pin_turns"`
	Slots        []slotJSON    `json:"slots"`
	TotalCuts    int           `json:"total_cuts"`
	ReturnTurns  string        `json:"return_turns"`
	Travel       json.Number   `json:"travel_mm"`
	Heights      []Height      `json:"heights"`
	Steps        []stepJSON    `json:"steps"`
}

// slotJSON is one slot, in the order it is cut.
type slotJSON struct {
	Slot      int         `json:"slot"`
	Width     json.Number `json:"width_mm"`
	Cuts      int         `json:"cuts"`
	StepTurns []string    `json:"step_turns"`
	PastTurns string      `json:"past_turns"`
}

// Height is one board height the program serves. The four edges read
// "notch 7.1438" or "pin 7.1438".
type Height struct {
	Height json.Number `json:"height_mm"`
	Shim   json.Number `json:"shim_mm"`
	Layout string      `json:"layout"`
	ALow   string      `json:"a_low"`
	AHigh  string      `json:"a_high"`
	BLow   string      `json:"b_low"`
	BHigh  string      `json:"b_high"`
}

// stepJSON is one cut; its kerf lies from origin plus travel on.
type stepJSON struct {
	Slot       int         `json:"slot"`
	Cut        int         `json:"cut"`
	Turns      string      `json:"turns"`
	TotalTurns string      `json:"total_turns"`
	Clock      string      `json:"clock"`
	Travel     json.Number `json:"travel_mm"`
}

// OfProgram is one program as the document gives it.
func OfProgram(p *jigplan.Program) Program {
	return Program{
		ID: p.ID, Asked: each(p.Asked, func(l *measure.Length) json.Number { return length(*l) }),
		Pattern: p.Pattern, Features: each(p.Features, func(r *measure.Ratio) json.Number { return ratio(*r) }),
		SecondPass: shimOrNull(p.SecondPass), Row: string(p.Rows), Mate: textOrNull(p.Mate), Regular: p.Regular,
		Rod: p.Rod, Lead: ratio(p.Lead), StopsPerTurn: p.StopsPerTurn, Kerf: length(p.Kerf),
		Finger: ratio(p.Finger), Slot: ratio(p.Slot), Pin: ratio(p.Pin), Fit: ratio(p.Fit),
		Period: ratio(p.Period), Spacer: ratio(p.Spacer), Origin: ratio(p.Origin),
		CutsPerSlot: p.CutsPerSlot, PastPin: p.PastPin.String(),
		Slots: each(p.Slots, slot), TotalCuts: p.TotalCuts,
		ReturnTurns: p.ReturnTurns.String(), Travel: ratio(p.Travel),
		Heights: each(p.Heights, height), Steps: each(p.Steps, step),
	}
}

func slot(s *jigplan.Slot) slotJSON {
	turns := each(s.StepTurns, func(t *measure.Ratio) string { return t.String() })
	return slotJSON{s.N, ratio(s.Width), s.Cuts, turns, s.PastTurns.String()}
}

func height(h *jigplan.Height) Height {
	return Height{length(h.Height), ratio(h.Shim), h.Layout,
		edge(h.ALow), edge(h.AHigh), edge(h.BLow), edge(h.BHigh)}
}

func step(s *jigplan.Step) stepJSON {
	return stepJSON{s.Slot, s.Cut, s.Turns.String(), s.TotalTurns.String(), s.Clock, ratio(s.Travel)}
}

// edge is "notch" or "pin" and the width in millimetres at four decimals.
func edge(e jigplan.Edge) string {
	kind := "pin"
	if e.Notch {
		kind = "notch"
	}
	tenthMicrons := e.Width.Mul(measure.Frac(10_000, int64(measure.Millimetre))).Round()
	return kind + " " + big.NewRat(tenthMicrons, 10_000).FloatString(4)
}

// shimOrNull is null where the card is cut once.
func shimOrNull(shim measure.Ratio) *json.Number {
	if shim.Sign() == 0 {
		return nil
	}
	n := ratio(shim)
	return &n
}

func textOrNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
