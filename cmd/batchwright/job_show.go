package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/batch"
	"batchwright/jigplan/joint"
	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders"
	"batchwright/orders/jobs"
	"batchwright/orders/measure"
	"batchwright/orders/store"
	"batchwright/reports"
	"batchwright/reports/record"
	"batchwright/reports/workbook"
)

// shown is a job as it stands in the shop file.
type shown struct {
	job       jobs.Job
	revisions []jobs.Revision
	revision  jobs.Revision // the one asked for
	papers    jobs.Papers
	boards    []string
	counts    []jobs.Made
	taken     []jobs.Taken
	profile   kit.Profile // that the revision was planned with
	latest    kit.Profile
	settings  orders.Settings
}

func (c *common) jobShow() *cobra.Command {
	revision, order := 0, ""
	cmd := &cobra.Command{
		Use:   "show JOB",
		Short: "Show a job; -o prints its workbook exactly as it was accepted, --json gives its plan",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.showJob(cmd.Context(), args[0], revision, order)
		},
	}
	cmd.Flags().IntVar(&revision, "revision", 0, "an earlier revision (default the latest)")
	cmd.Flags().StringVar(&order, "order", "", "write the order file, as it was accepted, to `FILE`")
	cmd.Flags().StringVarP(&c.output, "output", "o", "", "write the workbook to `FILE`")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) showJob(ctx context.Context, arg string, revision int, order string) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	var s shown
	if err := c.readShop(ctx, func(tx *store.Tx) error { return s.read(tx, id, revision) }); err != nil {
		return err
	}
	p, err := batch.Thaw(s.papers.Plan)
	if err != nil {
		return refuse("job %d, revision %d: %w", id, s.revision.Number, err)
	}
	if err := c.writeJSON(record.Of(p)); err != nil {
		return err
	}
	if err := c.reprint(&s, p, order); err != nil {
		return err
	}
	c.show(s.tables(p))
	c.warnOfProfile(&s, p)
	return nil
}

func (s *shown) read(tx *store.Tx, id int64, revision int) (err error) {
	if s.job, err = jobs.Find(tx, id); err != nil {
		return err
	}
	if s.revisions, err = jobs.Revisions(tx, id); err != nil {
		return err
	}
	if revision == 0 {
		revision = s.job.Revision
	}
	if revision < 1 || revision > len(s.revisions) {
		return refuse("job %d has revisions 1 to %d, and no %d", id, len(s.revisions), revision)
	}
	s.revision = s.revisions[revision-1]
	if s.papers, err = jobs.Read(tx, id, revision); err != nil {
		return err
	}
	if s.counts, err = jobs.Counts(tx, id); err != nil {
		return err
	}
	if s.taken, err = jobs.TakenBy(tx, id); err != nil {
		return err
	}
	profiles, err := kit.Profiles(tx)
	if err != nil {
		return err
	}
	s.profile, s.latest = kit.Defaults(), kit.Defaults()
	for _, p := range profiles {
		if s.latest = p; p.Version == s.revision.Profile {
			s.profile = p
		}
	}
	if s.settings, err = kit.Settings(tx, orders.DefaultSettings()); err != nil {
		return err
	}
	owned, err := rack.OfJobs(tx)
	s.boards = owned[id]
	return err
}

// reprint writes what was asked for: the order as it came, the workbook as it
// was printed. A closed job's workbook is printed again from its frozen plan.
func (c *common) reprint(s *shown, p *jigplan.Plan, order string) error {
	if order != "" {
		if s.papers.Order == nil {
			return refuse("a recut has no order of its own: ask for --revision %d", jobs.InForce(s.revisions)[0].Number)
		}
		written, err := c.write(order, s.papers.Order)
		if err != nil {
			return err
		}
		c.sayf("wrote %s, as it was accepted", written)
	}
	if c.output == "" {
		return nil
	}
	book := s.papers.Workbook
	if book == nil {
		var err error
		if book, err = workbook.Batch(p); err != nil {
			return refuse("cannot make the workbook: %w", err)
		}
	}
	written, err := c.write(c.output, book)
	if err == nil {
		c.sayf("wrote %s, as accepted on %s", written, s.revision.At.Format("2 January 2006"))
	}
	return err
}

func (s *shown) tables(p *jigplan.Plan) []reports.Table {
	unit := p.Order.Settings.Units
	facts := reports.Table{Title: fmt.Sprintf("Job %d: %s", s.job.ID, s.job.Name), Head: []string{"", ""}}
	facts.Add("State", string(s.job.State))
	for _, r := range [][2]string{{"Customer", s.job.Customer}, {"Due", day(s.job.Due)}, {"Held until", day(s.job.Held)}, {"Repeats job", repeated(s.job)}, {"Note", s.job.Note}} {
		if r[1] != "" {
			facts.Add(r[0], r[1])
		}
	}
	for _, t := range s.taken {
		facts.Add("Quote", takenText(t))
	}
	facts.Add("Boards", listed(s.boards))
	facts.Add("Time", reports.Hours(p.Time.Minutes)+" as likely as not, "+reports.Hours(p.Time.P80Minutes)+" four times in five")
	for _, m := range s.counts {
		facts.Add("Made", fmt.Sprintf("%s: %d of %d, %d spoiled", m.Box, m.Made, m.Planned, m.Spoiled))
	}
	history := reports.Table{Title: "Revisions", Head: []string{"", "Made", "Kind", "Boxes", "Parts", "Board feet", "Cost", "Hours", "Jig profile"}}
	for _, r := range s.revisions {
		history.Add(r.Number, r.At.Format("2006-01-02"), string(r.Kind), r.Boxes, r.Parts, r.Feet, r.Cost.String(), reports.Hours(r.Minutes), r.Profile)
	}
	out := []reports.Table{facts, history}
	if left := rack.Leftovers(p.Layout.Boards, s.job.ID); len(left) > 0 && s.job.State == jobs.Open {
		t := reports.Table{Title: "Comes back to the rack when the job is finished", Head: []string{"Offcut", "What"}}
		for _, l := range left {
			t.Add(l.Name, rack.Describe(l.Board, unit))
		}
		out = append(out, t)
	}
	return out
}

