package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/improve"
	"batchwright/jigplan/plan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// improving is what the improve command was asked.
type improving struct {
	height, length, width string
	try                   []string
	apply                 bool
}

func improveCommand(c *common) *cobra.Command {
	var a improving
	cmd := &cobra.Command{
		Use:   "improve ORDER.xlsx",
		Short: "Find small changes to an order that would pay",
		Long: "Plans the order again and again, each time with one small change, and lists the changes that save\n" +
			"money, time or setups. Every figure is the difference of two checked plans. The order is not changed;\n" +
			"--apply writes a new order with the best changes made and marked.",
		Example: "  batchwright improve spring.xlsx\n" +
			"  batchwright improve spring.xlsx --try heights,woods --height 1/16\n" +
			"  batchwright improve spring.xlsx --apply",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !cmd.Flags().Changed("think") {
				c.think = improveThink
			}
			return c.improve(cmd.Context(), args[0], &a)
		},
	}
	c.orderFlags(cmd)
	f := cmd.Flags()
	f.StringVar(&a.height, "height", "", "how far a height may move, a `LENGTH` (default 1/8 in or 3 mm; \"Height may vary\" in the order comes first)")
	f.StringVar(&a.length, "length", "", "how far the length of a box measured outside may move, a `LENGTH` (default 1/4 in or 6 mm)")
	f.StringVar(&a.width, "width", "", "the same for the width, a `LENGTH`")
	f.StringSliceVar(&a.try, "try", nil, "try these `KINDS` only: "+kindNames())
	f.BoolVar(&a.apply, "apply", false, "write ORDER-improved.xlsx with the best changes made and marked (-o names it)")
	f.Lookup("think").DefValue = improveThink.String()
	return cmd
}

// improveThink is the default of --think for many plans.
const improveThink = 20 * time.Second

