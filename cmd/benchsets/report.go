package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"strings"
	"time"

	"github.com/jedib0t/go-pretty/v6/table"
)

// line is one instance in the OUT file.
type line struct {
	Set      string  `json:"set"`
	Instance string  `json:"instance"`
	Known    *int64  `json:"known"`
	Meaning  string  `json:"meaning"`
	Ours     *int64  `json:"ours"`
	Bound    *int64  `json:"bound"`
	Proven   bool    `json:"proven"`
	Valid    bool    `json:"valid"`
	Seconds  float64 `json:"seconds"`
	Commit   string  `json:"commit"`
}

// tally sums up one set.
type tally struct {
	instances, atKnown, proven int
	gapSum, gapWorst           float64 // over the instances with a known value and an answer
	gaps                       int
	total, worst               time.Duration
	wrong                      int // invalid, or contradicting a known optimum
	better                     int // valid answers better than the known value
	skipped                    int
}

// measureSets solves every task, writes the lines and the table, and reports
// whether nothing was wrong.
func measureSets(ctx context.Context, s settings, sets []set, out, screen io.Writer) (good bool, err error) {
	if len(sets) == 0 {
		fmt.Fprintf(screen, "no set has %q in its name\n", strings.Join(s.sets, ","))
		return true, nil
	}
	fmt.Fprintf(screen, "%s; %v an instance; kerf %d\n", names(sets), s.limit, s.kerf)
	encoder := json.NewEncoder(out)
	commit := commitNow()
	tallies := make([]tally, len(sets))
	good = true
	for i, one := range sets {
		for k, t := range one.tasks {
			if ctx.Err() != nil {
				break
			}
			o, took := s.solve(ctx, t)
			wrong := contradiction(o, one.known[k])
			if wrong != "" {
				good = false
				fmt.Fprintf(screen, "WRONG %s %s: %s\n", one.name, t.name, wrong)
			} else if o.beats(one.known[k]) && one.known[k].meaning == "optimal" {
				fmt.Fprintf(screen, "BETTER %s %s: answer %d passed the check, the optimum listed is %d\n",
					one.name, t.name, o.ours, one.known[k].value)
			}
			tallies[i].add(o, one.known[k], took, wrong != "")
			if o.skipped != "" {
				fmt.Fprintf(screen, "skipped %s %s: %s\n", one.name, t.name, o.skipped)
				continue
			}
			if err := encoder.Encode(newLine(one.name, t.name, commit, o, one.known[k], took)); err != nil {
				return false, err
			}
		}
	}
	printTable(screen, sets, tallies)
	return good, nil
}

func newLine(set, instance, commit string, o outcome, known reference, took time.Duration) line {
	l := line{Set: set, Instance: instance, Meaning: known.meaning, Proven: o.proven,
		Valid: o.solved && o.invalid == nil, Seconds: took.Seconds(), Commit: commit}
	if known.given {
		l.Known = &known.value
	}
	if o.solved {
		l.Ours = &o.ours
	}
	if o.bounded {
		l.Bound = &o.bound
	}
	return l
}

// contradiction says what cannot be true of an outcome, "" when nothing.
func contradiction(o outcome, known reference) string {
	sign := int64(1)
	if o.maximise {
		sign = -1
	}
	optimal := known.given && known.meaning == "optimal" && !known.weak
	switch {
	case o.solved && o.invalid != nil:
		return "invalid answer: " + o.invalid.Error()
	case o.solved && optimal && sign*o.ours < sign*known.value:
		return fmt.Sprintf("answer %d is better than the optimum %d", o.ours, known.value)
	case o.bounded && known.given && !known.weak && sign*o.bound > sign*known.value:
		return fmt.Sprintf("bound %d is beyond the known value %d", o.bound, known.value)
	case o.bounded && o.solved && sign*o.bound > sign*o.ours:
		return fmt.Sprintf("bound %d is beyond the answer %d", o.bound, o.ours)
	}
	return ""
}

// beats reports whether a valid answer is better than the known value.
func (o outcome) beats(known reference) bool {
	if !o.solved || o.invalid != nil || !known.given {
		return false
	}
	if o.maximise {
		return o.ours > known.value
	}
	return o.ours < known.value
}

func (t *tally) add(o outcome, known reference, took time.Duration, wrong bool) {
	if o.skipped != "" {
		t.skipped++
		return
	}
	t.instances++
	t.total += took
	t.worst = max(t.worst, took)
	if wrong {
		t.wrong++
	}
	if o.proven {
		t.proven++
	}
	if o.beats(known) {
		t.better++
	}
	if !o.solved || !known.given {
		return
	}
	gap := float64(o.ours - known.value)
	if o.maximise {
		gap = -gap
	}
	if known.value != 0 {
		gap /= float64(known.value)
	}
	if gap <= 0 {
		t.atKnown++
	}
	t.gaps++
	t.gapSum += gap
	t.gapWorst = max(t.gapWorst, gap)
}

// printTable prints one row a set.
func printTable(w io.Writer, sets []set, tallies []tally) {
	tab := table.NewWriter()
	tab.SetOutputMirror(w)
	tab.AppendHeader(table.Row{"set", "instances", "at known", "better", "proven", "mean gap %", "worst gap %", "total s", "worst s", "wrong"})
	for i, t := range tallies {
		if t.instances == 0 {
			continue
		}
		tab.AppendRow(table.Row{sets[i].name, t.instances, t.atKnown, t.better, t.proven,
			fmt.Sprintf("%.3f", 100*t.gapSum/float64(max(t.gaps, 1))), fmt.Sprintf("%.3f", 100*t.gapWorst),
			fmt.Sprintf("%.1f", t.total.Seconds()), fmt.Sprintf("%.2f", t.worst.Seconds()), t.wrong})
	}
	tab.Render()
}

// commitNow names the commit that is measured, "unknown" without version control.
func commitNow() string {
	id, err := exec.Command("git", "rev-parse", "--short=12", "HEAD").Output()
	if err != nil {
		return "unknown"
	}
	commit := strings.TrimSpace(string(id))
	if changed, err := exec.Command("git", "status", "--porcelain", "--untracked-files=no").Output(); err == nil && len(changed) > 0 {
		commit += "+changes"
	}
	return commit
}
