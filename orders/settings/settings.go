// Package settings holds everything a shop can set: name, default, unit, help
// and the source of the default, in one table (definitions.go). Start from
// Default, apply rows of a Shop sheet with Set, read the fields of Shop, and
// list what was used with Used. It leaves to its callers where rows come from
// and what each setting does.
package settings

import (
	"maps"
	"slices"
	"time"

	"batchwright/orders/measure"
)

// Shop holds the settings of one shop. Every field has a default in the table
// of definitions.go and a row of the Shop sheet that changes it. Start from
// Default, never from the zero value.
type Shop struct {
	Units       measure.Unit  // Inches or Millimetres, with the decimal mark and the order of dates
	DecimalMark string        // "." or ","
	Dates       measure.Dates // the order of day and month; AnyDates: a date that may be two days is asked about
	Today       time.Time     // for dates without a year; zero: there is no clock

	Rod           string
	Lead          measure.Length // 0: from the rod's designation
	StopsPerTurn  int
	WheelStops    []int // numbers of stops a turn it has; empty: any
	BladeKerf     measure.Length
	KerfMeasured  bool   // a Blade kerf row was given
	CornerWhen    string // "unmeasured", "always": when a test corner is cut
	FitAtLeast    measure.Length
	FitAtMost     measure.Length
	SecondPass    string           // "no", "yes": cut a card twice where that alone gives a fit
	FingerChoices []measure.Length // where the order asks for none
	Layout        string           // "best", "edge", "centred"
	EdgeOrigin    measure.Ratio    // turns
	EdgeOrigins   map[measure.Length]measure.Ratio
	SideStarts    string         // "notch", "pin"
	LeastOverlap  measure.Length // of neighbouring passes
	RodTravel     measure.Length
	Proud         measure.Length
	Opening       measure.Length // of the carriage
	ClampTakes    measure.Length
	Backing       measure.Length
	ShortestClamp measure.Length
	ShortBoards   string         // "carrier", "refuse": boards shorter than that
	Carrier       measure.Length // thickness of the board that carries a short one
	LongestUp     measure.Length
	Replaceable   int     // most boards in a stack; 0: as many as the opening takes
	SpareBlanks   int     // a stack and wood
	MiscountRisk  float64 // percent of stack ends
	OwnRods       []Owned // that lie in the shop, the fitted one among them; empty: nobody said
	OwnBlades     []Owned

	CrosscutKerf    measure.Length
	RipKerf         measure.Length
	EndTrim         measure.Length // its kerf is inside it
	EdgeTrim        measure.Length
	PartLength      measure.Length // allowance
	PartWidth       measure.Length // allowance
	Planing         measure.Length
	ResawUpTo       measure.Length // the widest board the band saw takes on edge; 0: nothing is resawn
	ResawKerf       measure.Length
	ResawCleanUp    measure.Length // off each face of a leaf
	ResawCup        measure.Length // off a board, to flatten it before
	Sapwood         string         // "avoid", "allowed"
	ShortestMachine measure.Length
	ShortestRip     measure.Length // nothing shorter runs along the fence; 0: no limit
	FenceReaches    measure.Length // the largest fence setting; 0: no limit
	SledTakes       measure.Length // the widest work crosscut on the sled; 0: no limit
	WoodBeforeWork  float64        // percent of wood cost that may be spent to save cutting time
	KeepLength      measure.Length
	KeepWidth       measure.Length
	KeptCounts      float64 // percent of a kept offcut's cost that counts against the boards
	CutFirst        string  // "best", "crosscut", "rip"
	BuyMissing      string  // "yes", "no"
	RackCounts      float64 // percent of a rack board's cost that counts against a purchase
	GlueUp          string  // "yes", "no"
	NarrowestStrip  measure.Length
	JointAllowance  measure.Length // a glued edge

	PlanedYields   []Class        // what classes plane to where the shop says so, and the metric ones
	OtherTypical   []Flat         // other sizes such a yard has as well
	TypicalLength  measure.Length // of a board, where neither rack nor yard is given
	TypicalWidth   measure.Length
	TypicalLongest measure.Length // for parts too large for it
	TypicalWidest  measure.Length
	TypicalClass   string // the thinnest standard class
	SheetLength    measure.Length
	SheetWidth     measure.Length

	Making   Making   // how boxes are built
	Supplies Supplies // what is used up beside wood

	CostOf     map[string]WoodCost // of a wood, lower-case name
	Currency   string
	LabelSheet string // as reports reads it
	Times      Times
	Week       Week
	Rates      Rates

	sources map[string]Source // where a setting was read
	given   map[string]bool
}

// Owned is a rod or blade that lies in the shop.
type Owned struct {
	Name string         `json:"name"`
	Size measure.Length `json:"size_mm"` // measured lead or kerf; 0: a rod's name says it
}

