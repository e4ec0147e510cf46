package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const inch = measure.Inch

func inches(num, den int64) measure.Ratio { return inch.Ratio().Mul(measure.Frac(num, den)) }

// plan is one box of two boards whose every figure is worked out by hand: the
// program is the one with 3/32 kerf and 16 turns an inch that cuts slots and
// pins of 9/32 (four cuts a turn apart, then six turns).
func plan() *jigplan.Plan {
	settings := settings.Default()
	return &jigplan.Plan{
		Seed:  7,
		Order: &orders.Order{File: "caddies.xlsx", SHA256: "00ff", Settings: settings},
		Parts: []orders.Part{
			{ID: "T1-1-S1", Source: orders.Source{Sheet: "Boxes", Cell: "B7"}, Box: "T1", Unit: 1, Role: orders.Side,
				Wood: "cherry <select>", Grain: orders.AlongLength, Length: 12 * inch, Width: 3 * inch, Thickness: inch / 2,
				CutLength: 12*inch + 3*inch/32, CutWidth: 3*inch + inch/8, Run: "T1-1", Place: 1},
			{ID: "T1-1-E1", Source: orders.Source{Sheet: "Boxes", Cell: "B7"}, Box: "T1", Unit: 1, Role: orders.End,
				Wood: "cherry <select>", Grain: orders.AlongLength, Length: 8 * inch, Width: 3 * inch, Thickness: inch / 2,
				CutLength: 8*inch + 3*inch/32, CutWidth: 3*inch + inch/8},
		},
		Layout: nesting.Layout{
			Boards: []nesting.CutBoard{{ID: "R1", Stock: orders.Board{Origin: orders.FromRack, Wood: "cherry <select>", Class: "4/4",
				Defects: []orders.Defect{{X: 18 * inch, Length: 4 * inch, Width: 6 * inch}}},
				Length: 36 * inch, Width: 6 * inch, Thickness: inch, Cost: 1250,
				Pieces: []nesting.Piece{{Part: "T1-1-S1", X: inch, Y: inch / 8, Length: 12*inch + 3*inch/32, Width: 3*inch + inch/8}},
				Cuts: []nesting.Cut{{N: 1, Kind: nesting.Crosscut, At: 13*inch + 3*inch/32, To: 6 * inch, Kerf: inch / 8,
					Guide: nesting.ByStop, Reference: nesting.MarkedEnd, Set: 13*inch + 3*inch/32, Takes: inch}},
				Offcuts: []nesting.Offcut{{X: 22 * inch, Length: 14 * inch, Width: 6 * inch, Keep: true}}}},
			Short: []nesting.Short{{Part: "T1-1-E1", Why: "no board is long enough"}},
			Cost:  1250, CostBound: 1100, CostKnown: true, AreaUsed: (22 * inch).Times(6 * inch),
			Stop: nesting.StopBudget, Seconds: 0.25,
		},
		Programs: []jigplan.Program{{ID: "J1", Rows: jigplan.BothRows, Regular: true, Rod: "3/8-16", Lead: inches(1, 16),
			StopsPerTurn: 1, Kerf: 3 * inch / 32, Finger: inches(9, 32), Slot: inches(9, 32), Pin: inches(9, 32),
			Period: inches(9, 16), Spacer: inches(9, 32), Origin: inches(-1, 18), CutsPerSlot: 4, PastPin: measure.Whole(6),
			Slots:     []jigplan.Slot{{N: 1, Width: inches(9, 32), Cuts: 4, StepTurns: []measure.Ratio{measure.Whole(1), measure.Whole(1), measure.Whole(1)}, PastTurns: measure.Frac(13, 2)}},
			TotalCuts: 4, ReturnTurns: measure.Whole(3), Travel: inches(3, 16),
			Heights: []jigplan.Height{{Height: 3 * inch, Layout: "edge", ALow: jigplan.Edge{Notch: true, Width: inches(9, 32)}, AHigh: jigplan.Edge{Width: inches(3, 32)}}},
			Steps:   []jigplan.Step{{Slot: 1, Cut: 1, Clock: "12"}, {Slot: 1, Cut: 2, Turns: measure.Frac(13, 2), TotalTurns: measure.Frac(13, 2), Clock: "6", Travel: inches(13, 32)}}}},
		Setups:   []jigplan.Setup{{ID: "U1", Program: "J1", Blade: "3/32", BladeHeight: inch/2 + inch/64, Spacer: inches(9, 32), Stacks: []string{"K1"}}},
		Stacks:   []jigplan.Stack{{ID: "K1", Setup: "U1", End: 1, Boards: []jigplan.StackBoard{{Part: "T1-1-S1", Row: orders.RowA}}, Thickness: inch / 2, Minutes: 6.8}},
		Sequence: jigplan.Sequence{Setups: []string{"U1"}, ChangeoverMinutes: 0.1 + 0.2, Proven: true},
		Time:     jigplan.Time{Minutes: 3.5, P80Minutes: 4, Elements: []jigplan.Element{{Name: "Cut pass", Minutes: 2}, {Name: "Changeover", Minutes: 1}, {Name: "Cut pass", Minutes: 0.5}}},
		Findings: []orders.Finding{{Level: orders.Warning, Source: orders.Source{Sheet: "Boxes", Cell: "C7"}, Read: "0.0955", Did: "kept", Fix: "measure again"}},
	}
}