func kindNames() string {
	var names []string
	for _, k := range improve.Kinds {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

// improve looks for changes of an order that pay.
func (c *common) improve(ctx context.Context, path string, a *improving) error {
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	shop, err := c.shopFor(ctx, 0)
	if err != nil {
		return err
	}
	read := func(edits []orders.Edit) (*orders.Order, error) {
		o, err := intake.ReadEdited(path, data, shop.settings.Clone(), edits)
		if err == nil {
			shop.furnish(o)
		}
		return o, err
	}
	order, err := read(nil)
	if err != nil {
		return refuse("%w", err)
	}
	if p := plan.Findings(order); orderFailed(p) {
		c.show([]reports.Table{reports.FindingTable(p)})
		return refuse("%s has errors: correct them first", filepath.Base(path))
	}
	if err := asksForBoxes(path, order); err != nil {
		return err
	}
	request, err := c.improvement(order, a)
	if err != nil {
		return err
	}
	request.Read = read
	return c.findImprovements(ctx, path, data, a, request)
}

// improvement is the request for a search, its limits read and checked.
func (c *common) improvement(order *orders.Order, a *improving) (r improve.Request, err error) {
	if c.think <= 0 {
		return r, exit{exitUsage, errors.New("--think 0s tries nothing: give improve some time, for example --think 20s")}
	}
	r = improve.Request{Order: order, Think: c.think}
	height, size := measure.Inch/8, measure.Inch/4
	if order.Settings.Units.Metric() {
		height, size = 3*measure.Millimetre, 6*measure.Millimetre
	}
	if r.Limits.Height, err = limit("height", a.height, height, order); err != nil {
		return r, err
	}
	if r.Limits.Length, err = limit("length", a.length, size, order); err != nil {
		return r, err
	}
	if r.Limits.Width, err = limit("width", a.width, size, order); err != nil {
		return r, err
	}
	for _, name := range a.try {
		k := improve.Kind(strings.ToLower(strings.TrimSpace(name)))
		if !strings.Contains(", "+kindNames()+",", ", "+string(k)+",") {
			return r, exit{exitUsage, fmt.Errorf("--try %q is not a kind of change; the kinds are %s", name, kindNames())}
		}
		r.Kinds = append(r.Kinds, k)
	}
	return r, nil
}

// limit reads how far a size may move.
func limit(flag, text string, usual measure.Length, o *orders.Order) (measure.Length, error) {
	if text == "" {
		return usual, nil
	}
	l, err := measure.Parse(text, measure.Reading{Bare: o.Settings.Units, DecimalComma: o.Settings.DecimalMark == ","})
	if err != nil {
		return 0, exit{exitUsage, fmt.Errorf("--%s: %w", flag, err)}
	}
	smallest := measure.Length(0)
	for i := range o.Boxes {
		b := &o.Boxes[i]
		size := map[string]measure.Length{"height": b.Height, "length": b.Length, "width": b.Width}[flag]
		if smallest == 0 || size < smallest {
			smallest = size
		}
	}
	w := reports.Words{Unit: o.Settings.Units}
	switch {
	case l < 0:
		return 0, exit{exitUsage, fmt.Errorf("--%s %s is below zero; 0 keeps every %s as it is", flag, text, flag)}
	case l > smallest/2 && smallest > 0:
		return 0, exit{exitUsage, fmt.Errorf("--%s %s is more than half of the smallest %s, %s: give a smaller limit", flag, text, flag, w.Len(smallest))}
	}
	return l, nil
}

func (c *common) findImprovements(ctx context.Context, path string, data []byte, a *improving, r improve.Request) error {
	ctx, cancel := context.WithDeadline(ctx, time.Now().Add(c.think))
	defer cancel()
	seed := c.seed
	r.Plan = func(o *orders.Order, think time.Duration) (*jigplan.Plan, error) {
		return plan.Plan(o, plan.Options{Limits: nesting.Limits{Seed: seed, Think: think, Stop: ctx.Done()}})
	}
	result, err := improve.Find(ctx, r)
	if err != nil {
		return refuse("a changed order failed its check: %w\nThis is a bug in the program, not an error in your order. Please report it with the order", err)
	}
	if result == nil {
		return refuse("%s could not be planned in the time given: use a longer --think", filepath.Base(path))
	}
	if err := c.writeJSON(improvedJSON(r.Order, result)); err != nil {
		return err
	}
	c.show(reports.Improvements(r.Order, result))
	if !a.apply {
		if len(result.Suggestions) > 0 {
			c.sayf("To make the best changes in a copy of the order: batchwright improve %s --apply", path)
		}
		return nil
	}
	return c.applyImprovements(path, data, result)
}

// applyImprovements writes a new order with the best set of changes, else with
// the best single one.
func (c *common) applyImprovements(path string, data []byte, result *improve.Result) error {
	set := result.Set
	if len(set) == 0 {
		for _, g := range result.Suggestions {
			if g.Boxes == 0 {
				set = []improve.Change{g.Change}
				break
			}
		}
	}
	if len(set) == 0 {
		c.sayf("nothing to change: no new order was written")
		return nil
	}
	var edits []orders.Edit
	for i := range set {
		edits = append(edits, set[i].Edits...)
	}
	book, err := intake.Edited(path, data, edits)
	if err != nil {
		return refuse("cannot change a copy of %s: %w", path, err)
	}
	out := c.output
	if out == "" {
		out = beside(path, "-improved")
	}
	written, err := c.write(out, book)
	if err != nil {
		return err
	}
	c.sayf("wrote %s, changed cells marked. Next: batchwright plan %s", written, written)
	return nil
}

// The JSON of improve, version 1.
type improveJSON struct {
	Version     int              `json:"version"`
	Order       orderJSON        `json:"order"`
	Base        improve.Value    `json:"base"`
	Proven      bool             `json:"layout_proven"`
	Tried       int              `json:"tried"`
	Possible    int              `json:"possible"`
	Stop        nesting.Stop     `json:"stop"`
	Suggestions []suggestionJSON `json:"suggestions"`
	Set         []editedJSON     `json:"together"`
	SetSaves    improve.Value    `json:"together_saves"`
	SetWorth    measure.Money    `json:"together_worth"`
}

type orderJSON struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

type editedJSON struct {
	Kind  improve.Kind  `json:"kind"`
	Box   string        `json:"box"` // empty: the whole order
	Text  string        `json:"text"`
	Boxes int           `json:"boxes"` // boxes more or fewer
	Edits []orders.Edit `json:"edits"`
}

type suggestionJSON struct {
	editedJSON
	Saves    improve.Value `json:"saves"`
	Worth    measure.Money `json:"worth"`
	Marginal improve.Value `json:"marginal"` // of a box more or fewer
	Average  improve.Value `json:"average"`
}

func improvedJSON(o *orders.Order, r *improve.Result) improveJSON {
	doc := improveJSON{Version: 1, Order: orderJSON{o.File, o.SHA256}, Base: r.Base, Proven: r.Proven, Tried: r.Tried, Possible: r.Possible,
		Stop: r.Stop, Suggestions: []suggestionJSON{}, Set: []editedJSON{}, SetSaves: r.SetSaves, SetWorth: r.SetWorth}
	one := func(c *improve.Change) editedJSON {
		j := editedJSON{Kind: c.Kind, Text: reports.ChangeText(o, c), Boxes: c.Boxes, Edits: c.Edits}
		if c.Line >= 0 {
			j.Box = o.Boxes[c.Line].Name
		}
		return j
	}
	for i := range r.Suggestions {
		g := &r.Suggestions[i]
		doc.Suggestions = append(doc.Suggestions, suggestionJSON{one(&g.Change), g.Saves, g.Worth, g.Marginal, g.Average})
	}
	for i := range r.Set {
		doc.Set = append(doc.Set, one(&r.Set[i]))
	}
	return doc
}