// Times are the elements of work: seconds, unless the name says otherwise.
type Times struct {
	CutPass, ForwardTurn, ReturnTurn, VerifySlot, LoadStack float64
	ChangeBlade, ChangeHeight, ChangeSpacer, ChangeCard     float64
	ChangeRod, TestCorner                                   float64
	MillPerFoot, ThicknessPass, CrosscutEach, RipEach       float64
	RipPerFoot, GroovePart, GlueBox, GluePart               float64
	PanelGlue, PanelJoint                                   float64
	ResawEach, ResawPerFoot                                 float64
	SetSaw, StraightedgeEach                                float64
	SandBox, SandFoot, CoatBox, CoatFoot                    float64
	MarkPart                                                float64
	NailBottom, SawLid, LidLip, HingePair                   float64
	CatchEach, DividerFit                                   float64
	Coats                                                   float64        // a count
	AllowancePercent, FirstOfKindPercent                    float64        // percent of work time
	LearningExponent, LearningFloor                         float64        // unit x time = t1 x^-e, never under floor t1
	SpreadPercent                                           float64        // standard deviation of an element, percent of it
	PacePercent                                             float64        // standard deviation of the pace common to all elements, percent
	PlanerTakes                                             measure.Length // in one pass
	AllowanceOf                                             string         // "work", "shift": what the allowance is a percentage of
	AllowanceFor                                            string         // the conditions it adds up, as Allow says them; empty: it was given as it is
	LearningModel                                           string         // "unit", "average"
}

// Making is how this shop builds boxes where a row does not say.
type Making struct {
	PanelThickness, LidThickness, DividerThickness         measure.Length
	GrooveDepth, GrooveSetback, GrooveMargin, CutterRadius measure.Length
	PanelGap, Rabbet, BottomOverhang, LidOverhang          measure.Length
	LidLip, LidPlay, SawnLid, PartingKerf, CleanUp         measure.Length
	DividerPlay, LapClearance, GroovePlay, LidStrip        measure.Length
	SawnDividers                                           string  // "below", "full"
	DividerWood                                            string  // empty: the box's
	HumidityLow, HumidityHigh                              float64 // percent relative humidity
	Celsius                                                float64 // of the air the box will stand in
}

// Supplies is how much is used up beside wood.
type Supplies struct {
	GlueSpread     float64 // g/m2 on one face
	FinishCover    float64 // m2 a litre and coat
	AbrasiveSheets float64 // a box
	NailSpacing    measure.Length
}

// Default is the shop that nobody described.
func Default() Shop {
	s := Shop{
		EdgeOrigins: map[measure.Length]measure.Ratio{},
		CostOf:      map[string]WoodCost{},
		sources:     map[string]Source{},
		given:       map[string]bool{},
	}
	for _, d := range Definitions {
		if err := d.set(&s, d.Default, Entry{Bare: d.bare}); err != nil {
			panic("orders: default of " + d.Name + ": " + err.Error())
		}
	}
	return s
}

// Clone is a copy that shares nothing with s.
func (s Shop) Clone() Shop {
	s.EdgeOrigins = maps.Clone(s.EdgeOrigins)
	s.CostOf = maps.Clone(s.CostOf)
	s.Rates.Cartons = slices.Clone(s.Rates.Cartons)
	s.OtherTypical, s.FingerChoices = slices.Clone(s.OtherTypical), slices.Clone(s.FingerChoices)
	s.PlanedYields, s.WheelStops = slices.Clone(s.PlanedYields), slices.Clone(s.WheelStops)
	s.OwnRods, s.OwnBlades = slices.Clone(s.OwnRods), slices.Clone(s.OwnBlades)
	s.sources = maps.Clone(s.sources)
	s.given = maps.Clone(s.given)
	return s
}

// Source is where the named setting was read; the zero Source for a default.
func (s *Shop) Source(name string) Source { return s.sources[name] }

// Buys reports whether what the rack cannot supply is bought.
func (s *Shop) Buys() bool { return s.BuyMissing != "no" }

// Given reports whether the named setting was read from a sheet.
func (s *Shop) Given(name string) bool { return s.given[name] }

// OwnJig reports whether a sheet of the order set something of the jig: then the
// shop's jig and blade say nothing of its cards.
func (s *Shop) OwnJig() bool {
	for i := range Definitions {
		name := Definitions[i].Name
		if at := s.sources[name]; Definitions[i].Group == "Jig" && s.given[name] && at.Sheet != "" && at.Sheet != ShopFileSheet {
			return true
		}
	}
	return false
}

// SetUnits changes what a bare number means and how results are printed; the
// shop's decimal mark and dates stay.
func (s *Shop) SetUnits(unit measure.Unit) {
	s.Units = unit.Plain().Written(s.DecimalMark == ",", s.Dates)
}

// Reading is how lengths and numbers in this shop's sheets are written.
func (s *Shop) Reading() measure.Reading {
	return measure.Reading{Bare: s.Units, DecimalComma: s.DecimalMark == ","}
}

// Entry is how a setting's text is read that a person of this shop wrote.
func (s *Shop) Entry(source Source) Entry {
	return Entry{Source: source, Bare: s.Units, DecimalComma: s.DecimalMark == ",", Dates: s.Dates}
}
