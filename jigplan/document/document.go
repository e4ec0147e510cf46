// Package document writes a plan as its JSON document, version 1, for other
// programs to read. It decides nothing: every figure comes from the plan, and
// is rounded here once, as it is printed.
package document

import "encoding/json"

// Document is a whole plan. Lengths are millimetres and areas square
// millimetres, exact where the decimal ends, else rounded at 1e-6; times are
// minutes; money is in the shop's currency; turns are exact fractions such as
// "13/2". x runs along a board from its marked end, y across from its marked
// edge.
type Document struct {
	Version  int           `json:"version"`
	Order    Order         `json:"order"`
	Units    string        `json:"units"`
	Seed     int64         `json:"seed"`
	Partial  bool          `json:"partial"` // lines with errors were left out: totals are incomplete
	Settings Named         `json:"settings"`
	Totals   Totals        `json:"totals"`
	Parts    []partJSON    `json:"parts"`
	Panels   []panelJSON   `json:"panels"`
	Boards   []boardJSON   `json:"boards"`
	Short    []shortJSON   `json:"short"`
	Milling  []millingJSON `json:"milling"`
	Nesting  nestingJSON   `json:"nesting"`
	Programs []Program     `json:"programs"`
	Setups   []setupJSON   `json:"setups"`
	Stacks   []stackJSON   `json:"stacks"`
	Sequence sequenceJSON  `json:"sequence"`
	Time     timeJSON      `json:"time"`
	Findings []Finding     `json:"problems"`
}

// Order names the workbook the plan was made from.
type Order struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

// Totals are the batch in a line.
type Totals struct {
	Boxes     int         `json:"boxes"`
	Parts     int         `json:"parts"`
	Boards    int         `json:"boards"`
	AreaUsed  json.Number `json:"area_used_mm2"`
	BoardFeet json.Number `json:"board_feet"` // of the solid boards used, whole
	Cost      json.Number `json:"cost"`
	Minutes   json.Number `json:"minutes"`
}

// partJSON is one piece of wood to be made.
type partJSON struct {
	ID         string      `json:"id"`
	Line       string      `json:"line"`
	Box        string      `json:"box"`
	Unit       int         `json:"unit"`
	Role       string      `json:"role"`
	Wood       string      `json:"wood"`
	Grain      string      `json:"grain"`
	Length     json.Number `json:"length_mm"`
	Width      json.Number `json:"width_mm"`
	Thickness  json.Number `json:"thickness_mm"`
	CutLength  json.Number `json:"cut_length_mm"`
	CutWidth   json.Number `json:"cut_width_mm"`
	GrainRun   *string     `json:"grain_run"`
	GrainPlace *int        `json:"grain_place"`
	Panel      *string     `json:"panel"` // of a strip: the glued-up panel
}

// panelJSON is a wide part that is edge-glued from strips, which are in the parts.
type panelJSON struct {
	ID        string      `json:"id"`
	Line      string      `json:"line"`
	Box       string      `json:"box"`
	Unit      int         `json:"unit"`
	Role      string      `json:"role"`
	Wood      string      `json:"wood"`
	Length    json.Number `json:"length_mm"`
	Width     json.Number `json:"width_mm"`
	Thickness json.Number `json:"thickness_mm"`
	Strips    []string    `json:"strips"`
}

// boardJSON is one physical board with what is cut from it.
type boardJSON struct {
	ID        string       `json:"id"`
	Source    string       `json:"source"`
	Wood      string       `json:"wood"`
	Class     string       `json:"class"`
	Length    json.Number  `json:"length_mm"`
	Width     json.Number  `json:"width_mm"`
	Thickness json.Number  `json:"thickness_mm"`
	Cost      json.Number  `json:"cost"`
	Defects   []Rectangle  `json:"defects"`
	Pieces    []pieceJSON  `json:"pieces"`
	Cuts      []cutJSON    `json:"cuts"`
	Offcuts   []offcutJSON `json:"offcuts"`
}

// Rectangle is a place on a board.
type Rectangle struct {
	X      json.Number `json:"x_mm"`
	Y      json.Number `json:"y_mm"`
	Length json.Number `json:"length_mm"`
	Width  json.Number `json:"width_mm"`
}

