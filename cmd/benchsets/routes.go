package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"batchwright/jigplan/sequence"
)

// loadTour reads an asymmetric tour: the route returns home.
func loadTour(path string) ([]task, error) {
	cost, err := readMatrix(path)
	if err != nil {
		return nil, err
	}
	return routeTask(path, sequence.RouteProblem{Cost: cost, Closed: true}), nil
}

// loadOrdering reads a sequential ordering: -1 at row i, column j says that j
// comes before i. The first node is first and, by that order, the last last.
func loadOrdering(path string) ([]task, error) {
	cost, err := readMatrix(path)
	if err != nil {
		return nil, err
	}
	p := sequence.RouteProblem{Cost: cost}
	for i, row := range cost {
		for j, c := range row {
			if c < 0 && i != j {
				p.Before = append(p.Before, [2]int{j, i})
				row[j] = 0
			}
		}
	}
	return routeTask(path, p), nil
}

func routeTask(path string, p sequence.RouteProblem) []task {
	return []task{{filepath.Base(path), func(b budget) outcome {
		r := sequence.Shortest(p, sequence.Limits{Deadline: b.deadline, Stop: b.stop, Work: math.MaxInt})
		return outcome{ours: int64(r.Length), solved: true, bound: int64(r.Bound), bounded: true,
			proven: r.Length == r.Bound, invalid: checkRoute(p, r)}
	}}}
}

// checkRoute goes along a route: every node once, node 0 first, the order kept
// and the length as said.
func checkRoute(p sequence.RouteProblem, r sequence.Route) error {
	at := make([]int, len(p.Cost))
	for i := range at {
		at[i] = -1
	}
	length := 0
	for i, v := range r.Nodes {
		if v < 0 || v >= len(at) || at[v] >= 0 {
			return fmt.Errorf("node %d is unknown or visited twice", v)
		}
		at[v] = i
		if i > 0 {
			length += p.Cost[r.Nodes[i-1]][v]
		}
	}
	if len(r.Nodes) != len(at) || r.Nodes[0] != 0 {
		return errors.New("not every node is visited, or node 0 is not first")
	}
	if p.Closed {
		length += p.Cost[r.Nodes[len(at)-1]][0]
	}
	if length != r.Length {
		return fmt.Errorf("the route is %d long, not %d", length, r.Length)
	}
	for _, pair := range p.Before {
		if at[pair[0]] > at[pair[1]] {
			return fmt.Errorf("node %d comes after node %d", pair[0], pair[1])
		}
	}
	return nil
}

// readMatrix reads the full matrix of a TSPLIB file (G. Reinelt, ORSA J.
// Computing 3, 1991).
func readMatrix(path string) ([][]int, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	head, body, ok := strings.Cut(string(text), "EDGE_WEIGHT_SECTION")
	if !ok {
		return nil, errors.New("no matrix")
	}
	n := 0
	for line := range strings.Lines(head) {
		if name, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(name) == "DIMENSION" {
			if n, err = strconv.Atoi(strings.TrimSpace(value)); err != nil {
				return nil, err
			}
		}
	}
	var numbers []int
	for _, field := range strings.Fields(body) {
		v, err := strconv.Atoi(field)
		if err != nil {
			break
		}
		numbers = append(numbers, v)
	}
	if len(numbers) == n*n+1 { // orderings repeat the dimension
		numbers = numbers[1:]
	}
	if n == 0 || len(numbers) != n*n {
		return nil, fmt.Errorf("%d numbers for %d nodes", len(numbers), n)
	}
	cost := make([][]int, n)
	for i := range cost {
		cost[i] = numbers[i*n : (i+1)*n]
	}
	return cost, nil
}
