package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/batch"
	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders"
	"batchwright/orders/jobs"
	"batchwright/orders/measure"
	"batchwright/orders/store"
	"batchwright/reports"
)

func logCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "log", Short: "Times, measured kerf, test corners, moisture, what a fair sold: what calibrates the next plan"}
	cmd.AddCommand(c.logTime(), c.logStart(), c.logStop(), c.logKerf(), c.logCorner(), c.logMoisture(), c.logSold(), c.logLeft(), c.logReview())
	return group(cmd)
}

// work says what was timed.
type work struct {
	element, job, stack, note string
	count                     float64
	interrupted               bool
}

func (c *common) workFlags(cmd *cobra.Command, w *work) *cobra.Command {
	f := cmd.Flags()
	f.StringVar(&w.job, "job", "", "of this job")
	f.StringVar(&w.stack, "stack", "", "of one end of this stack of the job")
	f.Float64Var(&w.count, "count", 0, "done so often (default: all that the job's plan has)")
	f.StringVar(&w.note, "note", "", "a remark")
	f.BoolVar(&w.interrupted, "interrupted", false, "keep it, but do not calibrate on it")
	return c.shopFlags(cmd, true)
}

func (c *common) logTime() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use:   "time ELEMENT MINUTES",
		Short: "Note how long work took, such as: log time Glue-up 95 --job 3",
		Long: "ELEMENT is a line of the sheet Time (Glue-up, Sanding, Rip ...), or \"Stack end\" with --stack.\n" +
			"Five logs of an element calibrate the next plans.",
		Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			minutes, err := minutesArg(args[1])
			if err != nil {
				return err
			}
			w.element = args[0]
			return c.keepTime(cmd.Context(), w, minutes)
		},
	}
	return c.workFlags(cmd, &w)
}

// minutesArg reads "95", "95.5" or "1:35".
func minutesArg(text string) (float64, error) {
	if h, m, ok := strings.Cut(text, ":"); ok {
		hours, err1 := strconv.Atoi(h)
		minutes, err2 := strconv.Atoi(m)
		if err1 == nil && err2 == nil && hours >= 0 && minutes >= 0 && minutes < 60 && hours+minutes > 0 {
			return float64(60*hours + minutes), nil
		}
	}
	f, err := strconv.ParseFloat(strings.TrimSuffix(text, "min"), 64)
	if err != nil || !(f > 0 && f < 100000) {
		return 0, exit{exitUsage, fmt.Errorf("%q is not a time in minutes such as 95, nor one such as 1:35", text)}
	}
	return f, nil
}

func (c *common) keepTime(ctx context.Context, w work, minutes float64) error {
	var l kit.TimeLog
	err := c.changeShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (what string, err error) {
			if l, err = planned(tx, w); err != nil {
				return "", err
			}
			l.Actual, l.Note, l.Dropped = minutes, w.note, w.interrupted
			return logged(l), kit.AddTime(tx, l)
		})
	})
	if err == nil {
		c.sayf("%s", logged(l))
	}
	return err
}

func logged(l kit.TimeLog) string {
	text := fmt.Sprintf("log time: %s took %.1f min", l.Element, l.Actual)
	if l.Job != 0 {
		text += fmt.Sprintf(", job %d", l.Job)
	}
	if l.Stack != "" {
		text += ", stack " + l.Stack
	}
	if l.Planned > 0 {
		text += fmt.Sprintf("; planned %.1f min", l.Planned)
	}
	return text
}

