package fair_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// fullFair is a small fair on which everything a fair shares may run out: the
// vehicle, drying places, two woods, and boxes that are there or half made.
func fullFair(t *rapid.T) *orders.Order {
	o := smallFair(t)
	draw := func(name string, low, high int) int { return rapid.IntRange(low, high).Draw(t, name) }
	for name, value := range map[string]int{"Vehicle holds": draw("vehicle", 15, 90), "Drying places": draw("drying", 1, 4), "Hours to the fair": draw("hours", 2, 15)} {
		if err := o.Settings.Set(name, strconv.Itoa(value), settings.Entry{}); err != nil {
			t.Fatal(err)
		}
	}
	for i := range o.Candidates {
		c := &o.Candidates[i]
		c.Made, c.HalfMade = draw("finished", 0, 2), draw("half made", 0, 3)
		c.Wood = rapid.SampledFrom([]string{"cherry", "maple"}).Draw(t, "wood")
	}
	maple := o.Rack[0]
	maple.ID, maple.Wood, maple.Count, maple.Length = "M", "maple", draw("maple boards", 1, 3), 72*measure.Inch
	o.Rack = append(o.Rack, maple)
	return o
}

// milp writes a fair as an integer program, from what it prints alone: how many
// of each box are brought from hand, finished and made new; the kth one sold
// brings its price by the chance that so many are asked for; what is not sold is
// carried home; the first new one of a box has to be set up for.
func milp(f *jigplan.Fair, more map[string]float64) []byte {
	var goal, rows, bounds, whole, binary bytes.Buffer
	uses := map[string]*bytes.Buffer{}
	use := func(limit string, i int, made, half, fresh, setup float64) {
		if uses[limit] == nil {
			uses[limit] = new(bytes.Buffer)
		}
		for _, term := range []struct {
			factor float64
			name   string
		}{{made, "m"}, {half, "h"}, {fresh, "n"}, {setup, "y"}} {
			if term.factor != 0 {
				fmt.Fprintf(uses[limit], " %+.9f %s%d\n", term.factor, term.name, i)
			}
		}
	}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		c := &f.Order.Candidates[s.Line]
		home, most := float64(s.Home), len(f.Demand[s.Line])
		if s.Area == nil {
			fmt.Fprintf(&bounds, " n%d = 0\n", i)
		}
		fmt.Fprintf(&goal, " %+.6f m%d %+.6f h%d %+.6f n%d\n", home-float64(s.Keep), i, home-math.Max(float64(s.Keep), float64(s.Finishing)), i, home-float64(s.Material), i)
		fmt.Fprintf(&rows, " brought%d: m%d + h%d + n%d", i, i, i, i)
		for k, chance := range f.Demand[s.Line] {
			fmt.Fprintf(&goal, " %+.9f s%d_%d\n", chance*(float64(s.Net)-home), i, k)
			fmt.Fprintf(&rows, " - s%d_%d\n", i, k)
			fmt.Fprintf(&bounds, " s%d_%d <= 1\n", i, k)
		}
		fmt.Fprintf(&rows, " = 0\n begun%d: n%d - %d y%d <= 0\n", i, i, most, i)
		fmt.Fprintf(&bounds, " m%d <= %d\n h%d <= %d\n n%d <= %d\n", i, c.Made, i, c.HalfMade, i, most)
		fmt.Fprintf(&whole, " m%d h%d n%d\n", i, i, i)
		fmt.Fprintf(&binary, " y%d\n", i)
		use("hours of work", i, 0, s.Finish, s.Minutes, s.Setup)
		use("hours at the saw", i, 0, 0, s.Saw, s.Setup)
		use("clamps", i, 0, 0, 1, 0)
		use("drying places", i, 0, float64(s.Coats), float64(s.Coats), 0)
		use("room at the booth", i, 1, 1, 1, 0)
		use("room in the vehicle", i, s.Litres, s.Litres, s.Litres, 0)
		for wood, area := range s.Area {
			use(wood, i, 0, 0, area, 0)
		}
	}
	for n, l := range f.Limits {
		if uses[l.Name] != nil && uses[l.Name].Len() > 0 {
			fmt.Fprintf(&rows, " limit%d:%s <= %.9f\n", n, uses[l.Name], (l.Has+more[l.Name])*(1+1e-7)+1e-7)
		}
	}
	return fmt.Appendf(nil, "Maximize\n obj:%sSubject To\n%sBounds\n%sGenerals\n%sBinaries\n%sEnd\n", &goal, &rows, &bounds, &whole, &binary)
}