func decode(t *testing.T, p *jigplan.Plan) Document {
	t.Helper()
	data, err := Indent(Of(p))
	if err != nil {
		t.Fatal(err)
	}
	var d Document
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestFiguresAsWorkedOutByHand(t *testing.T) {
	d := decode(t, plan())
	run, place := "T1-1", 1
	wantPart := partJSON{"T1-1-S1", "Boxes!B7", "T1", 1, "side", "cherry <select>", "length",
		"304.8", "76.2", "12.7", "307.18125", "79.375", &run, &place, nil}
	if !reflect.DeepEqual(d.Parts[0], wantPart) {
		t.Errorf("part %+v, want %+v", d.Parts[0], wantPart)
	}
	if d.Parts[1].GrainRun != nil || d.Parts[1].GrainPlace != nil {
		t.Error("a part outside a grain run has a place in one")
	}
	wantBoard := boardJSON{"R1", "rack", "cherry <select>", "4/4", "914.4", "152.4", "25.4", "12.50",
		[]Rectangle{{"457.2", "0", "101.6", "152.4"}},
		[]pieceJSON{{"T1-1-S1", Rectangle{"25.4", "3.175", "307.18125", "79.375"}, false}},
		[]cutJSON{{1, "crosscut", "332.58125", "0", "152.4", "3.175", "stop", "marked end", "332.58125", "25.4"}},
		[]offcutJSON{{Rectangle{"558.8", "0", "355.6", "152.4"}, true}}}
	if !reflect.DeepEqual(d.Boards[0], wantBoard) {
		t.Errorf("board %+v, want %+v", d.Boards[0], wantBoard)
	}
	// 36 in x 6 in of 4/4: 3 ft x 0.5 ft x 1 in = 1.5 board feet.
	// 22 in x 6 in = 132 in2 x 645.16 mm2 = 85161.12 mm2.
	wantTotals := Totals{1, 2, 1, "85161.12", "1.5", "12.50", "3.5"}
	if d.Totals != wantTotals {
		t.Errorf("totals %+v, want %+v", d.Totals, wantTotals)
	}
	if d.Sequence.ChangeoverMinutes != "0.3" {
		t.Errorf("changeover %s: binary noise is printed", d.Sequence.ChangeoverMinutes)
	}
	wantTime := timeJSON{"3.5", "4", Named{{"Cut pass", json.Number("2.5")}, {"Changeover", json.Number("1")}}}
	if !reflect.DeepEqual(d.Time, wantTime) {
		t.Errorf("time %+v, want %+v", d.Time, wantTime)
	}
	if want := (Finding{"warning", "Boxes", "C7", "0.0955", "kept", "measure again"}); d.Findings[0] != want {
		t.Errorf("problem %+v, want %+v", d.Findings[0], want)
	}
}

func TestProgramAsWorkedOutByHand(t *testing.T) {
	got := decode(t, plan()).Programs[0]
	// 9/32 in = 7.14375 mm exactly; 1/18 in has no end and is rounded at 1e-6.
	want := Program{ID: "J1", Asked: []json.Number{}, Features: []json.Number{}, Row: "both", Regular: true, Rod: "3/8-16", Lead: "1.5875", StopsPerTurn: 1, Kerf: "2.38125",
		Finger: "7.14375", Slot: "7.14375", Pin: "7.14375", Fit: "0", Period: "14.2875", Spacer: "7.14375", Origin: "-1.411111",
		CutsPerSlot: 4, PastPin: "6", Slots: []slotJSON{{1, "7.14375", 4, []string{"1", "1", "1"}, "13/2"}},
		TotalCuts: 4, ReturnTurns: "3", Travel: "4.7625",
		Heights: []Height{{"76.2", "0", "edge", "notch 7.1438", "pin 2.3812", "pin 0.0000", "pin 0.0000"}},
		Steps:   []stepJSON{{1, 1, "0", "0", "12", "0"}, {1, 2, "13/2", "13/2", "6", "10.31875"}}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

// An empty plan shows that every field is present and every empty list is [].
func TestEmptyPlanHasEveryFieldAndNoNullLists(t *testing.T) {
	data, err := Marshal(&jigplan.Plan{Order: &orders.Order{Settings: settings.Default()}})
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(data, []byte("null")) {
		t.Errorf("null stands in an empty plan:\n%s", data)
	}
	var top map[string]json.RawMessage
	if err := json.Unmarshal(data, &top); err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields("version order units seed settings totals parts boards short nesting programs setups stacks sequence time problems") {
		if _, ok := top[name]; !ok {
			t.Errorf("field %q is absent", name)
		}
	}
}

func TestSamePlanSameBytes(t *testing.T) {
	first, _ := Marshal(plan())
	for range 20 { // map order would show
		if again, _ := Marshal(plan()); !bytes.Equal(first, again) {
			t.Fatal("two runs differ")
		}
	}
	if bytes.Contains(first, []byte(`\u003c`)) || !bytes.Contains(first, []byte("cherry <select>")) {
		t.Error("text is escaped as for a web page")
	}
}

// Named keeps the order of its members, whatever stands in them.
func TestNamedKeepsOrder(t *testing.T) {
	in := `{"z":"1/2","a":1.50,"b \"q\"":[1,2]}`
	var n Named
	if err := json.Unmarshal([]byte(in), &n); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(n)
	if err != nil || string(out) != in {
		t.Errorf("got %s (%v), want %s", out, err, in)
	}
}