// planned sets what was timed beside what its plan said of it.
func planned(tx *store.Tx, w work) (l kit.TimeLog, err error) {
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
	if _, err := jobs.Find(tx, l.Job); err != nil {
		return l, err
	}
	plans, err := batch.InForce(tx, l.Job)
	if err != nil {
		return l, err
	}
	revisions, err := jobs.Revisions(tx, l.Job)
	if err != nil {
		return l, err
	}
	l.Planned, l.Boards = minutesPlanned(plans, l)
	if l.Planned == 0 {
		return l, refuse("the plan of job %d has no %s%s: job show %d -o FILE prints what it has", l.Job, l.Element, ofStack(l.Stack), l.Job)
	}
	l.Base = l.Planned
	if f := jobs.InForce(revisions)[0].Factors[l.Element]; f > 0 {
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
func byCount(tx *store.Tx, l *kit.TimeLog) error {
	if l.Count == 0 {
		return nil // kept for the record; there is nothing to compare it with
	}
	s, err := kit.Settings(tx, orders.DefaultSettings())
	if err != nil {
		return err
	}
	for _, d := range orders.Definitions {
		if seconds, ok := d.Value(&s).(float64); ok && d.Name == l.Element {
			l.Base = seconds * l.Count / 60
		}
	}
	l.Planned = l.Base
	factors, err := kit.Calibration(tx)
	if f := kit.FactorsByElement(factors)[l.Element]; f > 0 {
		l.Planned *= f
	}
	return err
}

// elementName is the element's own spelling.
func elementName(w work) (string, error) {
	if strings.EqualFold(strings.TrimSpace(w.element), kit.StackEnd) {
		if w.stack == "" || w.job == "" {
			return "", exit{exitUsage, errors.New("a stack end is logged with --job and --stack")}
		}
		return kit.StackEnd, nil
	}
	name, ok := orders.SettingName(w.element)
	if ok {
		for _, d := range orders.Definitions {
			if d.Name == name && d.Group == "Times" && d.Unit == "s" {
				return name, nil
			}
		}
	}
	var known []string
	for _, d := range orders.Definitions {
		if d.Group == "Times" && d.Unit == "s" {
			known = append(known, d.Name)
		}
	}
	return "", exit{exitUsage, fmt.Errorf("%q is no element of work; write one of: %s, %s", w.element, kit.StackEnd, strings.Join(known, ", "))}
}

// minutesPlanned is what the plans say of the work: one stack end, or an
// element, in proportion when only a part of it was done.
func minutesPlanned(plans []*jigplan.Plan, l kit.TimeLog) (minutes float64, boards int) {
	count := 0.0
	for _, p := range plans {
		for _, stack := range p.Stacks {
			if l.Element == kit.StackEnd && stack.ID == l.Stack {
				return stack.Minutes, len(stack.Boards)
			}
		}
		for _, e := range p.Time.Elements {
			if e.Name == l.Element {
				minutes, count = minutes+e.Minutes, count+e.Count
			}
		}
	}
	if l.Count > 0 && count > 0 {
		minutes *= l.Count / count
	}
	return minutes, 0
}

func (c *common) logStart() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "start ELEMENT", Short: "Start a clock", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			w.element = args[0]
			return c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return c.carryOut(cmd.Context(), s, func(tx *store.Tx) (string, error) {
					l, err := planned(tx, w)
					if err != nil {
						return "", err
					}
					c.sayf("the clock runs for %s since %s", l.Element, c.world.now().Format("15:04"))
					return "log start: " + l.Element, kit.Start(tx, kit.Clock{Element: l.Element, Job: l.Job, Stack: l.Stack, Count: l.Count, Who: c.who()})
				})
			})
		},
	}
	return c.workFlags(cmd, &w)
}

func (c *common) logStop() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "stop [ELEMENT]", Short: "Stop a clock, the last one started unless one is named, and note the time", Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.stopClock(cmd.Context(), w, strings.Join(args, ""))
		},
	}
	return c.workFlags(cmd, &w)
}

