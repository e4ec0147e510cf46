package settings

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"

	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// Definition is one setting: its name, default, meaning and where the default
// comes from. Definitions is the one place where a default stands.
type Definition struct {
	Name    string
	Group   string // the page it is shown on
	Default string
	Unit    string // "in", "s", "turns", "%"; empty for a word or a count
	Help    string
	Origin  string // source of the default, or "common practice"
	Work    Work   // of an element of time: when in a job it is done

	Metric     string   // default in a metric shop; empty: Default
	MetricName string   // its name there, where it is for a metre and not for a foot
	MetricHelp string   // its meaning there, where Help speaks of inches or feet
	Metres     float64  // of a time with a MetricName: a foot in metres, a square foot in square metres
	Also       []string // other names that are read: earlier ones, and what people call it

	bare  measure.Unit
	dress textKind // what its text is made of
	set   func(*Shop, string, Entry) error
	value func(*Shop) any // as the plan's JSON gives it
	exact func(*Shop) any // where that is rounded; nil: it is not
}

// Entry says how a setting's text is read and where it stands.
type Entry struct {
	Source       Source
	Bare         measure.Unit // what a bare number means; NoUnit: the Units setting
	DecimalComma bool
	Dates        measure.Dates
}

const common = "common practice"

// TightestFit is the limit of Fit at least: beyond an interference of so much
// fingers split (common practice; softwood takes about a fifth of it).
const TightestFit = measure.Inch / 200

