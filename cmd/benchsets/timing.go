package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// timingKinds reads one file of each folder of sequencing and scheduling
// instances into tasks, in the order of the file; a new kind is registered
// here, in a file of its own.
var timingKinds = map[string]func(path string) ([]task, error){
	"atsp": loadTour,
	"sop":  loadOrdering,
	"wt40": loadTardyJobs,
}

// loadTiming reads a folder of instances with the known values beside them.
func loadTiming(folder string) (set, error) {
	load, ok := timingKinds[filepath.Base(folder)]
	if !ok {
		return set{}, errNoSet
	}
	rows, err := readKnown(filepath.Join(folder, "known.csv"))
	if err != nil {
		return set{}, err
	}
	var s set
	loaded := map[string][]task{}
	for _, row := range rows {
		if loaded[row.file] == nil {
			if loaded[row.file], err = load(filepath.Join(folder, row.file)); err != nil {
				return set{}, fmt.Errorf("%s: %w", row.file, err)
			}
		}
		if row.position > len(loaded[row.file]) {
			return set{}, fmt.Errorf("%s holds no instance %d", row.file, row.position)
		}
		s.tasks = append(s.tasks, loaded[row.file][row.position-1])
		s.known = append(s.known, row.reference)
	}
	return s, nil
}

// knownRow is one row of a known.csv.
type knownRow struct {
	file     string
	position int // in the file, from 1
	reference
}

func readKnown(path string) ([]knownRow, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(lines) == 0 {
		return nil, errors.New("known.csv is empty")
	}
	column := map[string]int{}
	for i, name := range lines[0] {
		column[name] = i
	}
	cell := func(line []string, name string) string {
		if i, ok := column[name]; ok {
			return line[i]
		}
		return ""
	}
	var rows []knownRow
	for _, line := range lines[1:] {
		row := knownRow{file: cell(line, "file"), position: 1}
		row.meaning = cell(line, "meaning")
		row.value, row.given = parseKnown(cell(line, "known"))
		if better, ok := parseKnown(cell(line, "our_check_run")); ok && better < row.value {
			row.value = better
		}
		if at, err := strconv.Atoi(cell(line, "position_in_file")); err == nil {
			row.position = at
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// numbersOf is the numbers of a line; nil when anything else is in it.
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
