package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
	"batchwright/jigplan/shop"
	"batchwright/jigplan/week"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// weekly is what the week command was asked.
type weekly struct {
	from    string
	days    int
	late    bool
	whatIf  []string
	weigh   []string // "spring=3"
	done    []string // task ids
	hold    []string // "spring/glue 1=2027-03-09 13:00"
	giveOut bool

	calendar string // a file; empty: none
	all      bool   // the half-days on the screen too

	first    time.Time // from, read
	deadline time.Time // the search of the whole command ends then
}

func weekCommand(c *common) *cobra.Command {
	var a weekly
	cmd := &cobra.Command{
		Use:   "week [ORDER.xlsx ...]",
		Short: "Schedule the open jobs, or the orders named: saw, bench, clamps, drying, people",
		Long: "Puts the work of the shop file's open jobs, or of the orders named, on the clock and writes week-DATE.xlsx:\n" +
			"a wall page, a bar chart, hour by hour, dates and days to spare, wood to mill, what to buy, changes.",
		Example: "  batchwright week spring.xlsx fair.xlsx --from 2027-03-08 --days 6\n" +
			"  batchwright week --late\n" +
			"  batchwright week --what-if 'closed 2027-03-09' --what-if 'job rush.xlsx'",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(c); err != nil {
				return err
			}
			return c.week(cmd.Context(), args, &a)
		},
	}
	c.orderFlags(cmd)
	f := cmd.Flags()
	f.StringVar(&a.from, "from", "", "the first day, a `DATE` such as 2027-03-08, or '2027-03-09 12:00' to plan again at noon (default now)")
	f.IntVar(&a.days, "days", 7, "how many days are printed")
	f.BoolVar(&a.late, "late", false, "only list the dates that will be missed, by how much, and the last moment to decide")
	f.StringArrayVar(&a.whatIf, "what-if", nil, "show the difference a `CHANGE` makes: 'job ORDER.xlsx', 'without JOB', 'closed DATE', 'away DATE morning', 'people N', 'clamps N'; may be repeated")
	f.StringArrayVar(&a.weigh, "weight", nil, "how much a day late matters, `JOB=N` (default 1); may be repeated")
	f.StringArrayVar(&a.done, "done", nil, "a `TASK` that is done, as named on the sheet Hour by hour; may be repeated")
	f.StringArrayVar(&a.hold, "hold", nil, "hold a task to a time, `TASK=2027-03-09 13:00`; may be repeated")
	f.BoolVar(&a.giveOut, "give-out", false, "keep this sheet, and what is done, in the shop file: the next sheet says what changed")
	outputFlag(cmd, &a.calendar, "calendar", "", "write the week for a calendar program to `FILE.ics`: work, cures, orders, due dates")
	f.BoolVar(&a.all, "all", false, "show the half-days on the screen too")
	f.BoolVar(&c.dryRun, "dry-run", false, "with --give-out: show it, and keep nothing")
	return cmd
}

// read takes in the flags that hold more than a word.
func (a *weekly) read(c *common) error {
	if a.days < 1 || a.days > 62 {
		return exit{exitUsage, fmt.Errorf("--days %d is not from 1 to 62", a.days)}
	}
	if a.giveOut && (a.late || len(a.whatIf) > 0) {
		return exit{exitUsage, fmt.Errorf("--give-out cannot be combined with --late or --what-if")}
	}
	now := c.world.now()
	year, month, day := now.Date()
	a.first = time.Date(year, month, day, now.Hour(), now.Minute(), 0, 0, time.UTC)
	if a.from == "" {
		return nil
	}
	at, _, err := c.momentFlag("from", a.from)
	if err == nil {
		a.first = at
	}
	return err
}

// week makes the week of the open jobs, or of the orders named.
func (c *common) week(ctx context.Context, paths []string, a *weekly) error {
	if _, err := c.settings(); err != nil {
		return err
	}
	if !a.late && len(a.whatIf) == 0 {
		if err := c.claims(c.weekOutput(a)); err != nil {
			return err
		}
	}
	a.deadline = c.world.now().Add(max(c.think, time.Second))
	book, err := c.openOrders(ctx, paths, a)
	if err != nil {
		return err
	}
	now, err := c.schedule(ctx, book, a)
	if err != nil {
		return err
	}
	now.Before = book.before
	if len(a.whatIf) > 0 {
		return c.weekIf(ctx, book, now, a)
	}
	if err := c.writeJSON(document.OfWeek(now)); err != nil {
		return err
	}
	if err := c.writeCalendar(now, a); err != nil {
		return err
	}
	if a.late {
		c.show(lateTables(now))
		return weekStatus(now)
	}
	if err := c.writeWeek(now, a); err != nil {
		return err
	}
	c.show(reports.WeekSummary(now, a.all))
	if !a.all {
		c.sayf("--all shows every half-day here; the workbook has them")
	}
	if a.giveOut {
		if err := c.keepWeek(ctx, now); err != nil {
			return err
		}
	}
	return weekStatus(now)
}

