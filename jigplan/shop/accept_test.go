package shop

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// teaPlanned is one plan for all tests: their first 20 boards are the same.
var teaPlanned *jigplan.Plan

// largeShop is a shop file of so many boards and closed jobs; each job keeps a
// real plan.
func largeShop(tb testing.TB, boards, done int) (*File, Accepted) {
	tb.Helper()
	s, err := Open(ctx, filepath.Join(tb.TempDir(), "shop.db"), Options{})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = s.Close() })
	var list []orders.Board
	for i := range boards {
		list = append(list, orders.Board{ID: fmt.Sprintf("W%d", i+1), Count: 1, Wood: "walnut", Class: "4/4",
			Length: 96 * measure.Inch, Width: measure.Length(4+i%5) * measure.Inch, Cost: 3000, CostKnown: true, Place: "A1",
			Defects: []orders.Defect{{X: 18 * measure.Inch, Length: 2 * measure.Inch, Width: 4 * measure.Inch}}})
	}
	var ready Accepted
	if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) {
		if _, _, err := PutBoards(tx, list, measure.Inches); err != nil {
			return "", err
		}
		free, err := BoardsFor(tx, 0)
		if err != nil {
			return "", err
		}
		if teaPlanned == nil {
			teaPlanned = teaPlan(tb, free[:20])
		}
		ready = Accepted{Order: make([]byte, 10_000), Plan: teaPlanned, Workbook: make([]byte, 100_000)}
		for range done {
			job, err := Accept(tx, ready)
			if err != nil {
				return "", err
			}
			if _, err := CancelJob(tx, job, "old"); err != nil {
				return "", err
			}
		}
		return "a large shop", nil
	}); err != nil {
		tb.Fatal(err)
	}
	return s, ready
}

func teaPlan(tb testing.TB, free []orders.Board) *jigplan.Plan {
	tb.Helper()
	o := &orders.Order{File: "tea.csv", HasRack: true, Rack: free, Settings: settings.Default()}
	o.Boxes = []orders.Box{{Source: orders.Source{Sheet: "tea", Cell: "A2"}, Name: "Tea", Count: 2, Length: 10 * measure.Inch, Width: 6 * measure.Inch,
		Height: 27 * measure.Inch / 8, Thickness: measure.Inch / 2, EndThickness: measure.Inch / 2, Wood: "walnut", Finger: measure.Inch / 4,
		Due: time.Date(2027, 1, 9, 0, 0, 0, 0, time.UTC), Price: 6400}}
	p, err := plan.Plan(o, plan.Options{})
	if err != nil || p.Incomplete() || plan.Failed(p) {
		tb.Fatalf("no plan: %v %+v", err, p.Findings)
	}
	return p
}

func TestFrozenPlansComeBackExactly(t *testing.T) {
	_, ready := largeShop(t, 20, 0)
	frozen, err := Freeze(ready.Plan)
	if err != nil {
		t.Fatal(err)
	}
	back, err := Thaw(frozen)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Freeze(back)
	if err != nil || string(again) != string(frozen) {
		t.Errorf("frozen again it is %d bytes, want the same %d (%v)", len(again), len(frozen), err)
	}
	if fmt.Sprintf("%+v", back.Programs) != fmt.Sprintf("%+v", ready.Plan.Programs) || !reflect.DeepEqual(back.Layout.Boards, ready.Plan.Layout.Boards) {
		t.Error("programs or boards came back changed")
	}
	if _, err := Thaw(frozen[:len(frozen)-9]); err == nil {
		t.Error("a plan cut short was read")
	}
}

