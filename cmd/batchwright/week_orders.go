package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/shop"
	"batchwright/jigplan/week"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// orderBookOpen is the work a week is made of.
type orderBookOpen struct {
	open     []week.Open
	settings settings.Shop
	problems []orders.Finding
	before   *jigplan.WeekSheet // the last one given out
	shop     held
	stop     nesting.Stop // of the orders' own planning; empty: the clock ended none
	ruled    string       // the order whose Shop sheet gives hours and clamps; empty: none
}

// openOrders are the orders named, else the shop file's open jobs.
func (c *common) openOrders(ctx context.Context, paths []string, a *weekly) (*orderBookOpen, error) {
	file, err := c.shopFor(ctx, 0)
	if err != nil {
		return nil, err
	}
	book := &orderBookOpen{settings: file.settings, shop: file}
	if file.there {
		if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
			book.before, err = shop.GivenOut(tx)
			return err
		}); err != nil {
			return nil, err
		}
	}
	if len(paths) == 0 {
		err = c.openJobs(ctx, book)
	} else {
		for _, path := range paths {
			if err := c.addOrder(ctx, book, path, len(paths)); err != nil {
				return nil, err
			}
		}
	}
	if err == nil && len(book.open) == 0 && len(book.problems) > 0 {
		c.show(problemTables(book.problems))
		err = refuse("no order can be planned: correct them, or plan the good lines with --partial")
	}
	if err != nil {
		return nil, err
	}
	return book, a.mark(book)
}

// openJobs are the plans of the jobs that are open, recuts beside them.
func (c *common) openJobs(ctx context.Context, book *orderBookOpen) error {
	if !book.shop.there {
		return refuse("there is no shop file with open jobs: name the orders, or take them on with job accept")
	}
	err := c.atWork(ctx, book)
	if err == nil && len(book.open) == 0 {
		return refuse("no job is open: take orders on with job accept, or name order files")
	}
	return err
}

// atWork puts the shop file's open jobs into the book, if there are any.
func (c *common) atWork(ctx context.Context, book *orderBookOpen) error {
	if !book.shop.there {
		return nil
	}
	return c.readShop(ctx, func(tx *shop.Tx) error {
		list, err := shop.Jobs(tx, shop.JobOpen)
		if err != nil {
			return err
		}
		for _, j := range list {
			plans, err := shop.PlansInForce(tx, j.ID)
			if err != nil {
				return err
			}
			times, err := shop.TimeLogs(tx, j.ID)
			if err != nil {
				return err
			}
			for k, p := range plans {
				open := week.Open{ID: jobID(j.ID), Name: stem(j.Name), Due: j.Due, Placed: c.wallDay(j.Accepted), Plan: p}
				if k == 0 {
					open.Logged = c.loggedWork(times)
				} else {
					open.ID += "." + strconv.Itoa(k) // a recut's stacks have names of their own
				}
				book.open = append(book.open, open)
			}
		}
		return nil
	})
}

// wallDay is a moment's day by the clock on the wall.
func (c *common) wallDay(at time.Time) time.Time {
	year, month, day := at.In(c.world.now().Location()).Date()
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}

// loggedWork is the work that was timed, by the clock on the wall, as the
// schedule has it.
func (c *common) loggedWork(times []shop.TimeLog) (out []jigplan.Logged) {
	zone := c.world.now().Location()
	for _, l := range times {
		at := l.At.In(zone)
		year, month, day := at.Date()
		out = append(out, jigplan.Logged{At: time.Date(year, month, day, at.Hour(), at.Minute(), 0, 0, time.UTC), Element: l.Element, Stack: l.Stack, Count: l.Count})
	}
	return out
}

func stem(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name))
}

