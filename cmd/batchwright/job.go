package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/batch"
	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/jobs"
	"batchwright/orders/store"
	"batchwright/reports"
	"batchwright/reports/record"
	"batchwright/reports/workbook"
)

func jobCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "job", Short: "Jobs: accept an order and reserve its boards, list, show, change, recut, finish, cancel, repeat"}
	cmd.AddCommand(c.jobAccept(), c.jobList(), c.jobShow(), c.jobChange(), c.jobRecut(), c.jobFinish(), c.jobCancel(), c.jobRepeat())
	return group(cmd)
}

// acceptance is what the commands that plan into the shop file were asked.
type acceptance struct {
	short bool   // although some parts have no board
	until string // the day after which the reservation lapses
	held  time.Time
	yes   bool

	takes    []string // of a quote
	revision int      // of the quote; 0: the latest
	taken    *jobs.Taken
	rows     []batch.Taking
}

func (c *common) acceptFlags(cmd *cobra.Command, a *acceptance) *cobra.Command {
	c.orderFlags(cmd)
	cmd.Flags().BoolVar(&a.short, "short", false, "accept although some parts have no board; recut them when the wood is there")
	cmd.Flags().StringVar(&a.until, "until", "", "the reservation lapses after this `DATE` (2026-12-31)")
	cmd.Flags().BoolVar(&c.dryRun, "dry-run", false, "show what would change, and change nothing")
	return cmd
}

func (a *acceptance) read() (err error) {
	if a.until == "" {
		return nil
	}
	if a.held, err = time.Parse(time.DateOnly, a.until); err != nil {
		return exit{exitUsage, fmt.Errorf("--until %q is not a date such as 2026-12-31", a.until)}
	}
	return nil
}

func (c *common) jobAccept() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use:   "accept ORDER.xlsx",
		Short: "Take an order on, or what was taken of a quote: plan it on the free boards, freeze the plan, reserve the boards",
		Long: "Plans the order on the boards that are free, keeps order, plan, programs and workbook as they are now, and reserves\n" +
			"the boards, all in one commit. A board that another job takes meanwhile makes it plan again on what is free.\n" +
			"An order that was quoted, or a quote's number, is taken on at the sizes, the count, the price and the day that were\n" +
			"quoted, whatever the rates are now; --take says which option and count.",
		Example: "  batchwright job accept spring.xlsx\n" +
			"  batchwright job accept letterbox.xlsx --take \"Letter box B=1\"\n" +
			"  batchwright job accept letterbox --take \"Letter box B=1\" --of 2",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(); err != nil {
				return err
			}
			path, data, err := c.orderOrQuote(cmd.Context(), args[0], &a)
			if err != nil {
				return err
			}
			return c.accept(cmd.Context(), path, data, a, 0)
		},
	}
	a.takeFlags(cmd)
	return c.acceptFlags(cmd, &a)
}

// mostPlans is how often an order is planned again because another job took a
// board meanwhile.
const mostPlans = 20

// accept plans and takes on an order until no other job is faster.
func (c *common) accept(ctx context.Context, path string, data []byte, a acceptance, repeats int64) error {
	for try := 1; ; try++ {
		ready, h, err := c.planJob(ctx, path, data, a, 0)
		if err != nil {
			return err
		}
		ready.Repeats = repeats
		job, err := c.takeOn(ctx, ready)
		var taken *rack.TakenError
		switch {
		case errors.As(err, &taken) && try < mostPlans && ctx.Err() == nil:
			c.sayf("%v while this order was planned: planning again on what is free", taken)
			continue
		case errors.As(err, &taken):
			return exit{exitIncomplete, fmt.Errorf("%w; nothing was accepted: try again", err)}
		case err != nil:
			return err
		}
		return c.accepted(path, job, 1, ready, h)
	}
}

// takeOn commits job, boards and revision together.
func (c *common) takeOn(ctx context.Context, ready batch.Accepted) (job int64, err error) {
	err = c.changeShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			job, err = batch.Accept(tx, ready)
			return fmt.Sprintf("accept job %d: %s, boards %s", job, ready.Plan.Order.File, listed(batch.RackBoards(ready.Plan))), err
		})
	})
	return job, err
}

