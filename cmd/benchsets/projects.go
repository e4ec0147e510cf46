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

// loadProject reads a single-mode project of PSPLIB (R. Kolisch, A. Sprecher,
// EJOR 96, 1997).
func loadProject(path string) ([]task, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	p, err := parseProject(string(text))
	if err != nil {
		return nil, err
	}
	return []task{{filepath.Base(path), func(b budget) outcome {
		plan := p.Plan(week.Limits{Deadline: b.deadline, Stop: b.stop, Work: math.MaxInt})
		return outcome{ours: int64(plan.Makespan), solved: plan.Start != nil, bound: int64(plan.Bound), bounded: true,
			proven: plan.Makespan == plan.Bound, invalid: checkProject(p, plan)}
	}}}, nil
}

func parseProject(text string) (week.Project, error) {
	var p week.Project
	section := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		fields := numbersOf(line)
		switch {
		case strings.HasSuffix(line, ":"):
			section = line
		case len(fields) == 0:
		case section == "PRECEDENCE RELATIONS:":
			for _, next := range fields[3:] {
				p.Before = append(p.Before, [2]int{fields[0] - 1, next - 1})
			}
		case section == "REQUESTS/DURATIONS:":
			p.Duration = append(p.Duration, fields[2])
			p.Demand = append(p.Demand, fields[3:])
		case section == "RESOURCEAVAILABILITIES:":
			p.Capacity = fields
		}
	}
	if len(p.Duration) == 0 || len(p.Capacity) == 0 {
		return p, errors.New("no tasks or no resources")
	}
	return p, nil
}

// numbersOf is the numbers of a line; nil when something else stands there.
func numbersOf(line string) []int {
	var out []int
	for _, field := range strings.Fields(line) {
		v, err := strconv.Atoi(field)
		if err != nil {
			return nil
		}
		out = append(out, v)
	}
	return out
}

// checkProject follows a plan: the order and, at each time, the resources.
func checkProject(p week.Project, plan week.ProjectPlan) error {
	if len(plan.Start) != len(p.Duration) {
		return errors.New("not every task has a start")
	}
	used := map[[2]int]int{}
	end := 0
	for i, s := range plan.Start {
		if s < 0 {
			return fmt.Errorf("task %d starts at %d", i, s)
		}
		end = max(end, s+p.Duration[i])
		for t := s; t < s+p.Duration[i]; t++ {
			for r, d := range p.Demand[i] {
				if used[[2]int{t, r}] += d; used[[2]int{t, r}] > p.Capacity[r] {
					return fmt.Errorf("resource %d is overdrawn at %d", r, t)
				}
			}
		}
	}
	for _, pair := range p.Before {
		if plan.Start[pair[0]]+p.Duration[pair[0]] > plan.Start[pair[1]] {
			return fmt.Errorf("task %d starts before task %d ends", pair[1], pair[0])
		}
	}
	if end != plan.Makespan {
		return fmt.Errorf("the plan ends at %d, not %d", end, plan.Makespan)
	}
	return nil
}
