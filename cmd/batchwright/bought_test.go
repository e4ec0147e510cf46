package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// TestWhatWasBoughtIsReadBack plans an order on an empty rack, writes sizes into
// the Buy sheet as a maker back from the yard does, one board fewer and one of
// another size than planned, puts them on the rack and plans the rest again.
func TestWhatWasBoughtIsReadBack(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	order, batch := filepath.Join(folder, "till.csv"), filepath.Join(folder, "till-batch.xlsx")
	text := "Box,Count,Length,Width,Height,Measured,Thickness,Wood,Bottom\nTill,16,12,8,4,outside,1/2,cherry,groove\n"
	if err := os.WriteFile(order, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	command := func(args ...string) string {
		var said bytes.Buffer
		status := run(context.Background(), world{args: args, out: &said, err: &said, getenv: noShop(folder), now: time.Now})
		if status != exitDone {
			t.Fatalf("%v: exit status %d\n%s", args, status, said.String())
		}
		return said.String()
	}
	command("plan", order, "--think", "0s", "--page", "none")
	filled := fillIn(t, batch, 96, "7 1/2")
	if filled < 2 {
		t.Fatalf("%d rows to fill in", filled)
	}
	command("rack", "import", batch)
	listed := command("rack", "list")
	if strings.Count(listed, "cherry") != 2 || !strings.Contains(listed, "7-1/2") || !strings.Contains(listed, "4/4") {
		t.Errorf("the rack holds\n%s", listed)
	}
	command("rack", "import", batch) // a second time corrects, and adds nothing
	if listed = command("rack", "list"); strings.Count(listed, "cherry") != 2 {
		t.Errorf("read twice, the rack holds\n%s", listed)
	}
	command("plan", order, "--think", "0s", "--page", "none", "--json", filepath.Join(folder, "again.json"))
	again, err := os.ReadFile(filepath.Join(folder, "again.json"))
	if err != nil || !strings.Contains(string(again), `"id": "till B1"`) || !strings.Contains(string(again), `"source": "yard"`) &&
		!strings.Contains(string(again), `"source": "typical"`) {
		t.Errorf("what was bought is not planned on, or the rest is not bought: %v", err)
	}
}

// fillIn writes sizes on the first two rows of cherry, and counts the rows to
// fill in.
func fillIn(t *testing.T, path string, long, wide any) (rows int) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := f.GetRows("Buy")
	if err != nil {
		t.Fatal(err)
	}
	columns := map[string]int{}
	for i, row := range all {
		if columns["Board"] > 0 && len(row) > 0 {
			rows++
			if wood := row[columns["Wood"]-1]; wood == "cherry" && rows <= 2 {
				for name, value := range map[string]any{"Length (in)": long, "Width (in)": wide, "Cost": 41.5} {
					at, err := excelize.CoordinatesToCellName(columns[name], i+1)
					if err == nil {
						err = f.SetCellValue("Buy", at, value)
					}
					if err != nil {
						t.Fatal(err)
					}
				}
			}
		}
		if len(row) > 0 && row[0] == "Board" {
			for k, name := range row {
				columns[name] = k + 1
			}
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
	return rows
}