// planJob reads and plans an order on the free boards and those that job holds
// already, and prints its workbook into memory.
func (c *common) planJob(ctx context.Context, path string, data []byte, a acceptance, job int64) (batch.Accepted, held, error) {
	none := batch.Accepted{}
	opt := c.options(ctx)
	h, err := c.shopFor(ctx, job)
	if errors.Is(err, store.ErrAbsent) {
		err = nil // accepting makes it
	}
	if err != nil {
		return none, h, err
	}
	order, err := intake.Read(path, data, h.settings)
	if err != nil {
		return none, h, refuse("%w", err)
	}
	if err := c.sameBoards(ctx, order); err != nil {
		return none, h, err
	}
	if a.taken != nil {
		batch.Narrow(order, a.rows)
	}
	rackGiven := order.HasRack
	h.furnish(order)
	if (rackGiven || h.keeps) && len(order.Rack) == 0 && len(order.Yard) == 0 {
		return none, h, c.nothingFree(h)
	}
	p, err := batch.Plan(order, opt)
	if err != nil {
		return none, h, c.fault(path, p, err)
	}
	if batch.Failed(p) && !c.partial {
		return none, h, c.hasErrors(path, p)
	}
	if p.Incomplete() && !a.short {
		return none, h, c.shortOfWood(p, h)
	}
	h.stamp(p)
	book, err := workbook.Batch(p)
	if err != nil {
		return none, h, refuse("cannot make the batch workbook: %w", err)
	}
	ready := batch.Accepted{Order: data, Plan: p, Workbook: book, Profile: h.profile.Version, Factors: kit.FactorsByElement(h.factors), Held: a.held, Taken: a.taken}
	if order.HasShop {
		ready.Factors = nil // its own Shop sheet starts from the defaults
	}
	return ready, h, nil
}

// stamp writes the jig profile on the cards: a card that is found on the bench
// later can be told from today's.
func (h *held) stamp(p *jigplan.Plan) {
	if h.profile.Version == 0 || p.Order.HasShop {
		return
	}
	for i := range p.Programs {
		p.Programs[i].Warnings = append(p.Programs[i].Warnings, fmt.Sprintf("for jig profile %d of %s: when the blade has been sharpened or the jig changed since, cut a test corner first",
			h.profile.Version, h.profile.At.Format(time.DateOnly)))
	}
}

// sameBoards refuses an order whose Rack sheet gives another board the name of
// one the shop has.
func (c *common) sameBoards(ctx context.Context, o *orders.Order) error {
	if !o.HasRack {
		return nil
	}
	var problems []orders.Problem
	err := c.readShop(ctx, func(tx *store.Tx) error {
		for _, line := range o.Rack {
			for _, id := range rack.Physical(line.ID, line.Count) {
				old, err := rack.Find(tx, id)
				if err != nil {
					return err
				}
				if old != nil && !rack.Same(old.Board, line) {
					problems = append(problems, orders.Problem{Level: orders.Error, Source: line.Source, Read: id,
						Did: "another board than the shop's own " + id + ", which is " + rack.Describe(old.Board, o.Settings.Units),
						Fix: "give it another name, correct the shop's with rack import, or take the Rack sheet out of the order"})
				}
			}
		}
		return nil
	})
	if err != nil && !errors.Is(err, store.ErrAbsent) {
		return err
	}
	if len(problems) > 0 {
		return c.refuseBoards(problems, "nothing was accepted")
	}
	return nil
}

func (c *common) nothingFree(h held) error {
	if err := c.writeJSON(acceptJSON{Version: 1, Reserved: []string{}, Short: []string{}, HeldBy: h.holdersJSON(nil)}); err != nil {
		return err
	}
	return exit{exitIncomplete, fmt.Errorf("no board is free: %s; nothing was accepted", h.holding(nil))}
}

// shortOfWood says which parts have no board, and which jobs hold boards that
// would do.
func (c *common) shortOfWood(p *jigplan.Plan, h held) error {
	var ids []string
	woods := map[string]bool{}
	byReason, reasons := map[string][]string{}, []string{}
	for _, s := range reports.Short(p) {
		ids = append(ids, s.Part)
		if byReason[s.Why] == nil {
			reasons = append(reasons, s.Why)
		}
		byReason[s.Why] = append(byReason[s.Why], s.Part)
	}
	t := reports.Table{Title: "Parts without a board", Head: []string{"Parts", "Why"}}
	for _, why := range reasons {
		t.Add(reports.Listed(byReason[why], 10), why)
	}
	for _, part := range p.Parts {
		if slices.Contains(ids, part.ID) {
			woods[orders.WoodName(part.Wood)] = true
		}
	}
	c.show([]reports.Table{t})
	totals := record.Of(p).Totals
	if err := c.writeJSON(acceptJSON{Version: 1, Reserved: []string{}, Totals: &totals, Short: ids, HeldBy: h.holdersJSON(woods)}); err != nil {
		return err
	}
	return exit{exitIncomplete, fmt.Errorf("%s cannot be made as asked; %s. Nothing was accepted: add boards, free some, or accept what can be made with --short",
		some(len(ids), "part"), h.holding(woods))}
}

