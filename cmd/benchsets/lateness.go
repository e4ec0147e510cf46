package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"batchwright/jigplan/week"
)

// loadPlainLines reads weighted tardiness instances of 40 jobs: all times,
// then all weights, then all due dates, one instance after the other.
func loadPlainLines(path string) ([]task, error) {
	const jobs = 40
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	numbers := numbersOf(strings.Join(strings.Fields(string(text)), " "))
	if len(numbers) == 0 || len(numbers)%(3*jobs) != 0 {
		return nil, fmt.Errorf("%d numbers are no whole instances of %d jobs", len(numbers), jobs)
	}
	var tasks []task
	for k := 0; len(numbers) > 0; k++ {
		l := week.Line{Time: numbers[:jobs], Weight: numbers[jobs : 2*jobs], Due: numbers[2*jobs : 3*jobs]}
		numbers = numbers[3*jobs:]
		tasks = append(tasks, lineTask(fmt.Sprintf("%s %d", filepath.Base(path), k+1), l))
	}
	return tasks, nil
}

// loadSetupLines reads an instance with setups between jobs.
func loadSetupLines(path string) ([]task, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var l week.Line
	section := ""
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		v := numbersOf(line)
		switch {
		case strings.HasSuffix(line, ":"):
			section = line
		case len(v) == 1 && section == "Process Times:":
			l.Time = append(l.Time, v[0])
		case len(v) == 1 && section == "Weights:":
			l.Weight = append(l.Weight, v[0])
		case len(v) == 1 && section == "Duedates:":
			l.Due = append(l.Due, v[0])
		case len(v) == 3 && section == "Setup Times:":
			if err := setSetup(&l, v); err != nil {
				return nil, err
			}
		}
	}
	if n := len(l.Time); n == 0 || len(l.Weight) != n || len(l.Due) != n || l.Setup == nil {
		return nil, errors.New("not all of times, weights, due dates and setups")
	}
	return []task{lineTask(filepath.Base(path), l)}, nil
}

func setSetup(l *week.Line, v []int) error {
	n := len(l.Time)
	if l.Setup == nil {
		l.First = make([]int, n)
		for range n {
			l.Setup = append(l.Setup, make([]int, n))
		}
	}
	switch {
	case v[0] >= n || v[1] < 0 || v[1] >= n || v[0] < -1:
		return fmt.Errorf("setup from %s to %s of %d jobs", strconv.Itoa(v[0]), strconv.Itoa(v[1]), n)
	case v[0] == -1:
		l.First[v[1]] = v[2]
	default:
		l.Setup[v[0]][v[1]] = v[2]
	}
	return nil
}

func lineTask(name string, l week.Line) task {
	return task{name, func(b budget) outcome {
		plan := l.Plan(week.Limits{Deadline: b.deadline, Stop: b.stop, Work: math.MaxInt})
		return outcome{ours: int64(plan.Cost), solved: true, bound: int64(plan.Bound), bounded: true,
			proven: plan.Cost == plan.Bound, invalid: checkLine(l, plan)}
	}}
}

// checkLine runs the jobs in order: each once, and the cost as said.
func checkLine(l week.Line, plan week.LinePlan) error {
	ran := make([]bool, len(l.Time))
	now, cost := 0, 0
	for k, j := range plan.Order {
		if j < 0 || j >= len(ran) || ran[j] {
			return fmt.Errorf("job %d is unknown or runs twice", j)
		}
		ran[j] = true
		switch {
		case l.Setup == nil:
		case k == 0:
			now += l.First[j]
		default:
			now += l.Setup[plan.Order[k-1]][j]
		}
		now += l.Time[j]
		if now > l.Due[j] {
			cost += l.Weight[j] * (now - l.Due[j])
		}
	}
	if len(plan.Order) != len(ran) || cost != plan.Cost {
		return fmt.Errorf("%d jobs cost %d, not %d", len(plan.Order), cost, plan.Cost)
	}
	return nil
}