// warnOfProfile warns when the jig is no longer what the cards were made for,
// and says what that does to each fit.
func (c *common) warnOfProfile(s *shown, p *jigplan.Plan) {
	if s.latest.Version == s.revision.Profile || p.Order.HasShop {
		return
	}
	c.sayf("warning: the cards are for jig profile %d, the shop is at %d (%s): do not cut with them before a test corner",
		s.revision.Profile, s.latest.Version, strings.Join(s.latest.Differences(s.profile), "; "))
	for _, d := range drifts(p.Programs, s.settings.BladeKerf) {
		c.sayf("  %s", d)
	}
}

// drifts says what another kerf does to each program: every slot grows and
// every pin shrinks by what the kerf grows, so the fit moves by twice that.
func drifts(programs []jigplan.Program, kerf measure.Length) (out []string) {
	for _, p := range programs {
		moved := p.Fit.Add((kerf - p.Kerf).Ratio().Times(2))
		if moved.Cmp(p.Fit) == 0 {
			continue
		}
		was, is := joint.FitClass(p.Fit), joint.FitClass(moved)
		verdict := "still " + is
		if was != is {
			verdict = was + " -> " + is
		}
		out = append(out, fmt.Sprintf("%s: fit %s -> %s in, %s", p.ID, p.Fit.Places(measure.Inches, 4), moved.Places(measure.Inches, 4), verdict))
	}
	return out
}

func (c *common) jobChange() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use:   "change JOB ORDER.xlsx",
		Short: "Plan a changed order, or a later revision of its quote, and show what it changes in wood, hours and price; --yes replaces the accepted one",
		Args:  cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(); err != nil {
				return err
			}
			return c.changeJob(cmd.Context(), args[0], args[1], a)
		},
	}
	cmd.Flags().BoolVar(&a.yes, "yes", false, "replace what was accepted")
	a.takeFlags(cmd)
	return c.acceptFlags(cmd, &a)
}

func (c *common) changeJob(ctx context.Context, arg, path string, a acceptance) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	path, data, err := c.orderOrQuote(ctx, path, &a)
	if err != nil {
		return err
	}
	var old jobs.Revision
	var job jobs.Job
	if err := c.readShop(ctx, func(tx *store.Tx) error {
		if job, err = jobs.OpenJob(tx, id); err != nil {
			return err
		}
		revisions, err := jobs.Revisions(tx, id)
		if err == nil {
			old = jobs.InForce(revisions)[0]
		}
		if err == nil && old.Number != job.Revision {
			err = refuse("job %d has been cut already (revision %d is a recut): finish it, and take the change on as a new job", id, job.Revision)
		}
		return err
	}); err != nil {
		return err
	}
	if a.held.IsZero() {
		a.held = job.Held
	}
	ready, h, err := c.planJob(ctx, path, data, a, id)
	if err != nil {
		return err
	}
	c.show([]reports.Table{difference(old, ready)})
	if !a.yes && !c.dryRun {
		c.sayf("nothing was changed: add --yes to replace revision %d of job %d", old.Number, id)
		return nil
	}
	revision := 0
	err = c.alterShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			revision, err = batch.Change(tx, id, ready)
			return fmt.Sprintf("change job %d to revision %d: %s, boards %s", id, revision, filepath.Base(path), listed(batch.RackBoards(ready.Plan))), err
		})
	})
	if err != nil {
		return err
	}
	return c.accepted(path, id, revision, ready, h)
}

// difference sets what is accepted beside what would be.
func difference(old jobs.Revision, ready batch.Accepted) reports.Table {
	p := ready.Plan
	boxes := 0
	for _, b := range p.Order.Boxes {
		boxes += b.Count
	}
	t := reports.Table{Title: "What the change would change", Head: []string{"", "Accepted", "Changed"}}
	t.Add("Boxes", fmt.Sprint(old.Boxes), fmt.Sprint(boxes))
	t.Add("Parts", fmt.Sprint(old.Parts), fmt.Sprint(len(p.Parts)))
	t.Add("Boards of the rack", listed(old.Boards), listed(batch.RackBoards(p)))
	t.Add("Wood, board feet", old.Feet, reports.BoardFeet(p.Layout.Boards))
	t.Add("Cost of the wood", old.Cost.String(), p.Layout.Cost.String())
	t.Add("Hours", reports.Hours(old.Minutes), reports.Hours(p.Time.Minutes))
	t.Add("Price of the boxes", old.Price.String(), ready.Price().String())
	t.Add("Difference in price", "", signedMoney(ready.Price()-old.Price))
	return t
}