// holding names the jobs that hold boards, of these woods or of any.
func (h *held) holding(woods map[string]bool) string {
	var texts []string
	for _, b := range h.holdersJSON(woods) {
		texts = append(texts, fmt.Sprintf("board %s is already reserved by job %s", b.Board, b.Job))
	}
	switch {
	case len(texts) == 0:
		return "no job holds a board that would help"
	case len(texts) > 8:
		texts = append(texts[:8], fmt.Sprintf("and %d more", len(texts)-8))
	}
	return strings.Join(texts, ", ")
}

type holderJSON struct {
	Board string `json:"board"`
	Job   string `json:"job"`
}

func (h *held) holdersJSON(woods map[string]bool) []holderJSON {
	out := []holderJSON{}
	for _, b := range h.reserved {
		if woods == nil || woods[orders.WoodName(b.Wood)] {
			out = append(out, holderJSON{b.ID, jobID(b.Job)})
		}
	}
	return out
}

// acceptJSON is an accepted order; Job is null when it was not accepted.
type acceptJSON struct {
	Version  int            `json:"version"`
	DryRun   bool           `json:"dry_run"`
	Job      *acceptedJSON  `json:"job"`
	Reserved []string       `json:"boards"` // ids of the rack
	Totals   *record.Totals `json:"totals"`
	Short    []string       `json:"short"`
	HeldBy   []holderJSON   `json:"held_by"` // boards that would help, and the jobs that hold them
	Quote    *takenJSON     `json:"quote"`   // that was accepted; null: it was not quoted
}

type acceptedJSON struct {
	ID       string `json:"id"`
	Revision int    `json:"revision"`
}

