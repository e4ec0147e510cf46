package batch

import (
	"errors"
	"fmt"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/schedule"
	"batchwright/orders"
)

// Open is an accepted order whose work is not done.
type Open struct {
	ID, Name string
	Due      time.Time // zero: no date
	Weight   int       // how much a day late matters; 0 counts as 1
	Plan     *jigplan.Plan
	Done     []string             // ids of its tasks that are done: "12/mill"
	Pinned   map[string]time.Time // task id -> when it must start
}

// Jobs are the tasks that open orders still ask for.
func Jobs(open []Open) []jigplan.Job {
	var out []jigplan.Job
	for _, o := range open {
		job := schedule.JobOf(o.ID, o.Name, o.Due, o.Plan)
		job.Weight = max(1, o.Weight)
		done := map[string]bool{}
		for _, id := range o.Done {
			done[id] = true
		}
		left := job.Tasks[:0]
		for _, t := range job.Tasks {
			if done[t.ID] {
				continue
			}
			t.Pinned = o.Pinned[t.ID]
			left = append(left, t)
		}
		job.Tasks = left
		out = append(out, job)
	}
	return out
}

// Week puts the work of open orders on the clock from a time on, over so many
// days. An error means that the check found fault with the schedule.
func Week(open []Open, from time.Time, days int, w orders.Week, limits schedule.Limits) (jigplan.Schedule, error) {
	jobs := Jobs(open)
	s := schedule.Week(schedule.WeekInput{Jobs: jobs, Halves: schedule.Calendar(from, days, w), Week: w}, limits)
	if faults := check.Schedule(jobs, w, s); len(faults) > 0 {
		return s, fmt.Errorf("the schedule fails its check: %w", errors.Join(faults...))
	}
	return s, nil
}
