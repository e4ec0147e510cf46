package main

import (
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/shop"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// shown is a job as it stands in the shop file.
type shown struct {
	job       shop.Job
	revisions []shop.Revision
	revision  shop.Revision // the one asked for
	papers    shop.Papers
	boards    []string
	counts    []shop.Made
	taken     []shop.TakenQuote
	profile   shop.Profile // that the revision was planned with
	latest    shop.Profile
	settings  settings.Shop
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
	outputFlag(cmd, &order, "order", "", "write the order file, as it was accepted, to `FILE`")
	outputFlag(cmd, &c.output, "output", "o", "write the workbook to `FILE`")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

func (c *common) showJob(ctx context.Context, arg string, revision int, order string) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	var s shown
	if err := c.readShop(ctx, func(tx *shop.Tx) error { return s.read(tx, id, revision) }); err != nil {
		return err
	}
	p, err := shop.Thaw(s.papers.Plan)
	if err != nil {
		return refuse("job %d, revision %d: %w", id, s.revision.Number, err)
	}
	if err := c.writePlan(p); err != nil {
		return err
	}
	if err := c.reprint(&s, p, order); err != nil {
		return err
	}
	c.show(s.tables(p))
	c.warnOfProfile(&s, p)
	return nil
}

func (s *shown) read(tx *shop.Tx, id int64, revision int) (err error) {
	if s.job, err = shop.FindJob(tx, id); err != nil {
		return err
	}
	if s.revisions, err = shop.Revisions(tx, id); err != nil {
		return err
	}
	if revision == 0 {
		revision = s.job.Revision
	}
	at := slices.IndexFunc(s.revisions, func(r shop.Revision) bool { return r.Number == revision })
	if at < 0 {
		return refuse("job %d has no revision %d; its latest is %d", id, revision, s.job.Revision)
	}
	s.revision = s.revisions[at]
	if s.papers, err = shop.ReadPapers(tx, id, revision); err != nil {
		return err
	}
	if s.counts, err = shop.MadeCounts(tx, id); err != nil {
		return err
	}
	if s.taken, err = shop.TakenBy(tx, id); err != nil {
		return err
	}
	profiles, err := shop.Profiles(tx)
	if err != nil {
		return err
	}
	s.profile, s.latest = shop.DefaultProfile(), shop.DefaultProfile()
	for _, p := range profiles {
		if s.latest = p; p.Version == s.revision.Profile {
			s.profile = p
		}
	}
	if s.settings, err = shop.Settings(tx, settings.Default()); err != nil {
		return err
	}
	owned, err := shop.BoardsOfJobs(tx)
	s.boards = owned[id]
	return err
}

// reprint writes what was asked for: the order as it came, the workbook as it
// was printed. A closed job's workbook is printed again from its frozen plan.
func (c *common) reprint(s *shown, p *jigplan.Plan, order string) error {
	if order != "" {
		if s.papers.Order == nil {
			return refuse("a recut has no order of its own: ask for --revision %d", shop.RevisionsInForce(s.revisions)[0].Number)
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
		c.sayf("wrote %s, as accepted on %s", written, c.unit().Date(s.revision.At))
	}
	return err
}

func (s *shown) tables(p *jigplan.Plan) []reports.Table {
	unit := p.Order.Settings.Units
	facts := reports.Table{Title: fmt.Sprintf("Job %d: %s", s.job.ID, s.job.Name), Head: []string{"", ""}}
	facts.Add("State", string(s.job.State))
	for _, r := range [][2]string{{"Customer", s.job.Customer}, {"Due", dayIn(unit, s.job.Due)}, {"Held until", dayIn(unit, s.job.Held)}, {"Repeats job", repeated(s.job)}, {"Note", s.job.Note}} {
		if r[1] != "" {
			facts.Add(r[0], r[1])
		}
	}
	for _, t := range s.taken {
		facts.Add("Quote", takenText(t, unit))
	}
	facts.Add("Boards", listed(s.boards))
	facts.Add("Time", "median "+reports.Hours(p.Time.Minutes)+"; 80% chance of "+reports.Hours(p.Time.P80Minutes)+" or less")
	for _, m := range s.counts {
		facts.Add("Made", fmt.Sprintf("%s: %d of %d, %d spoiled", m.Box, m.Made, m.Planned, m.Spoiled))
	}
	_, measured := reports.Tally(0, unit)
	history := reports.Table{Title: "Revisions", Head: []string{"", "Made", "Kind", "Boxes", "Parts", "Wood, " + measured, "Cost", "Hours", "Jig profile"}}
	for _, r := range s.revisions {
		wood, _ := reports.Tally(r.Feet, unit)
		history.Add(r.Number, unit.Date(r.At), string(r.Kind), r.Boxes, r.Parts, wood, r.Cost.In(unit), reports.Hours(r.Minutes), r.Profile)
	}
	out := []reports.Table{facts, history}
	if left := shop.Leftovers(p.Layout.Boards, s.job.ID); len(left) > 0 && s.job.State == shop.JobOpen {
		t := reports.Table{Title: "Back to the rack when the job is finished", Head: []string{"Offcut", "What"}}
		for _, l := range left {
			t.Add(l.Name, shop.DescribeBoard(l.Board, unit))
		}
		out = append(out, t)
	}
	return out
}
