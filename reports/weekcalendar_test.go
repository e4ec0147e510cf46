package reports_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/reports"

	"github.com/emersion/go-ical"
)

// The calendar as an independent reader of RFC 5545 takes it, with a name that
// needs escaping and folding within and beside long characters.
func TestWeekCalendar(t *testing.T) {
	w := handWeek()
	name := `Teekästchen; "für Anna\Bert", ` + strings.Repeat("Nußbaum-Schatulle ä ", 8) + "\nsecond line"
	w.Jobs[0].Name = name
	w.Jobs[0].Plan.Buy = []jigplan.Purchase{{What: "cherry", Kind: "wood", Size: "8 ft x 6 in", Count: 3, Board: orders.Board{}, Quantity: "3 boards"}}
	data := reports.WeekCalendar(w)
	if again := reports.WeekCalendar(w); !bytes.Equal(data, again) {
		t.Error("the same week, other bytes")
	}
	if !bytes.HasSuffix(data, []byte("\r\n")) || bytes.Count(data, []byte("\n")) != bytes.Count(data, []byte("\r\n")) {
		t.Error("a line does not end with CRLF (section 3.1)")
	}
	for line := range strings.SplitSeq(string(data), "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("%d octets or a split character in %q (section 3.1)", len(line), line)
		}
	}
	read, err := ical.NewDecoder(bytes.NewReader(data)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	if v, err := read.Props.Text("VERSION"); v != "2.0" || err != nil || read.Props.Get("PRODID") == nil {
		t.Errorf("version %q, %v", v, err)
	}
	seen, kinds := map[string]bool{}, map[string]int{}
	for _, e := range read.Events() {
		uid, _ := e.Props.Text("UID")
		if uid == "" || seen[uid] {
			t.Errorf("UID %q is empty or twice (section 3.8.4.7)", uid)
		}
		seen[uid] = true
		kind, _, _ := strings.Cut(uid, "-")
		kinds[kind]++
		if stamp := e.Props.Get("DTSTAMP"); stamp == nil || !strings.HasSuffix(stamp.Value, "Z") {
			t.Errorf("%s: DTSTAMP is not in UTC (section 3.8.7.2)", uid)
		}
		from, err1 := e.DateTimeStart(nil)
		to, err2 := e.DateTimeEnd(nil)
		if err1 != nil || err2 != nil || !to.After(from) {
			t.Errorf("%s: from %v to %v, %v, %v", uid, from, to, err1, err2)
		}
		if text, err := e.Props.Text("SUMMARY"); err != nil || strings.HasPrefix(text, "Due: Teek") && text != "Due: "+name {
			t.Errorf("%s: %q, want the name as it is", uid, text)
		}
	}
	work := len(reports.HourList(w).Rows)
	if kinds["work"] != work || kinds["due"] != len(reports.DueList(w).Rows) || kinds["wait"] == 0 || kinds["order"] != 1 {
		t.Errorf("%v, want %d of work", kinds, work)
	}
}