// bySolver has COIN-OR CBC, or else GNU GLPK, solve an integer program.
func bySolver(t *rapid.T, program []byte) float64 {
	folder, err := os.MkdirTemp("", "fair")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(folder)
	file, answer := filepath.Join(folder, "fair.lp"), filepath.Join(folder, "answer")
	if err := os.WriteFile(file, program, 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"cbc", file, "ratio", "0", "seconds", "60", "solve", "solution", answer}
	if _, err := exec.LookPath("cbc"); err != nil {
		args = []string{"glpsol", "--lp", file, "--tmlim", "60", "-w", answer}
	}
	if said, err := exec.Command(args[0], args[1:]...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", args[0], err, said)
	}
	data, err := os.ReadFile(answer)
	if err != nil {
		t.Fatal(err)
	}
	value, err := provenValue(string(data))
	if err != nil {
		t.Fatalf("%s: %v: %.200s", args[0], err, data)
	}
	return value
}

// provenValue reads a proven value from a solution file: CBC's first line ends
// with it ("Optimal - objective value -3844.68", of the negated problem), and so
// does GLPK's line "s mip ROWS COLUMNS o VALUE".
func provenValue(solution string) (float64, error) {
	for line := range strings.Lines(solution) {
		fields := strings.Fields(line)
		if len(fields) > 2 && (fields[0] == "Optimal" || fields[0] == "s" && fields[len(fields)-2] == "o") {
			value, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			return math.Abs(value), err
		}
	}
	return 0, errors.New("no proven value")
}

// oneMore is how much one more of each limit is, told from the settings and the
// boards.
func oneMore(f *jigplan.Fair) map[string]float64 {
	set := &f.Order.Settings
	out := map[string]float64{"hours of work": 180, "hours at the saw": 180, "room at the booth": 1, "room in the vehicle": 10}
	for _, l := range f.Limits {
		switch l.Name {
		case "clamps":
			out[l.Name] = l.Before / float64(set.Week.Clamps/set.Week.ClampsBox)
		case "drying places":
			out[l.Name] = l.Before / float64(set.Week.DryingPlaces)
		}
	}
	for _, b := range f.Order.Rack {
		out[b.Wood] = b.Length.Millimetres() * b.Width.Millimetres() / 1e6
	}
	return out
}

// On small fairs with everything that may run out, the mix is as good as a
// general solver's (COIN-OR CBC, GNU GLPK) under the limits printed, and what
// one more of a limit brings is what the solver finds with one more. Fifty fairs:
// go test ./jigplan/plan -run GeneralSolver -rapid.checks 50.
func TestFairsAgainstAGeneralSolver(t *testing.T) {
	_, errCBC := exec.LookPath("cbc")
	_, errGLP := exec.LookPath("glpsol")
	if errCBC != nil && errGLP != nil {
		t.Skip("skipped: cbc and glpsol are not installed")
	}
	from := time.Date(2027, 4, 5, 0, 0, 0, 0, time.UTC)
	fairs, binding, half := 0, map[string]int{}, 0
	fewer(t, "4")
	rapid.Check(t, func(t *rapid.T) {
		f := fairOf(t, fullFair(t), from)
		want := bySolver(t, milp(f, nil))
		got := float64(f.Expected - f.Together)
		if f.Proven && math.Abs(float64(f.Best)-want) > 2 {
			t.Fatalf("the best mix under the limits printed brings %v, the solver finds %.2f", f.Best, want)
		}
		if got > want+2 {
			t.Fatalf("the mix brings %.0f cents, the solver finds no more than %.2f", got, want)
		}
		fairs++
		more := oneMore(f)
		for i := range f.Stalls {
			half += f.Stalls[i].Half
		}
		for _, l := range f.Limits {
			if more[l.Name] == 0 {
				continue
			}
			with := bySolver(t, milp(f, map[string]float64{l.Name: more[l.Name]}))
			if math.Abs(float64(l.Worth)-(with-want)) > 3 {
				t.Fatalf("%s: one more brings %v, the solver finds %.2f", l.Name, l.Worth, with-want)
			}
			if l.Binds {
				binding[l.Name]++
			}
		}
	})
	t.Logf("%d fairs, %d half-made boxes finished; binding: %v", fairs, half, binding)
	if !testing.Short() && (fairs == 0 || len(binding) == 0) {
		t.Error("nothing was compared")
	}
}
