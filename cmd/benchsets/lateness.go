package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/check"
	"batchwright/jigplan/week"
	shopset "batchwright/orders/settings"
)

// tardyJobs is one machine and jobs that are to be done by dates.
type tardyJobs struct{ time, weight, due []int }

// loadTardyJobs reads weighted tardiness instances of 40 jobs: all times, then
// all weights, then all due dates, one instance after the other.
func loadTardyJobs(path string) ([]task, error) {
	const jobs = 40
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	numbers := numbersOf(strings.Join(strings.Fields(string(text)), " "))
	if len(numbers) == 0 || len(numbers)%(3*jobs) != 0 {
		return nil, fmt.Errorf("%d numbers: expected whole instances of %d jobs", len(numbers), jobs)
	}
	var tasks []task
	for k := 0; len(numbers) > 0; k++ {
		t := tardyJobs{time: numbers[:jobs], weight: numbers[jobs : 2*jobs], due: numbers[2*jobs : 3*jobs]}
		numbers = numbers[3*jobs:]
		tasks = append(tasks, task{fmt.Sprintf("%s %d", filepath.Base(path), k+1), t.solve})
	}
	return tasks, nil
}

// solve plans the jobs as a week of saw work: one person, and days of five
// minutes, so that a unit of time is a day and tardiness is days late.
func (t tardyJobs) solve(b budget) outcome {
	shop := shopset.Default().Week
	shop.People, shop.BufferPercent, shop.Closed = 1, 0, [7]bool{}
	shop.Morning, shop.Afternoon = shopset.Hours{From: 8 * 60, To: 8*60 + 5}, shopset.Hours{}
	first := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	var jobs []jigplan.Job
	days := 1
	for k, n := range t.time {
		days += n
		id := fmt.Sprint(k)
		jobs = append(jobs, jigplan.Job{ID: id, Due: first.AddDate(0, 0, t.due[k]-1), Weight: t.weight[k],
			Tasks: []jigplan.Task{{ID: id, Job: id, Place: jigplan.AtSaw, Minutes: 5 * n}}})
	}
	s := week.Schedule(week.WeekInput{Jobs: jobs, Halves: week.Calendar(first, days, shop), Week: shop},
		week.Limits{Deadline: b.deadline, Stop: b.stop, Work: math.MaxInt})
	out := outcome{ours: int64(s.LateWeight), solved: len(s.Unplaced) == 0, bound: int64(s.LateBound), bounded: true, proven: s.Proven}
	out.invalid = errors.Join(append(check.Schedule(jobs, shop, s), t.check(s))...)
	return out
}

// check runs the jobs in the order of the schedule: each once, and the cost as
// the schedule says.
func (t tardyJobs) check(s jigplan.Schedule) error {
	ran := map[string]bool{}
	now, cost := 0, 0
	for _, b := range s.Bookings {
		j := 0
		if _, err := fmt.Sscan(b.ID, &j); err != nil || ran[b.ID] {
			return fmt.Errorf("job %q is unknown or runs twice", b.ID)
		}
		ran[b.ID] = true
		now += t.time[j]
		cost += t.weight[j] * max(0, now-t.due[j])
	}
	if len(ran) != len(t.time) || cost != s.LateWeight {
		return fmt.Errorf("%d jobs cost %d, not %d", len(ran), cost, s.LateWeight)
	}
	return nil
}
