package joint

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// record is one row of a testdata table.
type record map[string]string

func readTable(t testing.TB, name string) []record {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []record
	for _, row := range rows[1:] {
		r := record{}
		for i, name := range rows[0] {
			r[name] = row[i]
		}
		out = append(out, r)
	}
	return out
}

func (r record) ratio(t testing.TB, column string) measure.Ratio {
	t.Helper()
	v, err := measure.ParseRatio(r[column])
	if err != nil {
		t.Fatalf("%s of %s: %v", column, r["id"], err)
	}
	return v
}

// size is a column in the row's own unit, as ticks.
func (r record) size(t testing.TB, column string) measure.Ratio {
	t.Helper()
	unit := measure.Inch
	if r["unit"] == "mm" {
		unit = measure.Millimetre
	}
	return r.ratio(t, column).Times(int64(unit))
}

func (r record) length(t testing.TB, column string) measure.Length {
	t.Helper()
	v := r.size(t, column)
	if !v.IsWhole() {
		t.Fatalf("%s of %s is no whole tick", column, r["id"])
	}
	return v.Length()
}

// request is the question a worked program answers.
func (r record) request(t testing.TB) Request {
	t.Helper()
	s := settings.Default()
	s.Rod, s.StopsPerTurn = r["rod"], atoi(t, r["N"])
	s.BladeKerf, s.KerfMeasured = r.length(t, "kerf"), true
	s.FitAtLeast, s.LeastOverlap = r.length(t, "c_min"), r.length(t, "overlap_min")
	s.Layout = "edge"
	switch r["layout"] {
	case "slotcentre", "anti":
		s.Layout = "best"
	case "given": // the shop's stop: the 1/2 in program starts a turn before its edge
		s.EdgeOrigins[measure.Inch/2] = measure.Whole(-1)
	}
	return Request{Finger: r.length(t, "target"), Heights: []measure.Length{r.length(t, "H")}, RowA: 1, RowB: 1, Settings: s}
}

