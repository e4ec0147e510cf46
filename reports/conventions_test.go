package reports

import (
	"strings"
	"testing"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// The formulas as they are printed, figured by hand: 13 % of the work time is
// x 1.13, of the shift x 1.149 (S. Konz, chapter on time standards, which gives
// both); an 80 % curve by the unit model has its fourth box at 64 %.
func TestTimeRulesNameBothConventions(t *testing.T) {
	s := settings.Default()
	s.Times.AllowancePercent, s.Times.LearningExponent = 13, 0.3219
	for _, tt := range []struct{ of, model, allowance, otherAllowance, learning, otherLearning string }{
		{"work", "unit", "x 1.130", "x 1.149", "unit (Crawford)", "average (Wright, 1936)"},
		{"shift", "average", "x 1.149", "x 1.130", "average (Wright, 1936)", "unit (Crawford)"},
	} {
		s.Times.AllowanceOf, s.Times.LearningModel = tt.of, tt.model
		rows := TimeRules(&s).Rows
		for k, want := range []string{tt.allowance, tt.otherAllowance, tt.learning, tt.otherLearning} {
			if got := rows[k/2][1+k%2]; !strings.Contains(got, want) {
				t.Errorf("of the %s, by %s: %q, want %q in it", tt.of, tt.model, got, want)
			}
		}
	}
	// 10^-0.3219 = 0.4766 and 10^0.6781 - 9^0.6781 = 0.3286, both under a floor of 0.6 but not of 0.3.
	s.Times.LearningFloor = 0.3
	unit, average := learnt(&s.Times)
	if !strings.HasSuffix(unit, "the tenth 48%") || !strings.HasSuffix(average, "the tenth alone 33%") {
		t.Errorf("%q, %q", unit, average)
	}
}

// Every condition of the table is printed with its percentage, and the name it
// is printed with is one the setting takes.
func TestAllowancesAreListedAsTheyAreRead(t *testing.T) {
	listed := 0
	for _, row := range Allowances(measure.Inches).Rows {
		for text := range strings.SplitSeq(row[1], "; ") {
			condition, share, ok := strings.Cut(text, ": ")
			if !ok {
				condition, share = "", text
			}
			least, _, _ := strings.Cut(share, " to ")
			if _, _, err := settings.Allow("personal; " + strings.TrimSpace(row[0]+" "+condition) + " " + least); err != nil && row[0] != "personal" {
				t.Error(err)
			}
			listed++
		}
	}
	if listed != len(settings.Relaxations) {
		t.Errorf("%d conditions are listed of %d", listed, len(settings.Relaxations))
	}
}
