package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// recorder notes what processes do at once and what they are told.
type recorder struct {
	*bench
	began time.Time
	mu    sync.Mutex
	steps []step
	jobs  []string // accepted so far
}

// do runs one command and notes it. What it may be refused for is a part of
// what it says then.
func (r *recorder) do(s step, refusal string, into any, args ...string) step {
	var out, problems bytes.Buffer
	cmd := r.command(append(args, "--json", "-")...)
	cmd.Stdout, cmd.Stderr = &out, &problems
	s.start = int64(time.Since(r.began))
	err := cmd.Run()
	s.end = int64(time.Since(r.began))
	if err != nil {
		s.refused = true
		if text := out.String() + problems.String(); refusal == "" || !slices.ContainsFunc(strings.Split(refusal, "|"), func(part string) bool { return strings.Contains(text, part) }) {
			r.Errorf("%q: %v\n%s", args, err, text)
		}
		return s
	}
	if err := json.Unmarshal(out.Bytes(), into); err != nil {
		r.Errorf("%q said %q: %v", args, out.String(), err)
	}
	return s
}

func (r *recorder) note(s step) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.steps = append(r.steps, s)
}

func (r *recorder) accept(lapses bool) {
	var got taken
	args := []string{"job", "accept", "--again", "order.csv", "--think", "1s", "-o", os.DevNull}
	if lapses {
		args = append(args, "--until", "2001-01-01")
	}
	s := r.do(step{kind: "accept"}, "already reserved by job|no board is free", &got, args...)
	if s.refused {
		r.note(s)
		return
	}
	s.job, s.boards = got.Job.ID, got.Boards
	r.note(s)
	r.mu.Lock()
	defer r.mu.Unlock()
	r.jobs = append(r.jobs, s.job)
	if lapses {
		r.steps = append(r.steps, step{start: s.start, end: never, kind: "lapse", target: s.job})
	}
}

func (r *recorder) close(kind, job string) {
	var got struct{ Used, Freed, Offcuts []string }
	s := r.do(step{kind: kind, target: job}, "is cancelled|is finished|is lapsed", &got, "job", kind, job)
	s.boards, s.offcuts = append(got.Used, got.Freed...), got.Offcuts
	slices.Sort(s.boards)
	r.note(s)
}

func (r *recorder) list() {
	var got struct{ Boards []boardJSON }
	s := r.do(step{kind: "list", states: map[string]string{}}, "", &got, "rack", "list", "--all")
	for _, b := range got.Boards {
		s.states[b.ID] = strings.TrimSpace(fmt.Sprint(b.State, " ", b.ReservedBy, b.UsedBy))
	}
	r.note(s)
}

// work is one person at it.
func (r *recorder) work(rnd *rand.Rand, n int) {
	for range n {
		r.mu.Lock()
		job := ""
		if len(r.jobs) > 0 {
			job = r.jobs[max(0, len(r.jobs)-1-rnd.IntN(3))]
		}
		r.mu.Unlock()
		switch k := rnd.IntN(10); {
		case k < 4 || job == "" && k < 7:
			r.accept(k == 0)
		case k < 6:
			r.close("cancel", job)
		case k < 7:
			r.close("finish", job)
		case k < 8:
			id := fmt.Sprintf("W%d", 1+rnd.IntN(5))
			r.note(r.do(step{kind: "remove", target: id}, "already reserved by job|was used up by job", &struct{}{}, "rack", "remove", id, "--reason", "split"))
		default:
			r.list()
		}
	}
}

// What two to four people at once were told can be put into an order in which
// one alone would have been told the same; told otherwise, it cannot.
func TestSurvivesHistories(t *testing.T) {
	histories, planted, found := counts(2, 60), 0, 0
	total := 0
	for h := range histories {
		b := newBench(t)
		if err := os.Remove(b.shop); err != nil {
			t.Fatal(err)
		}
		b.file("rack.csv", boardList("W", 5))
		if out, err := b.command("rack", "import", "rack.csv").CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		// Nothing is bought, so that acceptances compete for the five boards.
		if out, err := b.command("shop", "set", "Buy what is missing", "no").CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		r := &recorder{bench: b, began: time.Now()}
		people := 2 + h%3
		var all sync.WaitGroup
		for p := range people {
			all.Go(func() { r.work(rand.New(rand.NewPCG(uint64(h), uint64(p))), 24/people) })
		}
		all.Wait()
		r.list()
		b.sound()
		start := ledger{map[string]string{}, map[string]string{}}
		for i := range 5 {
			start.boards[fmt.Sprintf("W%d", i+1)] = "free"
		}
		total += len(r.steps)
		if !inSomeOrder(start, r.steps) {
			t.Errorf("history %d fits no order:\n%+v", h, r.steps)
			continue
		}
		for i := range r.steps {
			if wrong := wronged(r.steps, i); wrong != nil {
				if planted++; !inSomeOrder(start, wrong) {
					found++
				}
			}
		}
	}
	t.Logf("%d histories, %d steps, each in some order; %d planted faults, %d of them found", histories, total, planted, found)
	if found < planted*9/10 || planted == 0 {
		t.Errorf("%d of %d planted faults were found", found, planted)
	}
}

// wronged is a history with one step told otherwise than it was: an acceptance
// given a board it did not get, a refusal to close what was closed, a list with
// a reserved board free; nil where there is nothing to tell.
func wronged(steps []step, at int) []step {
	out := slices.Clone(steps)
	s := &out[at]
	switch {
	case s.kind == "accept" && !s.refused && len(s.boards) > 0 && s.boards[0] != "W1":
		s.boards = []string{"W1"}
	case (s.kind == "cancel" || s.kind == "finish") && !s.refused:
		s.refused = true
	case s.kind == "list":
		for _, id := range []string{"W1", "W2", "W3", "W4", "W5"} {
			if strings.HasPrefix(s.states[id], "reserved") {
				states := map[string]string{}
				for k, v := range s.states {
					states[k] = v
				}
				states[id] = "free"
				s.states = states
				return out
			}
		}
		return nil
	default:
		return nil
	}
	return out
}
