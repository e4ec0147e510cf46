package plan

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// anyOrder draws boxes of every proportion and thickness on a rack that may be too
// small, and settings that include nothing at all for kerfs and trims.
func anyOrder(t *rapid.T) *orders.Order {
	o := shopOrder()
	set := func(name string, values ...string) {
		at := settings.Entry{Source: orders.Source{Sheet: "Shop", Cell: "B2"}}
		if err := o.Settings.Set(name, rapid.SampledFrom(values).Draw(t, name), at); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"Crosscut kerf", "Rip kerf", "End trim", "Edge trim", "Part length allowance", "Part width allowance", "Planing allowance", "Proud"} {
		set(name, "0", "1/16", "1/8")
	}
	set("Shortest machine length", "0", "12", "14")
	set("Side starts with", "notch", "pin")
	set("Carriage opening", "2", "4-1/2")
	set("Layout", "best", "edge", "centred")
	sixteenths := func(name string, low, high int) measure.Length {
		return measure.Length(rapid.IntRange(low, high).Draw(t, name)) * in / 16
	}
	for i := range o.Boxes {
		b := &o.Boxes[i]
		b.Count = rapid.IntRange(1, 4).Draw(t, "count")
		b.Length, b.Width, b.Height = sixteenths("length", 70, 400), sixteenths("width", 70, 300), sixteenths("height", 20, 90)
		b.Thickness = sixteenths("thickness", 4, 12)
		b.EndThickness = b.Thickness
		if rapid.Bool().Draw(t, "unequal") {
			b.EndThickness = sixteenths("end thickness", 4, 12)
		}
		b.Matched = rapid.Bool().Draw(t, "matched")
		b.Finger = rapid.SampledFrom([]measure.Length{in / 8, in / 4, in / 2}).Draw(t, "finger")
	}
	o.Rack = o.Rack[:rapid.IntRange(0, len(o.Rack)).Draw(t, "boards")]
	return o
}

// Plan hands its answer to checks that share nothing with it and refuses what
// they refuse, so an order that was read must never come back as an error.
func TestAnyOrderIsPlannedAndChecked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := Plan(anyOrder(t), Options{Limits: nesting.Limits{Seed: 1, Think: time.Millisecond}})
		if err != nil {
			t.Fatal(err)
		}
		placed := map[string]bool{}
		for _, b := range p.Layout.Boards {
			for _, q := range b.Pieces {
				placed[q.Part] = true
			}
		}
		for _, s := range p.Layout.Short {
			placed[s.Part] = true
		}
		for _, part := range p.Parts {
			if !placed[part.ID] {
				t.Errorf("part %s is neither laid nor named as short", part.ID)
			}
		}
	})
}