// addOrder plans an order file and puts it into the book. One with errors is
// left out and said; the others are planned.
func (c *common) addOrder(ctx context.Context, book *orderBookOpen, path string, orderCount int) error {
	data, err := c.readInput(path)
	if err != nil {
		return err
	}
	order, err := intake.Read(path, data, book.shop.settings, c.sheet)
	var refusal *intake.Refusal
	switch {
	case errors.As(err, &refusal):
		order = refusal.Order(data)
	case err != nil:
		return refuse("%w", err)
	default:
		book.shop.furnish(order)
	}
	book.rule(order)
	think := c.think / time.Duration(max(1, orderCount))
	opt := plan.Options{Partial: c.partial, Limits: nesting.Limits{Seed: c.seed, Think: max(think, time.Millisecond), Stop: ctx.Done()}}
	p, err := plan.Plan(order, opt)
	if err != nil {
		return c.fault(path, p, err)
	}
	if plan.Failed(p) {
		book.leftOut(p, c.partial)
		if !c.partial {
			return nil
		}
	}
	book.take(p)
	if stop := p.Layout.Stop; stop == nesting.StopTime || stop == nesting.StopInterrupted {
		book.stop = stop
	}
	due, _ := week.DueRow(order)
	book.open = append(book.open, week.Open{ID: book.freeID(stem(path)), Code: letterCode(len(book.open)), Name: stem(path), Due: due, Plan: p})
	return nil
}

// rule lets the first Shop sheet give the hours, people and clamps of the week.
func (book *orderBookOpen) rule(o *orders.Order) {
	switch {
	case !o.HasShop:
	case book.ruled == "":
		book.settings, book.ruled = o.Settings, o.File
	default:
		for _, name := range settings.WeekDifferences(&book.settings, &o.Settings) {
			book.problems = append(book.problems, orders.Finding{Level: orders.Warning, Source: week.InFile(o.File, sourceOr(&o.Settings, name)), Read: name,
				Did: fmt.Sprintf("%s differs: a week has one shop, and the first Shop sheet is used", book.ruled), Fix: "use the same value in both, or set it in the shop file"})
		}
	}
}

func sourceOr(s *settings.Shop, name string) orders.Source {
	if at := s.Source(name); at != (orders.Source{}) {
		return at
	}
	return orders.Source{Sheet: "Shop", Cell: name}
}

// leftOut says what is wrong with an order that is not planned.
func (book *orderBookOpen) leftOut(p *jigplan.Plan, partial bool) {
	for _, problem := range p.Findings {
		if problem.Level == orders.Error {
			problem.Source = week.InFile(p.Order.File, problem.Source)
			book.problems = append(book.problems, problem)
		}
	}
	did := "the order has errors and is left out of the week; the others are planned"
	if partial {
		did = "the order has errors: only its good lines are planned"
	}
	book.problems = append(book.problems, orders.Finding{Level: orders.Error, Source: orders.Source{Sheet: "[" + p.Order.File + "]", Cell: "A1"}, Read: p.Order.File, Did: did, Fix: "correct the cells above it"})
}

// take leaves the boards a plan cuts out of what the next order may use.
func (book *orderBookOpen) take(p *jigplan.Plan) {
	used := shop.RackBoards(p)
	book.shop.free = slices.DeleteFunc(slices.Clone(book.shop.free), func(b orders.Board) bool { return slices.Contains(used, b.ID) })
}

func (book *orderBookOpen) freeID(want string) string {
	id := want
	for n := 2; book.find(id) != nil; n++ {
		id = fmt.Sprintf("%s (%d)", want, n)
	}
	return id
}

// find is the open order with an id or a code; nil: none.
func (book *orderBookOpen) find(name string) *week.Open {
	for i := range book.open {
		if o := &book.open[i]; o.ID == name || o.Code == name && name != "" {
			return o
		}
	}
	return nil
}

// letterCode is A to Z, then AA.
func letterCode(n int) string {
	if n >= 26 {
		return letterCode(n/26-1) + letterCode(n%26)
	}
	return string(rune('A' + n))
}

// mark puts weights, what is done and what is held to a time on the orders.
func (a *weekly) mark(book *orderBookOpen) error {
	wrong := func(flag, text, hint string) error {
		return exit{exitUsage, fmt.Errorf("--%s %q: %s", flag, text, hint)}
	}
	for _, text := range a.weigh {
		name, value, _ := strings.Cut(text, "=")
		n, err := strconv.Atoi(value)
		o := book.find(name)
		if err != nil || n < 1 || n > 1000 || o == nil {
			return wrong("weight", text, "write JOB=N: a job of this week and a whole number from 1 to 1000")
		}
		o.Weight = n
	}
	if book.before != nil {
		for i := range book.open {
			for _, id := range book.before.Done {
				if strings.HasPrefix(id, book.open[i].ID+"/") {
					book.open[i].Done = append(book.open[i].Done, id)
				}
			}
		}
	}
	for _, id := range eachTask(a.done) {
		o := book.ofTask(id)
		if o == nil {
			return wrong("done", id, "no job of this week has that task; the sheet Hour by hour lists them, as in \"12/glue 1\"")
		}
		if full := o.ID + id[strings.Index(id, "/"):]; !slices.Contains(o.Done, full) {
			o.Done = append(o.Done, full)
		}
	}
	for _, text := range a.hold {
		id, value, _ := strings.Cut(text, "=")
		at, timed, err := measure.ParseMoment(value, book.settings.Dates)
		o := book.ofTask(id)
		if err != nil || !timed || o == nil {
			return wrong("hold", text, "write TASK=2027-03-09 13:00, with a task from the sheet Hour by hour")
		}
		if o.Pinned == nil {
			o.Pinned = map[string]time.Time{}
		}
		o.Pinned[o.ID+id[strings.Index(id, "/"):]] = at
	}
	return nil
}