func (c *common) stopClock(ctx context.Context, w work, element string) error {
	var l kit.TimeLog
	err := c.alterShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			clocks, err := kit.Clocks(tx)
			if err != nil {
				return "", err
			}
			at := -1
			for i, clock := range clocks {
				if element == "" || strings.EqualFold(clock.Element, element) {
					at = i
				}
			}
			if at < 0 {
				return "", refuse("no clock runs%s: start one with log start", map[bool]string{true: "", false: " for " + element}[element == ""])
			}
			clock := clocks[at]
			w.element, w.stack = clock.Element, clock.Stack
			if clock.Job != 0 {
				w.job = jobID(clock.Job)
			}
			if w.count == 0 {
				w.count = clock.Count
			}
			if l, err = planned(tx, w); err != nil {
				return "", err
			}
			l.Actual, l.Note, l.Dropped = max(tx.Now.Sub(clock.Started).Minutes(), 1.0/60), w.note, w.interrupted
			return logged(l), errors.Join(kit.Stop(tx, clock), kit.AddTime(tx, l))
		})
	})
	if err == nil {
		c.sayf("%s", logged(l))
	}
	return err
}

func (c *common) logKerf() *cobra.Command {
	blade, after, note := "", "", ""
	cmd := &cobra.Command{
		Use:   "kerf KERF",
		Short: "Note a kerf as measured, after sharpening or in a test corner: the next programs are made with it",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.keepKerf(cmd.Context(), args[0], kit.KerfLog{Blade: blade, After: after, Note: note})
		},
	}
	cmd.Flags().StringVar(&blade, "blade", "", "of this blade (default the one in use)")
	cmd.Flags().StringVar(&after, "after", "sharpening", "why it was measured: sharpening, new, test corner")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	return c.shopFlags(cmd, true)
}

func (c *common) keepKerf(ctx context.Context, text string, l kit.KerfLog) error {
	var changes, moved []string
	err := c.changeShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			settings, err := kit.Settings(tx, orders.DefaultSettings())
			if err != nil {
				return "", err
			}
			if c.units == "mm" {
				settings.Units = measure.Millimetres
			}
			if l.Kerf, err = measure.Parse(text, settings.Reading()); err != nil {
				return "", exit{exitUsage, fmt.Errorf("the kerf: %w", err)}
			}
			if l.Kerf <= 0 || l.Kerf > measure.Inch/2 {
				return "", exit{exitUsage, fmt.Errorf("a kerf of %s cannot be", l.Kerf.ShowUnit(settings.Units))}
			}
			if l.Blade == "" {
				if l.Blade, err = kit.BladeInUse(tx); err != nil {
					return "", err
				}
			}
			if changes, err = kit.LogKerf(tx, l, rack.Exact(l.Kerf, settings.Units), ""); err != nil {
				return "", err
			}
			moved, err = movedFits(tx, l.Kerf)
			return fmt.Sprintf("log kerf: %s of %s after %s", rack.Exact(l.Kerf, settings.Units), l.Blade, l.After), err
		})
	})
	if err != nil {
		return err
	}
	c.sayf("kerf of %s noted, after %s", l.Blade, l.After)
	for _, text := range append(changes, moved...) {
		c.sayf("%s", text)
	}
	return nil
}

// movedFits says of every open job what a new kerf does to its fits; one that
// leaves its class or what the shop accepts is a warning.
func movedFits(tx *store.Tx, kerf measure.Length) (out []string, err error) {
	open, err := jobs.List(tx, jobs.Open)
	if err != nil {
		return nil, err
	}
	for _, j := range open {
		plans, err := batch.InForce(tx, j.ID)
		if err != nil {
			return nil, err
		}
		for _, p := range plans {
			for _, d := range drifts(p.Programs, kerf) {
				word := "note"
				if strings.Contains(d, "->") && strings.Contains(d[strings.LastIndex(d, ","):], "->") {
					word = "warning"
				}
				out = append(out, fmt.Sprintf("%s: job %d, %s", word, j.ID, d))
			}
		}
	}
	return out, nil
}