// Boards, job and revision are one change: a board that is taken leaves none.
func TestTakenBoardsTakeTheWholeJobWithThem(t *testing.T) {
	s, ready := largeShop(t, 20, 0)
	accept := func() (job int64, err error) {
		err = s.Update(ctx, "anna", func(tx *Tx) (string, error) {
			job, err = Accept(tx, ready)
			return "accept", err
		})
		return job, err
	}
	first, err := accept()
	if err != nil {
		t.Fatal(err)
	}
	_, err = accept()
	var taken *TakenError
	if !errors.As(err, &taken) || taken.Job != first {
		t.Fatalf("the same boards again: %v", err)
	}
	if err := s.View(ctx, func(tx *Tx) error {
		list, err := Jobs(tx, "")
		if len(list) != 1 {
			t.Errorf("%d jobs, want the first alone", len(list))
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if faults, err := Verify(ctx, s); err != nil || len(faults) > 0 {
		t.Errorf("%v %q", err, faults)
	}
}

// harm changes the shop file behind the program's back and puts the triggers
// back that were in the way.
func harm(tx *Tx, query string) error {
	triggers := map[string]string{}
	rows, err := tx.Tx.Query("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var name, sql string
		if err := rows.Scan(&name, &sql); err != nil {
			return err
		}
		triggers[name] = sql
	}
	if _, err := tx.Tx.Exec(query); err != nil {
		return err
	}
	for name, sql := range triggers {
		if strings.Contains(query, "DROP TRIGGER "+name+";") {
			if _, err := tx.Tx.Exec(sql); err != nil {
				return err
			}
		}
	}
	return rows.Err()
}

// Each kind of wrong is found by Faults, and named.
func TestFaultsAreFound(t *testing.T) {
	for name, c := range map[string]struct{ query, says string }{
		"a reservation of a closed job": {"UPDATE jobs SET state = 'cancelled'", "reserved by job 1, which is cancelled"},
		"a board that is free instead":  {"UPDATE boards SET state = 'free', job = NULL WHERE state = 'reserved'", "counts on board"},
		"a board of another job": {"INSERT INTO jobs (id, name, state, accepted, revision) VALUES (9, 'x', 'open', '2026-01-01T00:00:00.000Z', 1); UPDATE boards SET job = 9 WHERE state = 'reserved'",
			"job 1, revision 1, counts on board"},
		"a board twice in two jobs": {"INSERT INTO jobs (id, name, state, accepted, revision) VALUES (9, 'x', 'open', '2026-01-01T00:00:00.000Z', 1); " +
			"INSERT INTO revisions SELECT 9, number, at, kind, file, sha256, profile, boxes, parts, feet, cost, price, minutes, p80, boards, factors FROM revisions WHERE job = 1; " +
			"INSERT INTO papers SELECT 9, number, kind, sha256, data FROM papers WHERE job = 1", "job 9, revision 1, counts on board"},
		"a job without its plan": {"INSERT INTO jobs (id, name, state, accepted, revision) VALUES (9, 'x', 'open', '2026-01-01T00:00:00.000Z', 1)", "job 9 has no plan of its latest revision"},
		"an offcut of no board": {"INSERT INTO boards (id, state, wood, class, thickness, length, width, sheet, offcut, source) VALUES ('Q7.1', 'free', 'oak', '4/4', 0, 9, 9, 0, 1, 'offcut of Q7, job 1')",
			"offcut Q7.1 is of board Q7, which the shop never had"},
		"a gap in the history":       {"DROP TRIGGER history_stays; DELETE FROM history WHERE id = 2", "the history lacks line 2"},
		"the end of the history":     {"DROP TRIGGER history_stays; DROP TRIGGER history_seal_out; DELETE FROM undo; DELETE FROM history WHERE id = (SELECT max(id) FROM history)", "a row of history has changed"},
		"a paper that was changed":   {"DROP TRIGGER papers_are_kept; DROP TRIGGER papers_seal_on; UPDATE papers SET data = x'00' WHERE kind = 'plan'", "a row of papers has changed"},
		"a board changed underneath": {"DROP TRIGGER boards_seal_on; UPDATE boards SET length = length + 1 WHERE id IN (SELECT id FROM boards LIMIT 1)", "a row of boards has changed"},
		"a setting nobody knows":     {"INSERT INTO settings (name, value) VALUES ('Colour', 'red')", "Colour"},
		"two blades at once":         {"INSERT INTO blades (name, kerf, in_use) VALUES ('a', 1, 1), ('b', 1, 1)", "2 blades are in use at once"},
	} {
		s, ready := largeShop(t, 20, 0)
		if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) {
			if _, err := Accept(tx, ready); err != nil {
				return "", err
			}
			return "harm", harm(tx, c.query)
		}); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		faults, err := Verify(ctx, s)
		if err != nil || !strings.Contains(strings.Join(faults, "\n"), c.says) {
			t.Errorf("%s: %q (%v), want %q", name, faults, err, c.says)
		}
	}
}

func TestFinishReturnsCorrectedOffcuts(t *testing.T) {
	s, ready := largeShop(t, 20, 0)
	var job int64
	var left []Returned
	size := Rectangle{10 * measure.Inch, 2 * measure.Inch}
	if err := s.Update(ctx, "anna", func(tx *Tx) (_ string, err error) {
		if job, err = Accept(tx, ready); err != nil {
			return "", err
		}
		left = Leftovers(ready.Plan.Layout.Boards, job)
		_, err = FinishJob(tx, job, Outcome{Offcuts: map[string]Rectangle{left[0].Name: size}, Spoiled: map[string]int{"Tea": 1}})
		return "finish", err
	}); err != nil {
		t.Fatal(err)
	}
	if err := s.View(ctx, func(tx *Tx) error {
		b, err := FindBoard(tx, left[0].Name)
		if err != nil || b == nil || b.State != BoardFree || b.Length != size.Length || b.Width != size.Width || b.Origin != orders.FromOffcut {
			t.Errorf("offcut %+v, %v", b, err)
		}
		counts, err := MadeCounts(tx, job)
		if want := []Made{{Box: "Tea", Planned: 2, Made: 1, Spoiled: 1}}; !slices.Equal(counts, want) {
			t.Errorf("counts %+v, want %+v", counts, want)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// The shop of ten years: 10,000 boards and 2,000 jobs.
func BenchmarkShopFile(b *testing.B) {
	s, ready := largeShop(b, 10_000, 2_000)
	view := func(do func(*Tx) error) func(*testing.B) {
		return func(b *testing.B) {
			for b.Loop() {
				if err := s.View(ctx, do); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
	b.Run("RackList", view(func(tx *Tx) error { _, err := ListBoards(tx, BoardFilter{}); return err }))
	b.Run("JobList", view(func(tx *Tx) error {
		_, err := Jobs(tx, "")
		_, err2 := BoardsOfJobs(tx)
		return errors.Join(err, err2)
	}))
	b.Run("Accept", func(b *testing.B) {
		for b.Loop() {
			var job int64
			if err := s.Update(ctx, "anna", func(tx *Tx) (_ string, err error) {
				job, err = Accept(tx, ready)
				return "accept", err
			}); err != nil {
				b.Fatal(err)
			}
			b.StopTimer()
			if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) { _, err := CancelJob(tx, job, ""); return "cancel", err }); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
		}
	})
	b.Run("Verify", func(b *testing.B) {
		for b.Loop() {
			if faults, err := Verify(ctx, s); err != nil || len(faults) > 0 {
				b.Fatalf("%v %q", err, faults)
			}
		}
	})
}