func atoi(t testing.TB, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestWorkedPrograms compares with worked programs of the trade, computed in
// exact arithmetic outside this project (testdata/programs.csv).
func TestWorkedPrograms(t *testing.T) {
	for _, row := range readTable(t, "programs.csv") {
		t.Run(row["id"], func(t *testing.T) {
			q := row.request(t)
			a, err := Solve(q)
			if err != nil {
				t.Fatal(err)
			}
			if row["status"] == "REJECT_FIT" {
				if a.Refused == nil || a.Refused.Nearest == "" {
					t.Fatalf("accepted: %+v", a.Candidates)
				}
				q.Settings.FitAtMost = row.length(t, "c") // its figures are for diagnosis
				q.Settings.RodTravel = measure.Inch * 10
				a, _ = Solve(q)
			}
			if len(a.Candidates) == 0 {
				t.Fatalf("refused: %+v", a.Refused)
			}
			compareWorked(t, row, a.Candidates[0])
			compareSteps(t, row, a.Candidates[0].Program)
			for _, f := range check.Program(a.Candidates[0].Program) {
				t.Error(f)
			}
		})
	}
}

func compareWorked(t *testing.T, row record, c Candidate) {
	t.Helper()
	p := c.Program
	q0, lead := row.size(t, "q"), row.size(t, "lead")
	same := func(column string, got, want measure.Ratio) {
		t.Helper()
		if got.Cmp(want) != 0 {
			t.Errorf("%s: got %s ticks, want %s", column, got, want)
		}
	}
	same("lead", p.Lead, lead)
	same("q", p.Lead.Over(int64(p.StopsPerTurn)), q0)
	same("c", p.Fit, row.size(t, "c"))
	same("S", p.Slot, row.size(t, "S"))
	same("T", p.Pin, row.size(t, "T"))
	same("P", p.Period, row.size(t, "P"))
	same("s", p.Spacer, row.size(t, "s"))
	same("finger_error", c.FingerError, row.size(t, "finger_error"))
	same("m", p.Kerf.Ratio().Times(2).Sub(p.Fit).Div(q0), row.ratio(t, "m"))
	same("a", p.Slot.Sub(p.Kerf.Ratio()).Div(q0), row.ratio(t, "a"))
	same("u", p.PastPin.Times(int64(p.StopsPerTurn)), row.ratio(t, "u"))
	same("past_units", p.PastPin.Times(int64(p.StopsPerTurn)), row.ratio(t, "past_units"))
	same("past_turns", p.PastPin, row.ratio(t, "past_turns"))
	same("home_kerf_offset", p.Origin, row.size(t, "home_kerf_offset"))
	same("return_turns", p.ReturnTurns, row.ratio(t, "return_turns"))
	same("travel", p.Travel, row.size(t, "travel"))
	h := p.Heights[0]
	same("min_edge", h.SmallestAtAll, row.size(t, "min_edge"))
	for column, got := range map[string]int{
		"cuts_per_slot": p.CutsPerSlot, "first_slot_cuts": p.Slots[0].Cuts, "slots_run": len(p.Slots), "total_cuts": p.TotalCuts,
	} {
		if want := atoi(t, row[column]); got != want {
			t.Errorf("%s: got %d, want %d", column, got, want)
		}
	}
	for column, got := range map[string]jigplan.Edge{"A_low": h.ALow, "A_high": h.AHigh, "B_low": h.BLow, "B_high": h.BHigh} {
		kind, width, _ := strings.Cut(row[column], " ")
		want := record{"unit": row["unit"], column: width}.size(t, column)
		if (kind == "notch") != got.Notch || got.Width.Cmp(want) != 0 {
			t.Errorf("%s: got %+v, want %s", column, got, row[column])
		}
	}
	if got := fullSlotSteps(p); got != row["adv_units"] {
		t.Errorf("adv_units: got %q, want %q", got, row["adv_units"])
	}
	if got := stepsInUnits(p); got != row["steps_units"] {
		t.Errorf("steps_units: got %q, want %q", got, row["steps_units"])
	}
	same("max_gap", greater(p.Fit.Over(2), measure.Ratio{}), row.size(t, "max_gap"))
	wantLayout := map[string]string{"given": EdgeLayout, "edge": EdgeLayout, "slotcentre": CentredSym, "anti": CentredAntisym}[row["layout"]]
	if h.Layout != wantLayout {
		t.Errorf("layout: got %q, want %q", h.Layout, wantLayout)
	}
}

// fullSlotSteps is the steps inside the first complete slot, in index units.
func fullSlotSteps(p jigplan.Program) string {
	for _, s := range p.Slots {
		if s.Cuts == p.CutsPerSlot {
			var steps []string
			for _, turns := range s.StepTurns {
				steps = append(steps, turns.Times(int64(p.StopsPerTurn)).String())
			}
			return strings.Join(steps, " ")
		}
	}
	return "no full slot"
}

func stepsInUnits(p jigplan.Program) string {
	out := []string{"C"}
	for _, s := range p.Steps[1:] {
		out = append(out, "+"+s.Turns.Times(int64(p.StopsPerTurn)).String(), "C")
	}
	return strings.Join(out, " ")
}

func compareSteps(t *testing.T, row record, p jigplan.Program) {
	t.Helper()
	var want []record
	for _, s := range readTable(t, "steps.csv") {
		if s["id"] == row["id"] {
			want = append(want, s)
		}
	}
	if len(want) != len(p.Steps) {
		t.Fatalf("%d steps, want %d", len(p.Steps), len(want))
	}
	for i, s := range p.Steps {
		w := want[i]
		w["unit"] = row["unit"]
		if s.Slot != atoi(t, w["slot"]) || s.Cut != atoi(t, w["cut"]) {
			t.Errorf("step %d is slot %d cut %d, want %s %s", i+1, s.Slot, s.Cut, w["slot"], w["cut"])
		}
		for column, pair := range map[string][2]measure.Ratio{
			"turns": {s.Turns, w.ratio(t, "turns")}, "total_turns": {s.TotalTurns, w.ratio(t, "total_turns")},
			"units":      {s.TotalTurns.Times(int64(p.StopsPerTurn)), w.ratio(t, "units")},
			"kerf_start": {p.Origin.Add(s.Travel), w.size(t, "kerf_start")},
		} {
			if pair[0].Cmp(pair[1]) != 0 {
				t.Errorf("step %d %s: got %s, want %s", i+1, column, pair[0], pair[1])
			}
		}
		wantClock := map[string]string{"0": "12", "1/4": "3", "1/2": "6", "3/4": "9"}[w["handle"]]
		if s.Clock != wantClock {
			t.Errorf("step %d clock: got %q, want %q", i+1, s.Clock, wantClock)
		}
	}
}
