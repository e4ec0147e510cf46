package week_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/orders/settings"

	"pgregory.net/rapid"
)

// Two boxes: a group each, by the open time of the glue. What a log says is
// taken off; what must have been done before it is too.
func TestWhatIsLoggedIsDone(t *testing.T) {
	noon := at(1, 12, 0)
	all := []string{"mill", "saw U2", "saw U1", "grooves", "glue 1", "sand 1", "coat 1.1", "coat 1.2", "glue 2", "sand 2", "coat 2.1", "coat 2.2"}
	for _, c := range []struct {
		why  string
		logs []jigplan.Logged
		left []string
		text string // of the first that is left
	}{
		{"nothing is logged", nil, all, "mill and cut the parts"},
		{"one element of the milling: the rest of it is left", []jigplan.Logged{{Element: "Crosscut", Count: 16}}, all, "mill and cut the parts"},
		{"all of the milling", []jigplan.Logged{{Element: "Crosscut", Count: 16}, {Element: "Mill face and edge", Count: 16}}, all[1:], "cut the stack of setup U2"},
		{"one of two stack ends; the setup before it must have run, and the milling", []jigplan.Logged{{Element: "Stack end", Stack: "U1-2"}}, all[2:], "cut 2 stacks of setup U1, 1 cut already"},
		{"the same stack end twice is one", []jigplan.Logged{{Element: "Stack end", Stack: "U1-2"}, {Element: "Stack end", Stack: "U1-2"}}, all[2:], "cut 2 stacks of setup U1, 1 cut already"},
		{"all stack ends", []jigplan.Logged{{Stack: "U2-1"}, {Stack: "U1-1"}, {Stack: "U1-2"}}, all[3:], "cut the grooves"},
		{"one box glued", []jigplan.Logged{{Element: "Glue-up", Count: 1, At: noon}}, all[5:], "sand 1 box"},
		{"all boxes glued", []jigplan.Logged{{Element: "Glue-up", Count: 2, At: noon}}, slices.Concat(all[5:8], all[9:]), "sand 1 box"},
		{"glued for hours, nothing finished: only what comes before is done", []jigplan.Logged{{Element: "Glue-up", At: noon}}, all[4:], "glue 1 box"},
		{"two coats are the first of both", []jigplan.Logged{{Element: "Coat", Count: 2}}, []string{"coat 1.2", "coat 2.2"}, "coat 2 on 1 box"},
		{"an element that no task consists of", []jigplan.Logged{{Element: "Change blade"}}, all, "mill and cut the parts"},
		{"a stack of another job", []jigplan.Logged{{Element: "Stack end", Stack: "U9-1"}}, all, "mill and cut the parts"},
	} {
		p := planOf(2)
		job := week.JobOf("7", "Trays", monday, p)
		left, done, _ := week.Left(job, p, c.logs)
		var names []string
		for _, x := range left {
			names = append(names, strings.TrimPrefix(x.ID, "7/"))
		}
		if !slices.Equal(names, c.left) || left[0].What != c.text {
			t.Errorf("%s: left %v, want %v; the first is %q", c.why, names, c.left, left[0].What)
		}
		if len(left)+len(done) != len(job.Tasks) {
			t.Errorf("%s: %d left and %d done of %d", c.why, len(left), len(done), len(job.Tasks))
		}
	}
}

// The crosscuts are a fifth of the milling (3 of 15 minutes a box), the stack
// end 7 of the 5 + 14 minutes of its setup, with the changing over before it.
func TestBegunWorkIsShortened(t *testing.T) {
	p := planOf(10)
	job := week.JobOf("7", "Trays", monday, p)
	left, _, _ := week.Left(job, p, []jigplan.Logged{{Element: "Crosscut", Count: 99}})
	if got, whole := left[0].Minutes, job.Tasks[0].Minutes; got != (whole*4+4)/5 {
		t.Errorf("%d minutes of milling left of %d, want four fifths", got, whole)
	}
	left, _, _ = week.Left(job, p, []jigplan.Logged{{Stack: "U1-1"}})
	if got, whole := left[0].Minutes, job.Tasks[2].Minutes; got != (whole*7+18)/19 {
		t.Errorf("%d minutes of the setup left of %d, want 7 of 19", got, whole)
	}
}

// Glued at noon with a cure of twelve hours: it is sanded when somebody is
// there after midnight, however the week is planned anew.
func TestLoggedWorkCuresFromItsLog(t *testing.T) {
	p := planOf(1)
	job := week.JobOf("7", "Trays", time.Time{}, p)
	left, _, _ := week.Left(job, p, []jigplan.Logged{{Element: "Glue-up", Count: 1, At: at(0, 12, 0)}})
	job.Tasks = left
	s := run(t, []jigplan.Job{job}, settings.Default().Week, 7)
	if b := booking(t, s, "7/sand 1"); !b.Start.Equal(at(1, 8, 0)) {
		t.Errorf("sanded at %s, the glue cures till midnight", b.Start)
	}
}

