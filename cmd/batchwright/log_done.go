package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"batchwright/jigplan"
	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// dropped reports whether a log must not calibrate: it was interrupted, or it
// finished nothing that its time could be compared with.
func (w *work) dropped() bool { return w.interrupted || w.done == "none" }

// countDone reads what a piece of work finished. Where nobody said it, a person
// at the terminal is asked; without a terminal it is wrong usage.
func (c *common) countDone(ctx context.Context, w *work, ask bool) error {
	if _, err := elementName(*w); err != nil {
		return err
	}
	s, err := c.settings()
	if err != nil {
		return err
	}
	err = c.readShop(ctx, func(tx *shop.Tx) error {
		if ask && w.done == "" && !w.interrupted {
			if err := c.askDone(tx, w); err != nil {
				return err
			}
		}
		return w.readDone(tx, s.Reading(), 0)
	})
	if errors.Is(err, shop.ErrNoFile) {
		return w.readDone(nil, s.Reading(), 0)
	}
	return err
}

func (c *common) askDone(tx *shop.Tx, w *work) error {
	if w.job == "" || !ticked(w.name()) {
		return nil
	}
	if !interactive(c.world.err) || !interactive(c.world.in) {
		return exit{exitUsage, fmt.Errorf("%s of job %s: say what was finished with --done N, --done all or --done none. Nothing was logged", w.name(), w.job)}
	}
	rest, err := w.rest(tx, 0)
	if err != nil {
		return err
	}
	left := strconv.FormatFloat(rest, 'f', -1, 64) + " left"
	if w.name() == milling {
		left = "all or none"
	}
	fmt.Fprintf(c.world.err, "%s of job %s: how many are finished? (%s; all, none or a number) [none] ", w.name(), w.job, left)
	if w.done = c.answer(); w.done == "" {
		w.done = "none"
	}
	return nil
}

func (w *work) name() string {
	name, _ := elementName(*w)
	return name
}

// ticked reports whether a log of an element can finish tasks of the week.
func ticked(element string) bool {
	switch element {
	case milling, "Groove", "Glue-up", "Sanding", "Coat":
		return true
	}
	return settings.WorkOf(element) == settings.Milling
}

// readDone reads the words of --done; besides is a log that is being changed.
func (w *work) readDone(tx *shop.Tx, how measure.Reading, besides int64) error {
	switch w.done {
	case "", "none":
		w.count = 0
		return nil
	case "all":
		if w.job == "" || tx == nil {
			return exit{exitUsage, errors.New("--done all needs --job: without a job, say how many")}
		}
		rest, err := w.rest(tx, besides)
		if err == nil && rest <= 0 {
			err = refuse("all of %s of job %s is logged as done already: log list shows it", w.name(), w.job)
		}
		w.count = rest
		return err
	}
	n, err := how.Number(w.done)
	if err != nil || !(n > 0 && n < 1e6) {
		return exit{exitUsage, fmt.Errorf("--done %q is not a number above 0, all or none", w.done)}
	}
	w.count = n
	return nil
}

// rest is how many of an element the plans of its job have, less what other
// logs finished.
func (w *work) rest(tx *shop.Tx, besides int64) (float64, error) {
	job, err := jobArg(w.job)
	if err != nil {
		return 0, err
	}
	if _, err := shop.FindJob(tx, job); err != nil {
		return 0, err
	}
	plans, err := shop.PlansInForce(tx, job)
	if err != nil {
		return 0, err
	}
	times, err := shop.TimeLogs(tx, job)
	if err != nil {
		return 0, err
	}
	rest := countPlanned(plans, w.name())
	for _, l := range times {
		if l.Element == w.name() && l.ID != besides {
			rest -= l.Count
		}
	}
	return rest, nil
}

// countPlanned is how often the plans have an element; all of the milling is
// one.
func countPlanned(plans []*jigplan.Plan, element string) (count float64) {
	if element == milling {
		return 1
	}
	for _, p := range plans {
		if k := slices.IndexFunc(p.Time.Elements, func(e jigplan.Element) bool { return e.Name == element }); k >= 0 {
			count += p.Time.Elements[k].Count
		}
	}
	return count
}
