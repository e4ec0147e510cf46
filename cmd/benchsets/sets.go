package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// task is one instance ready to be solved. It does not hold the known value.
type task struct {
	name  string
	solve func(b budget) outcome
}

// budget is what the harness allows a solver.
type budget struct {
	deadline time.Time
	stop     <-chan struct{}
	kerf     int64
}

// outcome is what a solver reached and what the harness' own check says of it.
type outcome struct {
	ours     int64
	solved   bool // there is an answer; false when the search ended without one
	bound    int64
	bounded  bool // there is a proven bound
	proven   bool
	invalid  error  // what is wrong with the answer, nil when it is valid
	skipped  string // why the instance cannot be run this way, "" when it was
	maximise bool   // larger is better
}

// reference is the known value of an instance.
type reference struct {
	value   int64
	given   bool   // some value is known
	meaning string // "optimal" or "best_known"
	weak    bool   // a better value than this "optimum" is no contradiction

	low      int64 // of a range, which is the best known value where more is better
	lowGiven bool
}

// set is the instances of one file or folder.
type set struct {
	name  string
	tasks []task
	known []reference // one a task
}

// family reads the sets of one folder under the benchmark folder.
type family struct {
	folder string
	// load reads what lies at the path, a file or a folder in the family's own;
	// it returns errNoSet for what is none.
	load func(path string) (set, error)
}

// errNoSet says that a path holds no set of the family.
var errNoSet = errors.New("no set")

// families is every kind of set there is; a new one is registered here.
var families = []family{
	{"bench", loadCutting},
	{"schedule-bench", loadTiming},
}

// findSets loads the sets that are asked for, thinned to a few instances of
// each for a quick run. It returns fs.ErrNotExist when no family has a folder.
func findSets(s settings) ([]set, error) {
	var sets []set
	found := false
	for _, f := range families {
		entries, err := os.ReadDir(filepath.Join(s.folder, f.folder))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		found = true
		for _, e := range entries {
			name := strings.TrimSuffix(e.Name(), filepath.Ext(e.Name()))
			if !s.wants(name) {
				continue
			}
			loaded, err := f.load(filepath.Join(s.folder, f.folder, e.Name()))
			if errors.Is(err, errNoSet) {
				continue
			}
			if err != nil {
				return nil, fmt.Errorf("read set %q: %w", e.Name(), err)
			}
			loaded.name = name
			if s.quick {
				loaded = loaded.thin(quickPerSet)
			}
			sets = append(sets, loaded)
		}
	}
	if !found {
		return nil, fs.ErrNotExist
	}
	return sets, nil
}

// quickPerSet keeps a quick run over every set within five minutes.
const quickPerSet = 2

// thin keeps n instances, spread evenly.
func (s set) thin(n int) set {
	if len(s.tasks) <= n {
		return s
	}
	kept := set{name: s.name}
	for k := range n {
		i := (2*k + 1) * len(s.tasks) / (2 * n)
		kept.tasks = append(kept.tasks, s.tasks[i])
		kept.known = append(kept.known, s.known[i])
	}
	return kept
}

// solve runs one task within the limit and returns its outcome and its time.
func (s settings) solve(ctx context.Context, t task) (outcome, time.Duration) {
	start := time.Now()
	o := t.solve(budget{deadline: start.Add(s.limit), stop: ctx.Done(), kerf: s.kerf})
	return o, time.Since(start)
}

// names lists the names of the sets, for messages.
func names(sets []set) string {
	var all []string
	for _, s := range sets {
		all = append(all, s.name)
	}
	slices.Sort(all)
	return strings.Join(all, ", ")
}