// Definitions lists every setting in the order it is shown.
var Definitions = append([]Definition{
	writing("Units", "in", "the unit of a number that has none; mm: the metric defaults apply", []string{"in", "mm"},
		func(s *Shop, word string) {
			s.Units = map[string]measure.Unit{"in": measure.Inches, "mm": measure.Millimetres}[word]
		},
		func(s *Shop) string { return s.Units.String() }),
	writing("Decimal mark", ".", "the decimal mark in numbers: point or comma", []string{".", ","},
		func(s *Shop, word string) { s.DecimalMark = word }, func(s *Shop) string { return s.DecimalMark }),
	writing("Dates", "", "how dates such as 3/4/2027 are read, and how dates are printed; blank: printed as the units suggest, and asked about where a date may be two days",
		measure.DateOrders, func(s *Shop, word string) { s.Dates = measure.Dates(slices.Index(measure.DateOrders, word)) },
		func(s *Shop) string { return s.Dates.String() }),
	text("Currency", "General", "", "printed beside money", func(s *Shop) *string { return &s.Currency }),
	text("Label sheet", "General", "3 x 10, 66.7 x 25.4 mm", "labels on a sheet, columns x rows, and the size of one; then, where they do not touch, gaps 3.2 x 0 mm; plain before it: plain paper with cut lines", func(s *Shop) *string { return &s.LabelSheet }).mm("3 x 8, 63.5 x 33.9 mm, gaps 2.5 x 0 mm").written(numbers),

	text("Rod", "Jig", "3/8-16", "the threaded rod: 3/8-16, M8x1.25, Tr10x2, 1/2-10 2-start", func(s *Shop) *string { return &s.Rod }).mm("M10x1.5").meaning("the threaded rod: M10, M12x1, Tr10x2").also("threaded rod", "screw", "thread"),
	length("Lead", "Jig", "0", "carriage travel of one turn as measured; 0: from the rod", func(s *Shop) *measure.Length { return &s.Lead }),
	count("Stops per turn", "Jig", "1", "places in one turn where the wheel stops exactly", func(s *Shop) *int { return &s.StopsPerTurn }).mm("3").also("stops", "index", "index stops"),
	wholes("Wheel stops", "Jig", "the numbers of stops a turn that the wheel is marked or drilled for: 1, 2, 4; blank: any, when a way to cut a joint is looked for", func(s *Shop) *[]int { return &s.WheelStops }),
	length("Blade kerf", "Jig", "3/32", "as measured in a test cut; until it is set, every card starts with a test corner", func(s *Shop) *measure.Length { return &s.BladeKerf }).mm("2.8").also("kerf", "joint kerf", "blade width"),
	choice("Test corner when", "Jig", "unmeasured", "unmeasured: after a new rod, blade or height while the blade's kerf is not measured; always: after each", func(s *Shop) *string { return &s.CornerWhen }, "unmeasured", "always"),
	signed("Fit at least", "Jig", "0", "slot minus pin: the tightest fit accepted; negative is a press fit, down to -0.005 in (softwood takes about -0.001)", TightestFit, func(s *Shop) *measure.Length { return &s.FitAtLeast }).mm("0.05").meaning("slot minus pin: the tightest fit accepted; negative is a press fit, down to -0.127 mm (softwood takes about a fifth of it)").also("tightest fit", "fit min", "minimum fit"),
	length("Fit at most", "Jig", "0.010", "slot minus pin: the loosest fit accepted", func(s *Shop) *measure.Length { return &s.FitAtMost }).mm("0.20").also("loosest fit", "fit max", "maximum fit"),
	choice("Second pass", "Jig", "no", "yes: where no fit is within the limits, the whole card is cut twice, the second time with a shim at the stop that widens every slot", func(s *Shop) *string { return &s.SecondPass }, "no", "yes"),
	lengths("Finger choices", "Jig", "1/8; 1/4; 3/8; 1/2", "widths to choose from where the Finger is blank: the one nearest half the side's thickness that fits", func(s *Shop) *[]measure.Length { return &s.FingerChoices }).mm("4; 6; 8; 10; 12").also("fingers"),
	choice("Layout", "Jig", "best", "where the fingers start; best: the edge, unless that leaves less than half a finger", func(s *Shop) *string { return &s.Layout }, "best", "edge", "centred"),
	turns("Edge origin", "Jig", "0", "turns from the marked edge to the first full slot; Edge origin 1/2 is for that finger only", func(s *Shop) *measure.Ratio { return &s.EdgeOrigin }).meaning("turns from the marked edge to the first full slot; Edge origin 6 is for that finger only"),
	choice("Side starts with", "Jig", "notch", "what a side has at its marked edge", func(s *Shop) *string { return &s.SideStarts }, "notch", "pin"),
	length("Carriage opening", "Jig", "4-1/2", "room for boards, backing and clamp", func(s *Shop) *measure.Length { return &s.Opening }).mm("115").also("opening"),
	length("Clamp takes", "Jig", "1/2", "room the clamp needs in the opening", func(s *Shop) *measure.Length { return &s.ClampTakes }).mm("12"),
	length("Backing board", "Jig", "1/4", "thickness of the board behind the stack", func(s *Shop) *measure.Length { return &s.Backing }).mm("6.5"),
	length("Shortest board to clamp", "Jig", "4", "shorter boards are too short to clamp; Short boards says what to do", func(s *Shop) *measure.Length { return &s.ShortestClamp }).mm("100"),
	choice("Short boards", "Jig", "carrier", "boards too short to clamp; carrier: each is cut on a longer board of its own height, which takes its thickness in the opening; refuse: their boxes are not made", func(s *Shop) *string { return &s.ShortBoards }, "carrier", "refuse"),
	length("Carrier board", "Jig", "1/2", "thickness of the board that carries a short one", func(s *Shop) *measure.Length { return &s.Carrier }).mm("12"),
	length("Longest board upright", "Jig", "36", "longer boards cannot stand on the sled", func(s *Shop) *measure.Length { return &s.LongestUp }).mm("900"),
	wholeFrom(0, "Largest stack", "Jig", "0", "most boards in a stack, so that a stack lost to a miscount can be made again in time; 0: as many as the opening takes", func(s *Shop) *int { return &s.Replaceable }).also("Replaceable boards", "stack size", "boards in a stack"),
	wholeFrom(0, "Spares per stack", "Jig", "0", "spare blanks cut and milled with the boards of each stack, of each wood in it, as large as its largest board", func(s *Shop) *int { return &s.SpareBlanks }),
	figure("Miscount risk", "Jig", "%", "1", "stack ends whose count is lost (from memory, low confidence: log your own)", 99, func(s *Shop) *float64 { return &s.MiscountRisk }),
	length("Rod travel", "Jig", "7", "carriage travel from first to last cut", func(s *Shop) *measure.Length { return &s.RodTravel }).mm("250"),
	length("Least overlap of passes", "Jig", "0.010", "neighboring passes overlap at least this much, so that no fins are left", func(s *Shop) *measure.Length { return &s.LeastOverlap }).mm("0.25"),
	length("Proud", "Jig", "1/64", "how far fingers stand out before sanding", func(s *Shop) *measure.Length { return &s.Proud }).mm("0.5"),

	length("Crosscut kerf", "Boards", "1/8", "wood a crosscut turns to dust", func(s *Shop) *measure.Length { return &s.CrosscutKerf }).mm("3.2"),
	length("Rip kerf", "Boards", "1/8", "wood a rip turns to dust", func(s *Shop) *measure.Length { return &s.RipKerf }).mm("3.2"),
	length("End trim", "Boards", "1", "cut off each raw end, kerf included", func(s *Shop) *measure.Length { return &s.EndTrim }).mm("25"),
	length("Edge trim", "Boards", "1/8", "cut off each raw edge, kerf included", func(s *Shop) *measure.Length { return &s.EdgeTrim }).mm("5"),
	length("Part length allowance", "Boards", "1/16", "added to a part's length for the last crosscut", func(s *Shop) *measure.Length { return &s.PartLength }).mm("2"),
	length("Part width allowance", "Boards", "1/8", "added to a part's width for jointing and the last rip", func(s *Shop) *measure.Length { return &s.PartWidth }).mm("3"),
	length("Planing allowance", "Boards", "1/16", "a board given by its true thickness planes to this much less", func(s *Shop) *measure.Length { return &s.Planing }).mm("2"),
	length("Resaw up to", "Boards", "0", "widest board the shop's band saw takes on edge; thick boards are resawn where that is cheaper; 0: no board is resawn", func(s *Shop) *measure.Length { return &s.ResawUpTo }),
	length("Resaw kerf", "Boards", "1/16", "wood a resaw cut turns to dust", func(s *Shop) *measure.Length { return &s.ResawKerf }).mm("1.2"),
	length("Resaw clean-up", "Boards", "1/16", "planed off each face of a leaf", func(s *Shop) *measure.Length { return &s.ResawCleanUp }).mm("1.5"),
	length("Resaw cup", "Boards", "1/16", "taken off a board to flatten it before it is resawn", func(s *Shop) *measure.Length { return &s.ResawCup }).mm("1.5"),
	choice("Sapwood", "Boards", "avoid", "avoid: sapwood listed among a board's defects is cut off; allowed: it is used", func(s *Shop) *string { return &s.Sapwood }, "avoid", "allowed"),
	length("Shortest machine length", "Boards", "12", "nothing shorter goes through the planer", func(s *Shop) *measure.Length { return &s.ShortestMachine }).mm("300"),
	length("Shortest rip", "Boards", "12", "nothing shorter runs along the fence, and nothing shorter than its distance from the blade; 0: no limit", func(s *Shop) *measure.Length { return &s.ShortestRip }).mm("300"),
	length("Fence reaches", "Boards", "30", "no fence setting beyond it: larger sheets are first broken down with a straightedge; 0: no limit", func(s *Shop) *measure.Length { return &s.FenceReaches }).mm("760"),
	length("Sled takes", "Boards", "24", "the widest work crosscut on the sled; 0: no limit", func(s *Shop) *measure.Length { return &s.SledTakes }).mm("600"),
	figure("Wood before work", "Boards", "%", "0.5", "among layouts this close in wood cost, the one with the least cutting time is used; with a labor rate, the one with the least wood and labor cost", 100, func(s *Shop) *float64 { return &s.WoodBeforeWork }),
	rectangle("Keep offcuts from", "Boards", "12 x 2", "smaller offcuts are waste", func(s *Shop) (l, w *measure.Length) { return &s.KeepLength, &s.KeepWidth }).mm("300 x 50"),
	figure("Kept offcuts count", "Boards", "%", "0", "share of the cost of kept offcuts that is credited when layouts are compared; 0: at equal cost, keep more offcuts", 100, func(s *Shop) *float64 { return &s.KeptCounts }),
	choice("Buy what is missing", "Boards", "yes", "yes: what the rack cannot supply is bought, from the yard or as standard-size boards; no: only what is on the rack is used", func(s *Shop) *string { return &s.BuyMissing }, "yes", "no"),
	figure("Rack counts", "Boards", "%", "100", "share of a rack board's cost that counts against a purchase; 0: use up the rack before buying", 1000, func(s *Shop) *float64 { return &s.RackCounts }),
	choice("Glue up panels", "Boards", "yes", "yes: a solid bottom or lid wider than the boards is edge-glued from strips", func(s *Shop) *string { return &s.GlueUp }, "yes", "no"),
	length("Narrowest strip", "Boards", "2", "no strip of a glued-up panel is narrower", func(s *Shop) *measure.Length { return &s.NarrowestStrip }).mm("50"),
	length("Joint allowance", "Boards", "1/8", "added to a strip's width for each glued edge, to joint it straight", func(s *Shop) *measure.Length { return &s.JointAllowance }).mm("3"),
	choice("Cut first", "Boards", "best", "the first cuts through a board", func(s *Shop) *string { return &s.CutFirst }, "best", "crosscut", "rip"),
	rectangle("Typical board", "Boards", "96 x 6", "the standard board, used where neither rack nor yard is given", func(s *Shop) (l, w *measure.Length) { return &s.TypicalLength, &s.TypicalWidth }).mm("2500 x 180").also("Standard board"),
	flats("Other typical boards", "Boards", "other standard sizes to choose from: 120 x 8; 72 x 5; blank: none", func(s *Shop) *[]Flat { return &s.OtherTypical }).mm("3000 x 220").meaning("other standard sizes to choose from: 3000 x 220; 2000 x 150; blank: none").also("Other standard boards"),
	rectangle("Largest typical board", "Boards", "144 x 12", "the largest board to be had, for parts too large for the standard one", func(s *Shop) (l, w *measure.Length) { return &s.TypicalLongest, &s.TypicalWidest }).mm("4000 x 300").also("Largest standard board"),
	typicalClass(),
	planedYields(),
	rectangle("Typical sheet", "Boards", "96 x 48", "the standard sheet", func(s *Shop) (l, w *measure.Length) { return &s.SheetLength, &s.SheetWidth }).mm("1525 x 1525").also("Standard sheet", "sheet size"),

	length("Panel thickness", "Boxes", "1/4", "of bottoms, and of lids held in grooves, where the row gives none", func(s *Shop) *measure.Length { return &s.Making.PanelThickness }).mm("6.5"),
	length("Lid thickness", "Boxes", "1/2", "of lift-off and hinged lids, where the row gives none", func(s *Shop) *measure.Length { return &s.Making.LidThickness }).mm("12"),
	length("Divider thickness", "Boxes", "1/4", "of every divider", func(s *Shop) *measure.Length { return &s.Making.DividerThickness }).mm("6.5"),
	text("Divider wood", "Boxes", "", "of every divider; blank: the box's own", func(s *Shop) *string { return &s.Making.DividerWood }),
	length("Groove depth", "Boxes", "1/4", "of the grooves that hold a panel; never over half the wall", func(s *Shop) *measure.Length { return &s.Making.GrooveDepth }).mm("5"),
	length("Groove setback", "Boxes", "1/4", "from the edge of the wall to the near side of the groove", func(s *Shop) *measure.Length { return &s.Making.GrooveSetback }).mm("6"),
	length("Groove margin", "Boxes", "1/16", "wood between a groove and the end of the finger it runs in", func(s *Shop) *measure.Length { return &s.Making.GrooveMargin }).mm("1.5"),
	length("Cutter radius", "Boxes", "1/8", "a stopped groove is cut this much longer, for its round end", func(s *Shop) *measure.Length { return &s.Making.CutterRadius }).mm("3"),
	length("Panel gap", "Boxes", "1/32", "between a panel's edge and the floor of its groove, each side", func(s *Shop) *measure.Length { return &s.Making.PanelGap }).mm("0.8"),
	length("Rabbet", "Boxes", "1/4", "how far a rabbeted bottom reaches into each wall; never over half the wall", func(s *Shop) *measure.Length { return &s.Making.Rabbet }).mm("6"),
	length("Bottom overhang", "Boxes", "0", "how far a nailed bottom overhangs on each side", func(s *Shop) *measure.Length { return &s.Making.BottomOverhang }),
	length("Lid overhang", "Boxes", "0", "how far a lift-off lid overhangs on each side, a hinged one at front and ends", func(s *Shop) *measure.Length { return &s.Making.LidOverhang }),
	length("Lid lip", "Boxes", "1/8", "how far a lift-off lid reaches down between the walls", func(s *Shop) *measure.Length { return &s.Making.LidLip }).mm("3"),
	length("Lid play", "Boxes", "1/32", "between a lift-off lid's lip and the wall, each side", func(s *Shop) *measure.Length { return &s.Making.LidPlay }).mm("0.8"),
	length("Sawn-off lid height", "Boxes", "1", "from the top of the box to the parting line", func(s *Shop) *measure.Length { return &s.Making.SawnLid }).mm("25"),
	length("Thinnest lid strip", "Boxes", "3/4", "a shallower sawn-off lid gets a warning: it may break while it is sawn off", func(s *Shop) *measure.Length { return &s.Making.LidStrip }).mm("20"),
	choice("Sawn-off dividers", "Boxes", "below", "below: dividers end below the line where the lid is sawn off; full: they reach up into the lid", func(s *Shop) *string { return &s.Making.SawnDividers }, "below", "full"),
	length("Groove play", "Boxes", "1/64", "how much wider a groove is than the panel in it", func(s *Shop) *measure.Length { return &s.Making.GroovePlay }).mm("0.4"),
	length("Parting kerf", "Boxes", "3/32", "of the blade that saws the lid off", func(s *Shop) *measure.Length { return &s.Making.PartingKerf }).mm("2.4"),
	length("Saw clean-up", "Boxes", "1/64", "sanded off each edge of the parting line", func(s *Shop) *measure.Length { return &s.Making.CleanUp }).mm("0.4"),
	length("Divider play", "Boxes", "1/32", "how much shorter and lower a divider is than the room for it", func(s *Shop) *measure.Length { return &s.Making.DividerPlay }).mm("0.8"),
	length("Lap clearance", "Boxes", "0.006", "a lap notch is this much wider than the divider in it", func(s *Shop) *measure.Length { return &s.Making.LapClearance }).mm("0.15"),
	figure("Humidity low", "Boxes", "%", "30", "driest air the box will be kept in, relative humidity", 99, func(s *Shop) *float64 { return &s.Making.HumidityLow }),
	figure("Humidity high", "Boxes", "%", "60", "dampest air the box will be kept in, relative humidity", 99, func(s *Shop) *float64 { return &s.Making.HumidityHigh }),
	temperature("Temperature", "Boxes", "70 F", "of the air the box will be kept in, with F or C; without: F with inches, C with millimeters", func(s *Shop) *float64 { return &s.Making.Celsius }).mm("20 C").meaning("of the air the box will be kept in, in degrees Celsius"),

	figure("Glue spread", "Supplies", "g/m2", "160", "glue on one face of a joint (120 to 200, from memory, low confidence)", 2000, func(s *Shop) *float64 { return &s.Supplies.GlueSpread }),
	figure("Finish cover", "Supplies", "m2/L", "9.8", "what a liter of finish covers in one coat (400 ft2/gal, from memory, low confidence)", 200, func(s *Shop) *float64 { return &s.Supplies.FinishCover }).meaning("what a liter of finish covers in one coat (from memory, low confidence)"),
	figure("Abrasive sheets", "Supplies", "a box", "0.5", "sheets of abrasive paper worn out on one box", 100, func(s *Shop) *float64 { return &s.Supplies.AbrasiveSheets }),
	length("Nail spacing", "Supplies", "3", "between the nails of a nailed bottom", func(s *Shop) *measure.Length { return &s.Supplies.NailSpacing }).mm("75"),

	seconds(AtJig, "Cut pass", "7", "one pass through the blade and back", func(t *Times) *float64 { return &t.CutPass }),
	seconds(AtJig, "Forward turn", "1.2", "one turn of the wheel while cutting", func(t *Times) *float64 { return &t.ForwardTurn }),
	seconds(AtJig, "Return turn", "0.7", "one turn winding back to zero", func(t *Times) *float64 { return &t.ReturnTurn }),
	seconds(AtJig, "Verify slot", "2", "checking the rule after a slot", func(t *Times) *float64 { return &t.VerifySlot }),
	seconds(AtJig, "Load stack end", "90", "loading, squaring and clamping one end of a stack", func(t *Times) *float64 { return &t.LoadStack }),
	seconds(SettingUp, "Change blade", "480", "changing the blade", func(t *Times) *float64 { return &t.ChangeBlade }),
	seconds(SettingUp, "Change height", "180", "setting the blade height", func(t *Times) *float64 { return &t.ChangeHeight }),
	seconds(SettingUp, "Change spacer", "60", "putting in another spacer or shim", func(t *Times) *float64 { return &t.ChangeSpacer }),
	seconds(SettingUp, "Change card", "30", "putting up another count card", func(t *Times) *float64 { return &t.ChangeCard }),
	seconds(SettingUp, "Change rod", "1200", "changing the threaded rod", func(t *Times) *float64 { return &t.ChangeRod }),
	seconds(SettingUp, "Test corner", "480", "cutting and trying a test corner", func(t *Times) *float64 { return &t.TestCorner }),
	seconds(Milling, "Mill face and edge", "90", "flattening a face and an edge, a foot of board", func(t *Times) *float64 { return &t.MillPerFoot }).metre("Mill face and edge a meter", "300", "flattening a face and an edge, a meter of board"),
	seconds(Milling, "Thickness pass", "20", "one board through the planer", func(t *Times) *float64 { return &t.ThicknessPass }),
	length("Planer takes", "Times", "1/32", "wood off in one thickness pass", func(s *Shop) *measure.Length { return &s.Times.PlanerTakes }).mm("0.8"),
	seconds(Milling, "Resaw", "120", "setting the tall fence for one resaw cut (from memory, low confidence)", func(t *Times) *float64 { return &t.ResawEach }),
	seconds(Milling, "Resaw a foot", "20", "one foot of a resaw cut (from memory, low confidence)", func(t *Times) *float64 { return &t.ResawPerFoot }).metre("Resaw a meter", "66", "one meter of a resaw cut (from memory, low confidence)"),
	seconds(Milling, "Crosscut", "25", "one crosscut", func(t *Times) *float64 { return &t.CrosscutEach }),
	seconds(Milling, "Rip", "30", "setting up one rip", func(t *Times) *float64 { return &t.RipEach }),
	seconds(Milling, "Rip a foot", "10", "one foot of a rip", func(t *Times) *float64 { return &t.RipPerFoot }).metre("Rip a meter", "33", "one meter of a rip"),
	seconds(Milling, "Set stop or fence", "60", "setting the stop or the fence again (from memory, low confidence)", func(t *Times) *float64 { return &t.SetSaw }),
	seconds(Milling, "Straightedge cut", "180", "clamping a straightedge for one cut (from memory, low confidence)", func(t *Times) *float64 { return &t.StraightedgeEach }),
	seconds(Grooving, "Groove", "60", "one part's groove", func(t *Times) *float64 { return &t.GroovePart }),
	seconds(Gluing, "Glue-up", "600", "gluing up one box", func(t *Times) *float64 { return &t.GlueBox }),
	seconds(Gluing, "Glue-up extra part", "120", "each bottom or lid part glued in beyond the sides and ends", func(t *Times) *float64 { return &t.GluePart }),
	seconds(AtBench, "Sanding", "240", "one box, beside its area", func(t *Times) *float64 { return &t.SandBox }),
	later(AtBench, "Sanding a square foot", "180", "both faces of every part", func(t *Times) *float64 { return &t.SandFoot }).squareMetre("Sanding a square meter", "1900", "both faces of every part"),
	seconds(Finishing, "Coat", "90", "one coat on one box, beside its area", func(t *Times) *float64 { return &t.CoatBox }),
	later(Finishing, "Coat a square foot", "72", "one coat on a square foot of both faces of every part", func(t *Times) *float64 { return &t.CoatFoot }).squareMetre("Coat a square meter", "780", "one coat on a square meter of both faces of every part"),
	later(Milling, "Mark part", "15", "writing a part's name and marks on it", func(t *Times) *float64 { return &t.MarkPart }),
	later(Milling, "Panel glue-up", "720", "gluing up one panel from strips", func(t *Times) *float64 { return &t.PanelGlue }),
	later(Milling, "Panel joint", "180", "each glued edge of a panel", func(t *Times) *float64 { return &t.PanelJoint }),
	later(AtBench, "Nailed bottom", "300", "nailing on one bottom", func(t *Times) *float64 { return &t.NailBottom }),
	later(AtBench, "Saw lid off", "480", "sawing off one lid and cleaning both rims", func(t *Times) *float64 { return &t.SawLid }),
	later(AtBench, "Cut lid lip", "360", "the lip of one lift-off lid", func(t *Times) *float64 { return &t.LidLip }),
	later(AtBench, "Hinge pair", "1500", "fitting two hinges", func(t *Times) *float64 { return &t.HingePair }),
	later(AtBench, "Catch", "300", "fitting a catch", func(t *Times) *float64 { return &t.CatchEach }),
	later(AtBench, "Divider", "120", "fitting one loose divider, dry", func(t *Times) *float64 { return &t.DividerFit }),
	figure("Coats", "Times", "", "2", "coats of finish on a box that names a finish", 20, func(s *Shop) *float64 { return &s.Times.Coats }),
	allowance(),
	choice("Allowance is of", "Times", "work", "work: standard = normal x (1 + A); shift: standard = normal / (1 - A)", func(s *Shop) *string { return &s.Times.AllowanceOf }, "work", "shift"),
	number("First of kind allowance", "%", "10", "on the first box of a size", func(t *Times) *float64 { return &t.FirstOfKindPercent }),
	choice("Learning model", "Times", "unit", "unit: box x of a size takes t1 times x to the minus exponent; average: the first x boxes take that on average", func(s *Shop) *string { return &s.Times.LearningModel }, "unit", "average"),
	figure("Learning exponent", "Times", "", "0.15", "how fast hand work gets faster; 0: no learning", 1, func(s *Shop) *float64 { return &s.Times.LearningExponent }),
	figure("Learning floor", "Times", "", "0.6", "never below this share of the first unit", 1, func(s *Shop) *float64 { return &s.Times.LearningFloor }),
	number("Element spread", "%", "30", "standard deviation of one element's time, each done independently of the others", func(t *Times) *float64 { return &t.SpreadPercent }),
	number("Pace spread", "%", "10", "standard deviation of a whole day's pace, common to all elements", func(t *Times) *float64 { return &t.PacePercent }),
}, slices.Concat(weekDefinitions(), rateDefinitions())...)