// pieceJSON is one part as cut.
type pieceJSON struct {
	Part string `json:"part"`
	Rectangle
	Turned bool `json:"turned"`
}

// cutJSON is one straight cut, in the order it is made.
type cutJSON struct {
	N    int         `json:"n"`
	Kind string      `json:"kind"`
	At   json.Number `json:"at_mm"`
	From json.Number `json:"from_mm"`
	To   json.Number `json:"to_mm"`
	Kerf json.Number `json:"kerf_mm"`

	Guide     string      `json:"guide"`     // fence|stop|straightedge
	Reference string      `json:"reference"` // the end or edge that set_mm is measured from
	Set       json.Number `json:"set_mm"`
	Takes     json.Number `json:"takes_mm"` // of a trim: what comes off, kerf included; else 0
}

// millingJSON is one step between the cuts of a board.
type millingJSON struct {
	AfterCut int         `json:"after_cut"`
	Boards   []string    `json:"boards"`
	Parts    []string    `json:"parts"`
	Kind     string      `json:"kind"` // joint face|joint edge|plane|rip to width|glue up
	To       json.Number `json:"to_mm"`
	Minutes  json.Number `json:"minutes"`
}

// offcutJSON is what is left of a board.
type offcutJSON struct {
	Rectangle
	Keep bool `json:"keep"`
}

// shortJSON is a part that cannot be made, and why.
type shortJSON struct {
	Part string `json:"part"`
	Why  string `json:"why"`
}

// nestingJSON is how good the layout is, and what is proven of it.
type nestingJSON struct {
	Cost      json.Number `json:"cost"`
	CostBound json.Number `json:"cost_bound"`
	Cheapest  json.Number `json:"cheapest"` // the cheapest wood found; cost may be a little more, for less work

	CutMinutes json.Number `json:"cut_minutes"`
	WorkCost   json.Number `json:"work_cost"`
	AreaUsed   json.Number `json:"area_used_mm2"`
	AreaParts  json.Number `json:"area_parts_mm2"`
	AreaBound  json.Number `json:"area_bound_mm2"`
	Proven     bool        `json:"proven"`
	Stop       string      `json:"stop"`
	Seconds    json.Number `json:"seconds"`
}

// setupJSON is one state of the saw.
type setupJSON struct {
	ID          string      `json:"id"`
	Program     string      `json:"program"`
	Blade       string      `json:"blade"`
	BladeHeight json.Number `json:"blade_height_mm"`
	Spacer      json.Number `json:"spacer_mm"`
	Stacks      []string    `json:"stacks"`
}

// stackJSON is boards cut together at one end.
type stackJSON struct {
	ID        string           `json:"id"`
	Setup     string           `json:"setup"`
	End       int              `json:"end"`
	Boards    []stackBoardJSON `json:"boards"`
	Thickness json.Number      `json:"thickness_mm"`
	Minutes   json.Number      `json:"minutes"`
}

// stackBoardJSON is one board of a stack, from the backing board outwards.
type stackBoardJSON struct {
	Part    string      `json:"part"`
	Row     string      `json:"row"`
	Shim    json.Number `json:"shim_mm"`
	Carrier json.Number `json:"carrier_mm"` // thickness of the longer board behind a short one; 0: none
}

// sequenceJSON is the running order of the setups.
type sequenceJSON struct {
	Setups            []string    `json:"setups"`
	ChangeoverMinutes json.Number `json:"changeover_minutes"`
	BoundMinutes      json.Number `json:"bound_minutes"`
	Proven            bool        `json:"proven"`
}

// timeJSON is how long the batch takes; the elements add up to Minutes.
type timeJSON struct {
	Minutes    json.Number `json:"minutes"`
	P80Minutes json.Number `json:"p80_minutes"`
	Elements   Named       `json:"elements"`
}

// Finding is one finding about the order or the plan.
type Finding struct {
	Level string `json:"level"`
	Sheet string `json:"sheet"`
	Cell  string `json:"cell"`
	Read  string `json:"read"`
	Did   string `json:"did"`
	Fix   string `json:"fix"`
}
