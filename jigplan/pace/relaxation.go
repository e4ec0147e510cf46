package pace

// Relaxation is a share of the work time that a condition of the work adds to
// it, in percent.
type Relaxation struct {
	Condition string
	Percent   float64
	Most      float64 // where the table gives a range: its upper end; else Percent
}

// Relaxations is the table of allowances recommended by the International
// Labour Organization, as printed with problem 7-6 of an operations textbook
// (read in its published answers, not in the organization's own book). Personal
// needs and basic fatigue are for everybody; the rest is by the conditions of
// the work. It is there to work out the setting "Allowance" from.
var Relaxations = []Relaxation{
	{"personal", 5, 5},
	{"basic fatigue", 4, 4},
	{"standing", 2, 2},
	{"position slightly awkward", 0, 0},
	{"position awkward (bending)", 2, 2},
	{"position very awkward (lying, stretching)", 7, 7},
	{"force: lift 5 lb", 0, 0},
	{"force: lift 10 lb", 1, 1},
	{"force: lift 15 lb", 2, 2},
	{"force: lift 20 lb", 3, 3},
	{"force: lift 25 lb", 4, 4},
	{"force: lift 30 lb", 5, 5},
	{"force: lift 35 lb", 7, 7},
	{"force: lift 40 lb", 9, 9},
	{"force: lift 45 lb", 11, 11},
	{"force: lift 50 lb", 13, 13},
	{"force: lift 60 lb", 17, 17},
	{"force: lift 70 lb", 22, 22},
	{"light slightly below recommended", 0, 0},
	{"light well below", 2, 2},
	{"light very inadequate", 5, 5},
	{"heat and humidity", 0, 10},
	{"close attention fairly fine", 0, 0},
	{"close attention fine or exacting", 2, 2},
	{"close attention very fine or very exacting", 5, 5},
	{"noise continuous", 0, 0},
	{"noise intermittent loud", 2, 2},
	{"noise intermittent very loud", 5, 5},
	{"noise high-pitched loud", 5, 5},
	{"mental strain fairly complex", 1, 1},
	{"mental strain complex or wide span", 4, 4},
	{"mental strain very complex", 8, 8},
	{"monotony low", 0, 0},
	{"monotony medium", 1, 1},
	{"monotony high", 4, 4},
	{"tedium rather tedious", 0, 0},
	{"tedium tedious", 2, 2},
	{"tedium very tedious", 5, 5},
}

// Allow adds up conditions by the lower end of each; false: one of them is not
// in the table.
func Allow(conditions ...string) (percent float64, ok bool) {
	for _, name := range conditions {
		at := -1
		for i := range Relaxations {
			if Relaxations[i].Condition == name {
				at = i
			}
		}
		if at < 0 {
			return 0, false
		}
		percent += Relaxations[at].Percent
	}
	return percent, true
}
