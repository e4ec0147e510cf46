package shop

import (
	"errors"
	"path/filepath"
	"reflect"
	"testing"
	"time"
)

func testShop(t *testing.T) func(func(*Tx) error) {
	t.Helper()
	s, err := Open(ctx, filepath.Join(t.TempDir(), "shop.db"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return func(do func(*Tx) error) {
		t.Helper()
		if err := s.Update(ctx, "anna", func(tx *Tx) (string, error) { return "test", do(tx) }); err != nil {
			t.Fatal(err)
		}
	}
}

func day(n int) time.Time { return time.Date(2027, 1, n, 0, 0, 0, 0, time.UTC) }

func TestAJobIsKeptAsItWas(t *testing.T) {
	do := testShop(t)
	job := Job{Name: "fair.xlsx", Customer: "the spring fair", Due: day(9), Held: day(5)}
	revision := Revision{File: "fair.xlsx", SHA256: "ab", Profile: 3, Boxes: 4, Parts: 16, Feet: 7.5, Cost: 4000, Price: 25600, Minutes: 90.5, P80: 101,
		Boards: []string{"W1", "W2#1"}, Factors: map[string]float64{"Sanding": 1.25}}
	papers := Papers{Order: []byte("order"), Plan: []byte{0, 1, 2}, Workbook: []byte("book")}
	do(func(tx *Tx) error {
		id, err := addJob(tx, job, revision, papers)
		if err != nil {
			return err
		}
		got, err := FindJob(tx, id)
		job.ID, job.State, job.Revision, job.Accepted = id, JobOpen, 1, got.Accepted
		if !reflect.DeepEqual(got, job) {
			t.Errorf("%+v, want %+v", got, job)
		}
		list, err2 := Revisions(tx, id)
		revision.Job, revision.Number, revision.Kind, revision.At = id, 1, KindAccept, list[0].At
		if !reflect.DeepEqual(list, []Revision{revision}) {
			t.Errorf("%+v, want %+v", list, revision)
		}
		kept, err3 := ReadPapers(tx, id, 1)
		if !reflect.DeepEqual(kept, papers) {
			t.Errorf("%+v, want %+v", kept, papers)
		}
		return errors.Join(err, err2, err3)
	})
	// A closed job keeps its papers.
	do(func(tx *Tx) error {
		if err := CloseJob(tx, 1, JobFinished, ""); err != nil {
			return err
		}
		kept, err := ReadPapers(tx, 1, 1)
		if !reflect.DeepEqual(kept, papers) {
			t.Errorf("%+v", kept)
		}
		for name, err := range map[string]error{"closed twice": CloseJob(tx, 1, JobCancelled, ""), "no job": CloseJob(tx, 7, JobCancelled, "")} {
			if !errors.Is(err, ErrNoJob) {
				t.Errorf("%s: %v", name, err)
			}
		}
		if _, err := revise(tx, Revision{Job: 1, Kind: KindChange}, papers); !errors.Is(err, ErrNoJob) {
			t.Errorf("a closed job was changed: %v", err)
		}
		return err
	})
}

func TestInForce(t *testing.T) {
	kinds := func(list ...RevisionKind) (out []Revision) {
		for i, k := range list {
			out = append(out, Revision{Number: i + 1, Kind: k})
		}
		return out
	}
	for _, tt := range []struct {
		all  []Revision
		want int // first number that holds
	}{
		{kinds(KindAccept), 1}, {kinds(KindAccept, KindChange), 2}, {kinds(KindAccept, KindRecut, KindRecut), 1}, {kinds(KindAccept, KindChange, KindRecut), 2},
	} {
		if got := RevisionsInForce(tt.all); got[0].Number != tt.want || got[len(got)-1].Number != len(tt.all) {
			t.Errorf("%+v: %+v", tt.all, got)
		}
	}
}

// A reservation holds through its day and lapses the day after.
func TestOverdue(t *testing.T) {
	testShop(t)(func(tx *Tx) error {
		for _, held := range []time.Time{{}, day(5)} {
			if _, err := addJob(tx, Job{Name: "x", Held: held}, Revision{}, Papers{Plan: []byte{1}}); err != nil {
				return err
			}
		}
		for n, want := range map[int]int{4: 0, 5: 0, 6: 1} {
			late, err := Overdue(tx, day(n))
			if err != nil || len(late) != want {
				t.Errorf("on day %d: %+v, %v", n, late, err)
			}
		}
		return nil
	})
}

func TestRecordsAreFrozen(t *testing.T) {
	testShop(t)(func(tx *Tx) error {
		if _, err := addJob(tx, Job{Name: "x"}, Revision{}, Papers{Plan: []byte{1}}); err != nil {
			return err
		}
		for _, query := range []string{"UPDATE revisions SET cost = 0", "DELETE FROM revisions", "UPDATE papers SET data = x'02'", "DELETE FROM papers"} {
			if _, err := tx.Exec(query); err == nil {
				t.Errorf("%s was carried out", query)
			}
		}
		// A paper that is not what was put in, whatever changed it, is not read.
		_, err := tx.Exec("INSERT INTO papers (job, number, kind, sha256, data) VALUES (1, 1, 'workbook', 'another', x'02')")
		if _, bad := ReadPapers(tx, 1, 1); !errors.Is(bad, ErrDamaged) {
			t.Errorf("a changed paper was read: %v", bad)
		}
		return err
	})
}
