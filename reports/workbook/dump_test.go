package workbook_test

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden dump anew; read the difference before it is committed")

// dump writes every cell of a workbook as text, a row a line.
func dump(t *testing.T, data []byte) string {
	t.Helper()
	f := opened(t, data)
	var out strings.Builder
	for _, sheet := range f.GetSheetList() {
		fmt.Fprintf(&out, "== %s\n", sheet)
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows {
			row = slices.DeleteFunc(row, func(text string) bool { return text == "" }) // what others are merged into
			text := strings.NewReplacer("\u2011", "-", "\u00a0", " ").Replace(strings.Join(row, " | "))
			if text != "" && !strings.HasPrefix(text, "default") && !strings.HasPrefix(text, "Defaults") { // settings have their own tests
				fmt.Fprintf(&out, "%d: %s\n", i+1, strings.ReplaceAll(text, "\n", " / "))
			}
		}
	}
	return out.String()
}

// The golden dump was read by a person once. It is made from a plan that is
// built by hand, so that a better layout does not change it.
func TestWorkbookReadsAsItWasRead(t *testing.T) {
	const golden = "testdata/hand.golden"
	got := dump(t, written(t, handPlan(), "hand.xlsx"))
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		at := firstDifference(got, string(want))
		t.Errorf("the workbook reads differently; run with -update and read the difference\n%s", at)
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\n got %s\nwant %s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
