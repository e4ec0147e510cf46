package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Whether what several processes did at once, and were told, could have been
// done by one after the other, each at some moment between its start and its
// end: the search goes depth first through the orders there are and remembers
// where it has been (Wing and Gong, "Testing and verifying concurrent objects",
// 1993; with the memory of Lowe, "Testing for linearizability", 2017).

// step is one command as it was seen from outside.
type step struct {
	start, end int64 // nanoseconds
	kind       string
	target     string            // a job, or a board
	refused    bool              // for the state of its target, or for want of boards
	job        string            // that was accepted
	boards     []string          // that were taken or freed
	offcuts    []string          // that came back
	states     map[string]string // of every board, as listed
}

// never is the end of a step that may also not come to be.
const never = math.MaxInt64

// ledger is the shop as one person with one pencil would keep it.
type ledger struct {
	boards map[string]string // "free", "reserved 3", "used 3", "removed"
	jobs   map[string]string // "open", "closed"
}

func (l ledger) copy() ledger { return ledger{maps.Clone(l.boards), maps.Clone(l.jobs)} }

func (l ledger) key() string {
	var out strings.Builder
	for _, m := range []map[string]string{l.boards, l.jobs} {
		for _, name := range slices.Sorted(maps.Keys(m)) {
			fmt.Fprintf(&out, "%s=%s;", name, m[name])
		}
	}
	return out.String()
}

// held lists the boards a job holds.
func (l ledger) held(job string) (out []string) {
	for id, state := range l.boards {
		if state == "reserved "+job {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

// after is the ledger when a step is entered now; ok is false when nobody could
// have been told so.
func (l ledger) after(s step) (next ledger, ok bool) {
	next = l.copy()
	switch s.kind {
	case "accept":
		return next, next.accept(s)
	case "cancel", "finish", "lapse":
		return next, next.close(s)
	case "remove":
		if s.refused {
			return next, strings.HasPrefix(l.boards[s.target], "reserved") || strings.HasPrefix(l.boards[s.target], "used")
		}
		next.boards[s.target] = "removed"
		return next, l.boards[s.target] == "free" || l.boards[s.target] == "removed"
	case "list":
		return next, maps.Equal(l.boards, s.states)
	}
	return next, false
}

func (l ledger) accept(s step) bool {
	if s.refused { // only when no whole board is free: one is enough
		for id, state := range l.boards {
			if state == "free" && !strings.Contains(id, ".") {
				return false
			}
		}
		return true
	}
	for _, id := range s.boards {
		if l.boards[id] != "free" {
			return false
		}
		l.boards[id] = "reserved " + s.job
	}
	if s.job != strconv.Itoa(len(l.jobs)+1) {
		return false
	}
	l.jobs[s.job] = "open"
	return true
}

func (l ledger) close(s step) bool {
	if s.refused {
		return l.jobs[s.target] == "closed"
	}
	held := l.held(s.target)
	if l.jobs[s.target] != "open" || s.kind != "lapse" && !slices.Equal(held, s.boards) {
		return false
	}
	l.jobs[s.target] = "closed"
	for _, id := range held {
		l.boards[id] = "free"
		if s.kind == "finish" {
			l.boards[id] = "used " + s.target
		}
	}
	for _, id := range s.offcuts {
		l.boards[id] = "free"
	}
	return true
}

// inSomeOrder reports whether the steps fit a ledger in some order.
func inSomeOrder(start ledger, steps []step) bool {
	if len(steps) > 64 {
		panic("too many steps for one word")
	}
	seen := map[string]bool{}
	var search func(l ledger, done uint64) bool
	search = func(l ledger, done uint64) bool {
		key := strconv.FormatUint(done, 16) + "|" + l.key()
		if seen[key] {
			return false
		}
		seen[key] = true
		first := int64(never) // nothing may begin after this and still come before
		for i, s := range steps {
			if done>>i&1 == 0 {
				first = min(first, s.end)
			}
		}
		if first == never {
			return true // what is left need not come to be
		}
		for i, s := range steps {
			if done>>i&1 == 1 || s.start > first {
				continue
			}
			if next, ok := l.after(s); ok && search(next, done|1<<i) {
				return true
			}
		}
		return false
	}
	return search(start, 0)
}

// The search itself: what can be, and what cannot.
func TestStepsFitInSomeOrder(t *testing.T) {
	two := ledger{map[string]string{"W1": "free", "W2": "free"}, map[string]string{}}
	accept := func(start, end int64, job string, boards ...string) step {
		return step{start: start, end: end, kind: "accept", job: job, boards: boards}
	}
	list := func(start, end int64, one, other string) step {
		return step{start: start, end: end, kind: "list", states: map[string]string{"W1": one, "W2": other}}
	}
	for name, c := range map[string]struct {
		steps []step
		want  bool
	}{
		"one after the other":                {[]step{accept(1, 2, "1", "W1"), accept(3, 4, "2", "W2"), list(5, 6, "reserved 1", "reserved 2")}, true},
		"at once, the later first":           {[]step{accept(1, 9, "2", "W1"), accept(1, 9, "1", "W2")}, true},
		"the later number before it began":   {[]step{accept(1, 2, "2", "W1"), accept(3, 4, "1", "W2")}, false},
		"one board twice":                    {[]step{accept(1, 9, "1", "W1"), accept(1, 9, "2", "W1")}, false},
		"seen before it is done":             {[]step{accept(1, 9, "1", "W1"), list(2, 3, "reserved 1", "free"), list(4, 5, "reserved 1", "free")}, true},
		"seen and gone again":                {[]step{accept(1, 9, "1", "W1"), list(2, 3, "reserved 1", "free"), list(4, 5, "free", "free")}, false},
		"acknowledged and lost":              {[]step{accept(1, 2, "1", "W1"), list(3, 4, "free", "free")}, false},
		"lapsed at some time":                {[]step{accept(1, 2, "1", "W1"), {start: 1, end: never, kind: "lapse", target: "1"}, list(3, 4, "free", "free")}, true},
		"not lapsed yet":                     {[]step{accept(1, 2, "1", "W1"), {start: 1, end: never, kind: "lapse", target: "1"}, list(3, 4, "reserved 1", "free")}, true},
		"refused with a board free":          {[]step{{start: 1, end: 2, kind: "accept", refused: true}}, false},
		"cancelled twice":                    {[]step{accept(1, 2, "1", "W1"), {start: 3, end: 9, kind: "cancel", target: "1", boards: []string{"W1"}}, {start: 3, end: 9, kind: "cancel", target: "1", boards: []string{"W1"}}}, false},
		"cancelled once, the other too late": {[]step{accept(1, 2, "1", "W1"), {start: 3, end: 9, kind: "cancel", target: "1", boards: []string{"W1"}}, {start: 3, end: 9, kind: "cancel", target: "1", refused: true}}, true},
	} {
		if got := inSomeOrder(two, c.steps); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