// eachTask parts what hour by hour tells in one text: "12/glue 1, 2" is
// "12/glue 1" and "12/glue 2".
func eachTask(texts []string) (ids []string) {
	for _, text := range texts {
		kind := ""
		for part := range strings.SplitSeq(text, ",") {
			part = strings.TrimSpace(part)
			if !strings.Contains(part, "/") {
				part = kind + part
			}
			kind = part[:strings.LastIndex(part, " ")+1]
			ids = append(ids, part)
		}
	}
	return ids
}

// ofTask is the order a task belongs to.
func (book *orderBookOpen) ofTask(id string) *week.Open {
	job, _, ok := strings.Cut(id, "/")
	if !ok {
		return nil
	}
	o := book.find(job)
	if o == nil || !slices.Contains(week.TaskIDs(*o, book.settings.Week), o.ID+id[strings.Index(id, "/"):]) {
		return nil
	}
	return o
}

// changedBook is the order book with the changes of --what-if.
func (c *common) changedBook(ctx context.Context, book *orderBookOpen, a *weekly) (*orderBookOpen, error) {
	out := *book
	out.open, out.problems = slices.Clone(book.open), slices.Clone(book.problems)
	out.settings = book.settings.Clone()
	for _, change := range a.whatIf {
		word, rest, _ := strings.Cut(strings.TrimSpace(change), " ")
		rest = strings.TrimSpace(rest)
		var err error
		switch word {
		case "job":
			orders, problems := len(out.open), len(out.problems)
			if err = c.addOrder(ctx, &out, rest, orders+1); err == nil && len(out.open) == orders {
				c.show(problemTables(out.problems[problems:]))
				err = refuse("%s has errors: nothing was compared", filepath.Base(rest))
			}
		case "without":
			err = out.without(rest)
		default:
			err = out.alter(word, rest)
		}
		if err != nil {
			return nil, err
		}
	}
	return &out, nil
}

func (book *orderBookOpen) without(name string) error {
	o := book.find(name)
	if o == nil {
		return exit{exitUsage, fmt.Errorf("--what-if 'without %s': no job of this week has that name", name)}
	}
	book.open = slices.DeleteFunc(book.open, func(p week.Open) bool { return p.ID == o.ID })
	return nil
}

// alter changes the shop: a day lost, somebody away, other people or clamps.
func (book *orderBookOpen) alter(word, value string) error {
	shop := &book.settings.Week
	wrong := exit{exitUsage, fmt.Errorf("--what-if '%s %s': it is 'job ORDER.xlsx', 'without JOB', 'closed 2027-03-09', 'away 2027-03-09 morning', 'people 1' or 'clamps 12'", word, value)}
	if word == "closed" {
		day, err := measure.ParseDate(value, book.settings.Dates)
		if err != nil {
			return wrong
		}
		shop.Holidays = append(slices.Clone(shop.Holidays), day)
		return nil
	}
	if word == "away" {
		absences, err := settings.ParseAbsences(value, book.settings.Entry(settings.Source{}))
		if err != nil || len(absences) == 0 {
			return wrong
		}
		shop.Absences = append(slices.Clone(shop.Absences), absences...)
		return nil
	}
	n, err := strconv.Atoi(value)
	if err != nil || n < 0 || n > 10_000 {
		return wrong
	}
	switch word {
	case "people":
		shop.People = n
	case "clamps":
		shop.Clamps = n
	default:
		return wrong
	}
	return nil
}

func problemTables(problems []orders.Finding) []reports.Table {
	return []reports.Table{reports.FindingTable(problems)}
}
