package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/shop"
	"batchwright/orders/settings"
)

func (c *common) logTime() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use:   "time ELEMENT MINUTES",
		Short: "Note how long work took, such as: log time Glue-up 95 --job 3 --done 2",
		Long: "ELEMENT is a line of the sheet Time (Glue-up, Sanding, Rip ...), or \"Stack end\" with --stack.\n" +
			"--done says what the work finished; the week takes that off, however long it took.\n" +
			"Five logs of an element calibrate the next plans.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			minutes, err := c.minutesArg(args[1])
			if err != nil {
				return err
			}
			w.element = args[0]
			return c.keepTime(cmd.Context(), &w, minutes)
		},
	}
	c.sureFlag(cmd)
	return c.workFlags(cmd, &w)
}

func (c *common) sureFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.sure, "sure", false, "log it although it is far from the plan")
}

// plausible asks before a log is kept that is far from its plan: it would
// calibrate the next plans.
func (c *common) plausible(l shop.TimeLog, minutes float64) error {
	u := c.unit()
	far := l.Planned > 0 && (minutes <= l.Planned/10 || minutes >= l.Planned*10)
	switch {
	case c.sure || l.Dropped:
		return nil
	case minutes <= 0:
		return c.confirm(fmt.Sprintf("%s took %.0f minutes", l.Element, minutes), "--sure")
	case far:
		return c.confirm(fmt.Sprintf("%s took %s min, but %s min are planned", l.Element, u.Number(minutes, 1), u.Number(l.Planned, 1)), "--sure")
	}
	return nil
}

// beside is what the plan says of the work, before anything is kept; it asks
// what was finished.
func (c *common) beside(ctx context.Context, w *work) (l shop.TimeLog, err error) {
	if err := c.countDone(ctx, w, true); err != nil {
		return l, err
	}
	err = c.readShop(ctx, func(tx *shop.Tx) error {
		l, err = planned(tx, *w)
		return err
	})
	if errors.Is(err, shop.ErrNoFile) {
		err = nil // logging makes it
	}
	l.Dropped = w.dropped()
	return l, err
}

// minutesArg reads "95", "95.5" or "1:35".
func (c *common) minutesArg(text string) (float64, error) {
	if h, m, ok := strings.Cut(text, ":"); ok {
		hours, err1 := strconv.Atoi(h)
		minutes, err2 := strconv.Atoi(m)
		if err1 == nil && err2 == nil && hours >= 0 && minutes >= 0 && minutes < 60 && hours+minutes > 0 {
			return float64(60*hours + minutes), nil
		}
	}
	f, err := c.numberArg(strings.TrimSuffix(text, "min"))
	if err != nil || !(f >= 0 && f < 100000) {
		return 0, exit{exitUsage, fmt.Errorf("%q is not a time in minutes such as 95, nor one such as 1:35", text)}
	}
	return f, nil
}

func (c *common) keepTime(ctx context.Context, w *work, minutes float64) error {
	l, err := c.beside(ctx, w)
	if err == nil {
		err = c.plausible(l, minutes)
	}
	if err != nil {
		return err
	}
	err = c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (what string, err error) {
			if l, err = planned(tx, *w); err != nil {
				return "", err
			}
			l.Actual, l.Note, l.Dropped = minutes, w.note, w.dropped()
			return c.logged(l), shop.AddTime(tx, l)
		})
	})
	if err == nil {
		c.sayf("%s", c.logged(l))
		if w.done == "none" && l.Job != 0 && ticked(l.Element) {
			c.sayf("nothing is marked as done: log change NUMBER --done N says what it finished, log list shows the number")
		}
	}
	return err
}

func (c *common) logged(l shop.TimeLog) string {
	text := fmt.Sprintf("log time: %s took %s min", l.Element, c.unit().Number(l.Actual, 1))
	if l.Job != 0 {
		text += fmt.Sprintf(", job %d", l.Job)
	}
	if l.Stack != "" {
		text += ", stack " + l.Stack
	}
	if l.Count > 0 {
		text += fmt.Sprintf(", %s done", c.unit().Number(math.Round(l.Count*100)/100, -1))
	}
	if l.Planned > 0 {
		text += fmt.Sprintf("; planned %s min", c.unit().Number(l.Planned, 1))
	}
	if l.Dropped {
		text += "; interrupted: it does not count"
	}
	return text
}

