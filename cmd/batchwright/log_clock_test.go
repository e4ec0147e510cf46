package main

import (
	"testing"

	"batchwright/jigplan/shop"
)

// Two people work at once: nobody stops the other's clock by saying nothing.
func TestPickClock(t *testing.T) {
	clocks := []shop.Clock{{Element: "Sanding", Who: "anna"}, {Element: "Glue-up", Who: "anna"}, {Element: "Sanding", Who: "bert"}, {Element: "Rip", Who: "bert"}}
	for _, tt := range []struct {
		element, who string
		want         int
	}{
		{"", "anna", 1}, {"", "bert", 3}, {"", "cleo", -1},
		{"sanding", "anna", 0}, {"sanding", "bert", 2}, {"sanding", "cleo", 2}, {"rip", "anna", 3}, {"coat", "anna", -1},
	} {
		if got := pickClock(clocks, tt.element, tt.who); got != tt.want {
			t.Errorf("%s stops %q: clock %d, want %d", tt.who, tt.element, got, tt.want)
		}
	}
}
