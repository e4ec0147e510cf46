package main

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/jigplan"
)

// waysOut prints the commands that answer a plan's refused joints, nearest
// first; a setting on the order's own sheet is changed there.
func (c *common) waysOut(refusals []jigplan.Refusal) {
	var lines []string
	for _, r := range refusals {
		for _, way := range r.Ways {
			if line := wayLine(way); line != "" && !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	if len(lines) > 0 {
		c.sayf("Ways out, nearest first; type one, then plan again:\n%s", strings.Join(lines, "\n"))
	}
}

// wayLine is one way out as it is typed; empty: no one setting does it.
func wayLine(way jigplan.Way) string {
	switch {
	case way.Setting == "":
		return ""
	case way.On.Cell != "":
		return fmt.Sprintf("  write %s in %s (%s)", way.Value, way.On, way.Setting)
	}
	value := way.Value
	if strings.HasPrefix(value, "-") {
		value = "-- " + value
	} else if strings.Contains(value, " ") {
		value = fmt.Sprintf("%q", value)
	}
	return fmt.Sprintf("  batchwright shop set %q %s", way.Setting, value)
}

// refusedJoint says why one joint cannot be cut and what would work, each way
// with the flag that takes it.
func refusedJoint(r *jigplan.Refusal) error {
	if len(r.Ways) == 0 {
		return refuse("%s\nWhat would work: %s", r.Why, r.Nearest)
	}
	text := r.Why + "\nWhat would work, nearest first:"
	for _, way := range r.Ways {
		text += "\n  " + way.Text
		for _, s := range jointSettings {
			if s.setting == way.Setting {
				value := way.Value
				if strings.Contains(value, " ") {
					value = fmt.Sprintf("%q", value)
				}
				text += fmt.Sprintf(": add --%s=%s", s.flag, value)
			}
		}
	}
	return refuse("%s", text)
}
