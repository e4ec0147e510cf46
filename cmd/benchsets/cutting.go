package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// instance is one cutting instance as its file gives it, sizes in whole units.
type instance struct {
	name   string
	kind   string
	goal   string
	cuts   string
	turn   bool // items may be turned
	kerf   int64
	stocks []cuttingStock
	items  []cuttingItem
}

// unlimited is the count of what there is no limit of.
const unlimited = int64(-1)

type cuttingStock struct {
	id            string
	length, width int64
	count         int64 // or unlimited
	cost          int64
	defects       []cuttingDefect
}

type cuttingItem struct {
	length, width int64
	demand        int64 // or unlimited
	value         int64
}

type cuttingDefect struct{ x, y, length, width int64 }

// cuttingKinds runs each kind of cutting instance; a new kind is registered
// here, in a file of its own.
var cuttingKinds = map[string]func(instance, budget) outcome{
	"csp1d":    runOrder,
	"gcsp2d":   runOrder,
	"vsgcsp2d": runOrder,
}

// loadCutting reads a file of cutting instances whose kinds are registered.
func loadCutting(path string) (set, error) {
	if filepath.Ext(path) != ".txt" {
		return set{}, errNoSet
	}
	instances, known, err := parseCutting(path)
	if err != nil {
		return set{}, err
	}
	var s set
	for i, c := range instances {
		solve, ok := cuttingKinds[c.kind]
		if !ok {
			continue
		}
		s.tasks = append(s.tasks, task{c.name, func(b budget) outcome { return runShifted(c, b, solve) }})
		s.known = append(s.known, known[i])
	}
	if len(s.tasks) == 0 {
		return set{}, errNoSet
	}
	return s, nil
}

// runShifted solves the instance as it is, or with b.kerf the same problem with
// all sizes reduced by the kerf, which has the same value: a cut then takes what
// the sizes lost.
func runShifted(c instance, b budget, solve func(instance, budget) outcome) outcome {
	if b.kerf == 0 {
		return solve(c, b)
	}
	for _, s := range c.stocks {
		if len(s.defects) > 0 {
			return outcome{skipped: "a stock with defects has no exactly shifted instance"}
		}
	}
	return solve(c.shift(b.kerf), b)
}

// shift returns the instance reduced by the kerf; for one dimension the lengths
// alone. Where an item is no larger than the kerf, all sizes are first made a
// kerf more times as large.
func (c instance) shift(kerf int64) instance {
	flat := c.cuts == "1d"
	scale := int64(1)
	for _, it := range c.items {
		if it.length <= kerf || it.width <= kerf && !flat {
			scale = kerf + 1
		}
	}
	reduce := func(length, width int64) (int64, int64) {
		if flat {
			return length*scale - kerf, width
		}
		return length*scale - kerf, width*scale - kerf
	}
	c.kerf = kerf
	c.stocks, c.items = slices.Clone(c.stocks), slices.Clone(c.items)
	for i, s := range c.stocks {
		c.stocks[i].length, c.stocks[i].width = reduce(s.length, s.width)
	}
	for i, it := range c.items {
		c.items[i].length, c.items[i].width = reduce(it.length, it.width)
	}
	return c
}

// parseCutting reads the blocks of a file: the instances, and apart from them
// what is known of each.
func parseCutting(path string) ([]instance, []reference, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	var instances []instance
	var known []reference
	var c instance
	var r reference
	scan := bufio.NewScanner(file)
	scan.Buffer(nil, 1<<20)
	for n := 1; scan.Scan(); n++ {
		key, rest, _ := strings.Cut(strings.TrimSpace(scan.Text()), " ")
		switch key {
		case "INSTANCE":
			c, r = instance{name: rest}, reference{}
		case "OPT", "BOUNDS":
			err = r.parse(key, rest)
		case "SRC":
			r.weak = rest == "Russo2014" // read from the data files, not proven again
		case "END":
			if c.goal == "max_value" && r.meaning == "best_known" {
				r.value, r.given = r.low, r.lowGiven
			}
			instances, known = append(instances, c), append(known, r)
		default:
			err = c.parse(key, rest)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("line %d: %w", n, err)
		}
	}
	return instances, known, scan.Err()
}

// parse reads an OPT or BOUNDS line.
func (r *reference) parse(key, rest string) error {
	fields := strings.Fields(rest)
	if key == "OPT" && len(fields) == 1 {
		v, err := strconv.ParseInt(fields[0], 10, 64)
		r.value, r.given, r.meaning = v, true, "optimal"
		return err
	}
	if key != "BOUNDS" || len(fields) != 2 {
		return fmt.Errorf("%q is no %s line", rest, key)
	}
	r.meaning = "best_known"
	r.low, r.lowGiven = parseKnown(fields[0])
	r.value, r.given = parseKnown(fields[1])
	return nil
}

func parseKnown(text string) (int64, bool) {
	v, err := strconv.ParseInt(text, 10, 64)
	return v, err == nil
}

// parse reads any other line of a block.
func (c *instance) parse(key, rest string) error {
	switch key {
	case "KIND":
		c.kind = rest
	case "GOAL":
		c.goal = rest
	case "CUTS":
		c.cuts = rest
	case "ROTATE":
		c.turn = rest == "1"
	case "KERF":
		v, err := parseNumbers(rest, 1)
		if err != nil {
			return err
		}
		c.kerf = v[0]
	case "STOCK":
		id, rest, _ := strings.Cut(rest, " ")
		v, err := parseNumbers(rest, 4)
		if err != nil {
			return err
		}
		c.stocks = append(c.stocks, cuttingStock{id: id, length: v[0], width: v[1], count: v[2], cost: v[3]})
	case "ITEM":
		_, rest, _ := strings.Cut(rest, " ")
		v, err := parseNumbers(rest, 4)
		if err != nil {
			return err
		}
		c.items = append(c.items, cuttingItem{v[0], v[1], v[2], v[3]})
	case "DEFECT":
		return c.parseDefect(rest)
	}
	return nil
}

func (c *instance) parseDefect(rest string) error {
	id, rest, _ := strings.Cut(rest, " ")
	v, err := parseNumbers(rest, 4)
	if err != nil {
		return err
	}
	for i := range c.stocks {
		if c.stocks[i].id == id {
			c.stocks[i].defects = append(c.stocks[i].defects, cuttingDefect{v[0], v[1], v[2], v[3]})
			return nil
		}
	}
	return fmt.Errorf("defect on stock %q, which the block does not have", id)
}

// parseNumbers reads n whole numbers, "*" being unlimited.
func parseNumbers(text string, n int) ([]int64, error) {
	fields := strings.Fields(text)
	if len(fields) != n {
		return nil, fmt.Errorf("%q has %d fields, want %d", text, len(fields), n)
	}
	numbers := make([]int64, n)
	for i, f := range fields {
		if f == "*" {
			numbers[i] = unlimited
			continue
		}
		v, err := strconv.ParseInt(f, 10, 64)
		if err != nil {
			return nil, fmt.Errorf("%q is no whole number", f)
		}
		numbers[i] = v
	}
	return numbers, nil
}