// planned sets what was timed beside what its plan said of it.
func planned(tx *shop.Tx, w work) (l shop.TimeLog, err error) {
	if l.Element, err = elementName(w); err != nil {
		return l, err
	}
	l.Stack, l.Count = w.stack, w.count
	if w.job == "" {
		return l, byCount(tx, &l)
	}
	if l.Job, err = jobArg(w.job); err != nil {
		return l, err
	}
	if _, err := shop.FindJob(tx, l.Job); err != nil {
		return l, err
	}
	plans, err := shop.PlansInForce(tx, l.Job)
	if err != nil {
		return l, err
	}
	revisions, err := shop.Revisions(tx, l.Job)
	if err != nil {
		return l, err
	}
	l.Planned, l.Boards = minutesPlanned(plans, l)
	if l.Planned == 0 {
		return l, refuse("the plan of job %d has no %s%s: job show %d -o FILE prints what it has", l.Job, l.Element, ofStack(l.Stack), l.Job)
	}
	l.Base = l.Planned
	if f := shop.RevisionsInForce(revisions)[0].Factors[l.Element]; f > 0 {
		l.Base /= f
	}
	return l, nil
}

func ofStack(stack string) string {
	if stack == "" {
		return ""
	}
	return " of a stack " + stack
}

// byCount plans work of no job by how often it was done.
func byCount(tx *shop.Tx, l *shop.TimeLog) error {
	if l.Count == 0 || len(settings.Timed(l.Element)) > 1 { // how large the boxes were is not known
		return nil // kept for the record; there is nothing to compare it with
	}
	s, err := shop.Settings(tx, settings.Default())
	if err != nil {
		return err
	}
	for _, d := range settings.Definitions {
		if seconds, ok := d.Value(&s).(float64); ok && d.Name == l.Element {
			l.Base = seconds * l.Count / 60
		}
	}
	l.Planned = l.Base
	factors, err := shop.Calibration(tx)
	if f := shop.FactorsByElement(factors)[l.Element]; f > 0 {
		l.Planned *= f
	}
	return err
}

// spokenWork is the element that the words of the week, or of the shop, mean.
func spokenWork(said string) string {
	return map[string]string{
		"mill": milling, "milling": milling, "mill and cut the parts": milling, "plane": milling, "planing": milling,
		"groove": "Groove", "grooves": "Groove", "grooving": "Groove", "cut the grooves": "Groove",
		"glue": "Glue-up", "gluing": "Glue-up", "glueing": "Glue-up", "glue up": "Glue-up", "glue-ups": "Glue-up", "clamp": "Glue-up",
		"sand": "Sanding", "sanded": "Sanding", "coat": "Coat", "coats": "Coat", "coat on": "Coat", "finish": "Coat", "finishing": "Coat", "oil": "Coat",
		"hinges": "Hinge pair", "hinge": "Hinge pair", "mark": "Mark part", "marking": "Mark part", "dividers": "Divider",
	}[strings.ToLower(strings.TrimSpace(said))]
}

// milling is all the work before the jig, logged in one.
const milling = settings.AllMilling

// elementName is the element's own spelling.
func elementName(w work) (string, error) {
	if strings.EqualFold(strings.TrimSpace(w.element), shop.StackEnd) {
		if w.stack == "" || w.job == "" {
			return "", exit{exitUsage, errors.New("a stack end is logged with --job and --stack")}
		}
		return shop.StackEnd, nil
	}
	if name := spokenWork(w.element); name != "" {
		return name, nil
	}
	name, ok := settings.NameOf(w.element)
	if ok {
		for _, d := range settings.Definitions {
			if d.Name == name && d.Group == "Times" && d.Unit == "s" {
				return name, nil
			}
		}
	}
	var known []string
	for _, d := range settings.Definitions {
		if d.Group == "Times" && d.Unit == "s" {
			known = append(known, d.Name)
		}
	}
	return "", exit{exitUsage, fmt.Errorf("%q is not an element of work; write one of: %s, %s", w.element, shop.StackEnd, strings.Join(known, ", "))}
}

// minutesPlanned is what the plans say of the work: one stack end, or an
// element, in proportion when only a part of it was done.
func minutesPlanned(plans []*jigplan.Plan, l shop.TimeLog) (minutes float64, boards int) {
	count := 0.0
	for _, p := range plans {
		for _, stack := range p.Stacks {
			if l.Element == shop.StackEnd && stack.ID == l.Stack {
				return stack.Minutes, len(stack.Boards)
			}
		}
		for _, e := range p.Time.Elements {
			if slices.Contains(settings.Timed(l.Element), e.Name) {
				minutes += e.Minutes
			}
			if e.Name == l.Element {
				count += e.Count
			}
		}
	}
	if l.Count > 0 && count > 0 {
		minutes *= l.Count / count
	}
	return minutes, 0
}