// accepted says what was taken on, and writes the workbook.
func (c *common) accepted(path string, job int64, revision int, ready batch.Accepted, h held) error {
	p := ready.Plan
	boards := batch.RackBoards(p)
	totals := record.Of(p).Totals
	doc := acceptJSON{1, c.dryRun, &acceptedJSON{jobID(job), revision}, append([]string{}, boards...), &totals, []string{}, []holderJSON{}, ofTaken(ready.Taken)}
	for _, s := range reports.Short(p) {
		doc.Short = append(doc.Short, s.Part)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	verb := "accepted as"
	if c.dryRun {
		verb = "would be accepted as"
	}
	c.sayf("%s %s job %d, revision %d: %s; reserved %s", p.Order.File, verb, job, revision, hoursText(p), listed(boards))
	if ready.Taken != nil {
		c.sayf("as quoted: %s", takenText(*ready.Taken))
	}
	if !ready.Held.IsZero() {
		c.sayf("the reservation lapses after %s", ready.Held.Format(time.DateOnly))
	}
	if !c.dryRun {
		out := c.output
		if out == "" {
			out = beside(path, "-job-"+jobID(job))
			if revision > 1 {
				out = beside(path, fmt.Sprintf("-job-%d-revision-%d", job, revision))
			}
		}
		written, err := c.write(out, ready.Workbook)
		if err != nil {
			return fmt.Errorf("job %d was accepted, but its workbook could not be written (batchwright job show %d -o FILE writes it): %w", job, job, err)
		}
		c.sayf("wrote %s", written)
	}
	if p.Incomplete() || batch.Failed(p) {
		return exit{code: exitIncomplete}
	}
	return nil
}

func hoursText(p *jigplan.Plan) string {
	return fmt.Sprintf("%s, %s", some(reports.Boxes(p), "box"), reports.Hours(p.Time.Minutes))
}

func listed(ids []string) string {
	if len(ids) == 0 {
		return "no board of the rack"
	}
	return strings.Join(ids, ", ")
}

func (c *common) jobList() *cobra.Command {
	state := ""
	cmd := &cobra.Command{
		Use: "list", Short: "List the jobs", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.listJobs(cmd.Context(), jobs.State(state)) },
	}
	cmd.Flags().StringVar(&state, "state", "", "only jobs that are open, finished, cancelled or lapsed")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type jobsJSON struct {
	Version int       `json:"version"`
	Jobs    []jobJSON `json:"jobs"`
}

type jobJSON struct {
	ID       string     `json:"id"`
	Name     string     `json:"name"`
	Customer string     `json:"customer"`
	State    jobs.State `json:"state"`
	Due      string     `json:"due"`
	Until    string     `json:"until"`
	Revision int        `json:"revision"`
	Repeats  string     `json:"repeats"`
	Accepted time.Time  `json:"accepted"`
	Boards   []string   `json:"boards"` // held or used up
}

func (c *common) listJobs(ctx context.Context, state jobs.State) error {
	var list []jobs.Job
	var boards map[int64][]string
	if err := c.readShop(ctx, func(tx *store.Tx) (err error) {
		if list, err = jobs.List(tx, state); err == nil {
			boards, err = rack.OfJobs(tx)
		}
		return err
	}); err != nil {
		return err
	}
	doc := jobsJSON{1, []jobJSON{}}
	t := reports.Table{Head: []string{"Job", "State", "Order", "Customer", "Due", "Held until", "Revision", "Boards"}}
	for _, j := range list {
		of := boards[j.ID]
		slices.SortFunc(of, rack.CompareIDs)
		doc.Jobs = append(doc.Jobs, jobJSON{jobID(j.ID), j.Name, j.Customer, j.State, day(j.Due), day(j.Held), j.Revision, repeated(j), j.Accepted, append([]string{}, of...)})
		t.Add(j.ID, string(j.State), j.Name, j.Customer, day(j.Due), day(j.Held), j.Revision, strings.Join(of, ", "))
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if c.json != "-" {
		c.show([]reports.Table{t})
	}
	return nil
}

func repeated(j jobs.Job) string {
	if j.Repeats == 0 {
		return ""
	}
	return jobID(j.Repeats)
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// jobArg reads a job's number.
func jobArg(text string) (int64, error) {
	id, err := strconv.ParseInt(strings.TrimPrefix(text, "#"), 10, 64)
	if err != nil || id < 1 {
		return 0, exit{exitUsage, fmt.Errorf("%q is not the number of a job: see batchwright job list", text)}
	}
	return id, nil
}

func (c *common) jobCancel() *cobra.Command {
	reason := ""
	cmd := &cobra.Command{
		Use: "cancel JOB", Short: "Cancel a job: its boards are free again", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.cancelJob(cmd.Context(), args[0], reason) },
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// endedJSON is a job that was finished or cancelled.
type endedJSON struct {
	Version int        `json:"version"`
	DryRun  bool       `json:"dry_run"`
	Job     string     `json:"job"`
	State   jobs.State `json:"state"`
	Used    []string   `json:"used"`
	Freed   []string   `json:"freed"`
	Offcuts []string   `json:"offcuts"`
}

func (c *common) cancelJob(ctx context.Context, arg, reason string) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	var freed []string
	err = c.alterShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			freed, err = batch.Cancel(tx, id, reason)
			return fmt.Sprintf("cancel job %d: %s free again", id, listed(freed)), err
		})
	})
	if err != nil {
		return err
	}
	if err := c.writeJSON(endedJSON{1, c.dryRun, jobID(id), jobs.Cancelled, []string{}, append([]string{}, freed...), []string{}}); err != nil {
		return err
	}
	c.sayf("job %d cancelled; free again: %s", id, listed(freed))
	return nil
}

func (c *common) jobRepeat() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use: "repeat JOB", Short: "Take an old job's order on again, as a new job on today's boards", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := jobArg(args[0])
			if err == nil {
				err = a.read()
			}
			if err != nil {
				return err
			}
			var old jobs.Job
			var papers jobs.Papers
			if err := c.readShop(cmd.Context(), func(tx *store.Tx) error {
				if old, papers, err = firstPapers(tx, id); err != nil {
					return err
				}
				return a.again(tx, id)
			}); err != nil {
				return err
			}
			folder, err := os.Getwd()
			if err != nil {
				return refuse("cannot tell this folder: %w", err)
			}
			return c.accept(cmd.Context(), filepath.Join(folder, old.Name), papers.Order, a, id)
		},
	}
	return c.acceptFlags(cmd, &a)
}

// firstPapers are a job's papers as last accepted or changed.
func firstPapers(tx *store.Tx, id int64) (j jobs.Job, p jobs.Papers, err error) {
	if j, err = jobs.Find(tx, id); err != nil {
		return j, p, err
	}
	revisions, err := jobs.Revisions(tx, id)
	if err != nil || len(revisions) == 0 {
		return j, p, err
	}
	p, err = jobs.Read(tx, id, jobs.InForce(revisions)[0].Number)
	return j, p, err
}