// What was glued or coated holds its clamps and places from its log on, as long
// as nothing later was done on the same boxes.
func TestLoggedWorkHoldsItsClampsAndPlaces(t *testing.T) {
	p := planOf(2)
	job := week.JobOf("7", "Trays", time.Time{}, p)
	shop := p.Order.Settings.Week
	clampsOff, dry := time.Duration(shop.ClampMinutes)*time.Minute, time.Duration(shop.DryHours)*time.Hour
	for _, c := range []struct {
		why  string
		logs []jigplan.Logged
		want []jigplan.Held
	}{
		{"nothing is logged", nil, nil},
		{"one box glued", []jigplan.Logged{{Element: "Glue-up", Count: 1, At: at(0, 12, 0)}}, []jigplan.Held{{Clamps: shop.ClampsBox, Until: at(0, 12, 0).Add(clampsOff)}}},
		{"its first coat on", []jigplan.Logged{{Element: "Glue-up", Count: 1, At: at(0, 12, 0)}, {Element: "Coat", Count: 1, At: at(1, 9, 0)}},
			[]jigplan.Held{{Space: 1, Until: at(1, 9, 0).Add(dry)}}},
		{"the second coat on it takes the place of the first", []jigplan.Logged{{Element: "Coat", Count: 2, At: at(1, 9, 0)}, {Element: "Coat", Count: 1, At: at(1, 16, 0)}},
			[]jigplan.Held{{Space: 1, Until: at(1, 9, 0).Add(dry)}, {Space: 1, Until: at(1, 16, 0).Add(dry)}}},
	} {
		if _, _, held := week.Left(job, p, c.logs); !slices.Equal(held, c.want) {
			t.Errorf("%s: %v, want %v", c.why, held, c.want)
		}
	}
}

// Places that are taken till the evening let no coat be put on before.
func TestHeldPlacesAreNotTaken(t *testing.T) {
	w := noBuffer()
	coat := jigplan.Task{ID: "coat", Minutes: 30, Place: jigplan.AtFinish, Space: 5, Hold: 60, Wait: 60}
	for _, c := range []struct {
		why   string
		space int
		start time.Time
	}{
		{"enough is left", w.DryingPlaces - 5, at(0, 8, 0)},
		{"one too few: when they are dry", w.DryingPlaces - 4, at(0, 14, 0)},
		{"more than there are", 2 * w.DryingPlaces, at(0, 14, 0)},
	} {
		held := []jigplan.Held{{Space: c.space, Until: at(0, 14, 0)}}
		s := run(t, []jigplan.Job{{ID: "1", Tasks: []jigplan.Task{coat}, Held: held}}, w, 7)
		if b := booking(t, s, "coat"); !b.Start.Equal(c.start) {
			t.Errorf("%s: coated at %s, want %s", c.why, b.Start, c.start)
		}
	}
}

// However work is logged, nothing is left twice, minutes only shrink, and what
// is left makes a schedule that passes the check.
func TestAnyLogLeavesAWeek(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(rapid.IntRange(1, 7).Draw(t, "boxes"))
		shop := settings.Default().Week
		shop.OpenMinutes = 40
		p.Order.Settings.Week = shop
		job := week.JobOf("7", "Trays", monday.AddDate(0, 0, 9), p)
		var logs []jigplan.Logged
		for range rapid.IntRange(0, 8).Draw(t, "logs") {
			logs = append(logs, jigplan.Logged{At: at(0, rapid.IntRange(0, 23).Draw(t, "hour"), 0),
				Element: rapid.SampledFrom([]string{"Mill face and edge", "Crosscut", "Groove", "Glue-up", "Sanding", "Coat", "Rip"}).Draw(t, "element"),
				Stack:   rapid.SampledFrom([]string{"", "", "", "U1-1", "U1-2", "U2-1"}).Draw(t, "stack"),
				Count:   float64(rapid.IntRange(0, 9).Draw(t, "count"))})
		}
		left, done, held := week.Left(job, p, logs)
		if len(left)+len(done) != len(job.Tasks) {
			t.Fatalf("%d left and %d done of %d", len(left), len(done), len(job.Tasks))
		}
		for _, x := range left {
			k := slices.IndexFunc(job.Tasks, func(y jigplan.Task) bool { return y.ID == x.ID })
			if y := job.Tasks[k]; x.Minutes > y.Minutes || x.Boxes > y.Boxes || x.Clamps > y.Clamps || slices.Contains(done, x.ID) || x.Minutes < 1 {
				t.Errorf("%+v is left of %+v", x, y)
			}
		}
		run(t, []jigplan.Job{{ID: "7", Due: job.Due, Tasks: left, Held: held}}, shop, 40)
	})
}