func (c *common) logMoisture() *cobra.Command {
	cmd := &cobra.Command{
		Use: "moisture BOARD|WOOD PERCENT", Short: "Note a measured moisture; a board of the rack keeps it", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			percent, err := strconv.ParseFloat(strings.TrimSuffix(args[1], "%"), 64)
			if err != nil || !(percent > 0 && percent < 200) {
				return exit{exitUsage, fmt.Errorf("%q is not a moisture in percent", args[1])}
			}
			err = c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return c.carryOut(cmd.Context(), s, func(tx *store.Tx) (string, error) {
					what := fmt.Sprintf("log moisture: %s %v %%", args[0], percent)
					return what, errors.Join(kit.LogMoisture(tx, args[0], percent), rack.SetMoisture(tx, args[0], percent))
				})
			})
			if err == nil {
				c.sayf("moisture of %s noted: %v %%", args[0], percent)
			}
			return err
		},
	}
	return c.shopFlags(cmd, true)
}

func (c *common) logReview() *cobra.Command {
	job := ""
	cmd := &cobra.Command{
		Use: "review", Short: "Plan against actual, element by element, and what the logs make of the next plan", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.review(cmd.Context(), job) },
	}
	cmd.Flags().StringVar(&job, "job", "", "of this job alone")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type reviewJSON struct {
	Version     int          `json:"version"`
	Logs        []logJSON    `json:"logs"`
	Calibration []factorJSON `json:"calibration"`
}

type logJSON struct {
	At      time.Time `json:"at"`
	Element string    `json:"element"`
	Job     string    `json:"job"`
	Stack   string    `json:"stack"`
	Actual  float64   `json:"actual_minutes"`
	Planned float64   `json:"planned_minutes"`
	Dropped bool      `json:"interrupted"`
}

func (c *common) review(ctx context.Context, arg string) error {
	id := int64(0)
	if arg != "" {
		var err error
		if id, err = jobArg(arg); err != nil {
			return err
		}
	}
	var logs []kit.TimeLog
	var kerfs []kit.KerfLog
	s := shopState{}
	if err := c.readShop(ctx, func(tx *store.Tx) (err error) {
		if logs, err = kit.Times(tx, id); err == nil {
			kerfs, err = kit.Kerfs(tx)
		}
		return errors.Join(err, s.read(tx))
	}); err != nil {
		return err
	}
	doc := reviewJSON{1, []logJSON{}, s.document("").Factors}
	t := reports.Table{Title: "Plan against actual", Head: []string{"When", "Element", "Job", "Stack", "Planned, min", "Actual, min", "Actual/planned"}}
	for _, l := range logs {
		job, ratio := "", ""
		if l.Job != 0 {
			job = jobID(l.Job)
		}
		if l.Planned > 0 {
			ratio = fmt.Sprintf("%.2f", l.Actual/l.Planned)
		}
		if l.Dropped {
			ratio += " interrupted"
		}
		doc.Logs = append(doc.Logs, logJSON{l.At, l.Element, job, l.Stack, l.Actual, l.Planned, l.Dropped})
		t.Add(l.At.Local().Format("2006-01-02 15:04"), l.Element, job, l.Stack, l.Planned, l.Actual, ratio)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	tables := []reports.Table{t}
	if len(s.factors) > 0 {
		tables = append(tables, factorTable(s.factors))
	}
	if len(kerfs) > 0 {
		tables = append(tables, kerfTable(kerfs))
	}
	c.show(tables)
	return nil
}

func factorTable(factors []kit.Factor) reports.Table {
	t := reports.Table{Title: "What the logs make of the next plan", Head: []string{"Element", "Logs", "Median of actual/planned", "Used", "Spread"}}
	for _, f := range factors {
		element := f.Element
		if f.Boards > 0 {
			element += fmt.Sprintf(", stacks of %d", f.Boards)
		}
		t.Add(element, f.Logs, fmt.Sprintf("%.2f", f.Median), fmt.Sprintf("x %.2f", f.Factor), fmt.Sprintf("%.0f %%", 100*f.Spread))
	}
	return t
}

func kerfTable(kerfs []kit.KerfLog) reports.Table {
	t := reports.Table{Title: "Kerfs", Head: []string{"When", "Blade", "Kerf", "After", "Note"}}
	for _, k := range kerfs {
		t.Add(k.At.Local().Format("2006-01-02"), k.Blade, k.Kerf.DecimalInches()+" in", k.After, k.Note)
	}
	return t
}