func lateTables(w *jigplan.Week) []reports.Table {
	tables := []reports.Table{reports.LateList(w)}
	if len(w.Findings) > 0 {
		tables = append([]reports.Table{reports.WeekFindings(w)}, tables...)
	}
	return tables
}

// weekStatus is 3 when a date breaks, a held task cannot keep its time, or
// something has no room.
func weekStatus(w *jigplan.Week) error {
	if reports.Late(w) {
		return exit{code: exitIncomplete}
	}
	return nil
}

// schedule puts open orders on the clock. However long planning the orders
// took, each schedule has a fair time to be searched: else a what-if would be
// compared with a week that was thought about longer.
func (c *common) schedule(ctx context.Context, book *orderBookOpen, a *weekly) (*jigplan.Week, error) {
	deadline := a.deadline
	if least := c.world.now().Add(max(c.think/2, time.Second)); least.After(deadline) {
		deadline = least
	}
	w, err := week.Plan(week.Request{Open: book.open, From: a.first, Days: a.days, Settings: &book.settings, Help: true,
		Limits: week.Limits{Stop: ctx.Done(), Deadline: deadline, Think: c.think}})
	if err != nil {
		return nil, refuse("%w\nThis is a bug in the program, not an error in your orders. Nothing was written. Please report it with the orders", err)
	}
	w.Findings = append(slices.Clone(book.problems), w.Findings...)
	if book.stop != "" {
		w.Schedule.Stop = book.stop
	}
	return w, nil
}

func (c *common) weekOutput(a *weekly) output {
	return c.outputOr("the week workbook", "week-"+a.first.Format(time.DateOnly)+".xlsx")
}

func (c *common) writeCalendar(w *jigplan.Week, a *weekly) error {
	if a.calendar == "" {
		return nil
	}
	written, err := c.write(a.calendar, reports.WeekCalendar(w))
	if err == nil && a.calendar != "-" {
		c.sayf("wrote %s", written)
	}
	return err
}

func (c *common) writeWeek(w *jigplan.Week, a *weekly) error {
	data, err := workbook.Week(w)
	if err != nil {
		return refuse("cannot make the week workbook: %w", err)
	}
	written, err := c.write(c.weekOutput(a).path, data)
	if err == nil {
		c.sayf("wrote %s", written)
	}
	return err
}

// keepWeek keeps the sheet in the shop file.
func (c *common) keepWeek(ctx context.Context, w *jigplan.Week) error {
	sheet := week.Sheet(w, c.world.now().UTC().Truncate(time.Minute))
	return c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			what := fmt.Sprintf("give out the week sheet of %s, %d days", w.From.Format(time.DateOnly), w.Days)
			if !c.dryRun {
				c.sayf("kept in the shop file: the next sheet says what changed")
			}
			return what, shop.GiveOut(tx, sheet)
		})
	})
}

// weekIf shows what changes would make of the week.
func (c *common) weekIf(ctx context.Context, book *orderBookOpen, now *jigplan.Week, a *weekly) error {
	changed, err := c.changedBook(ctx, book, a)
	if err != nil {
		return err
	}
	then, err := c.schedule(ctx, changed, a)
	if err != nil {
		return err
	}
	sheet := week.Sheet(now, time.Time{})
	then.Before = &sheet
	what := strings.Join(a.whatIf, ", ")
	if err := c.writeJSON(document.OfWhatIf(a.whatIf, now, then)); err != nil {
		return err
	}
	if c.output != "" {
		if err := c.writeWeek(then, a); err != nil {
			return err
		}
	}
	tables := []reports.Table{reports.WeekDifference(now, then, what), reports.WeekChanges(then)}
	if len(then.Findings) > 0 {
		tables = append([]reports.Table{reports.WeekFindings(then)}, tables...)
	}
	c.show(tables)
	return weekStatus(then)
}