// ErrUnknown is what Set says of a name that no setting has.
var ErrUnknown = errors.New("no setting is called")

// Set reads one row of a Shop sheet. An unknown name, or a value that cannot
// be read, is an error that says what would be right.
func (s *Shop) Set(name, value string, e Entry) error {
	d, suffix, ok := find(name)
	if !ok {
		return fmt.Errorf("%w %q%s", ErrUnknown, name, nearestName(name))
	}
	if e.Bare.Plain() == measure.NoUnit {
		e.Bare = s.Units
	}
	if e.Dates == measure.AnyDates {
		e.Dates = s.Dates
	}
	if d.PerMeter(name) {
		value = d.perFoot(value, e)
	}
	if err := s.store(d, suffix, strings.TrimSpace(value), e); err != nil {
		return err
	}
	s.sources[canonical(d.Name, suffix)] = e.Source
	s.given[canonical(d.Name, suffix)] = true
	switch d.Name {
	case "Blade kerf":
		s.KerfMeasured = true
	case "Units":
		s.takeDefaults()
	}
	return nil
}

func (s *Shop) store(d *Definition, suffix, value string, e Entry) error {
	switch {
	case suffix == "":
		return d.set(s, value, e)
	case d.Name == "Edge origin":
		finger, err := measure.Parse(suffix, e.reading())
		if err != nil {
			return fmt.Errorf("the finger of %q: %w", "Edge origin "+suffix, err)
		}
		turns, err := measure.ParseRatio(e.reading().Plain(value))
		if err == nil {
			s.EdgeOrigins[finger] = turns
		}
		return err
	default: // Cost of <wood>
		cost, err := parseWoodCost(suffix, value, s.Units.Metric(), e)
		if err == nil {
			s.CostOf[woods.Name(suffix)] = cost
		}
		return err
	}
}

func (e Entry) reading() measure.Reading {
	return measure.Reading{Bare: e.Bare, DecimalComma: e.DecimalComma}
}

// Value is the named setting as the plan's JSON gives it: lengths and numbers
// as they marshal, turns and words as text.
func (d Definition) Value(s *Shop) any { return d.value(s) }

// Used is every setting in order, name and value as used, with the settings
// that exist only because a row named them at the end.
func (s *Shop) Used() []Used {
	var out []Used
	for _, d := range Definitions {
		out = append(out, Used{d.Name, d.value(s), s.given[d.Name], d})
	}
	var extra []Used
	for finger, turns := range s.EdgeOrigins {
		name := "Edge origin " + finger.Fraction()
		extra = append(extra, Used{Name: name, Value: turns.String(), Given: true})
	}
	for wood, cost := range s.CostOf {
		extra = append(extra, Used{Name: "Cost of " + wood, Value: cost, Given: true})
	}
	sort.Slice(extra, func(i, j int) bool { return extra[i].Name < extra[j].Name })
	return append(out, extra...)
}

// Used is one setting as it was used.
type Used struct {
	Name       string
	Value      any
	Given      bool
	Definition Definition
}
