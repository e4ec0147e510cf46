package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/plan"
	"batchwright/jigplan/shop"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func (c *common) jobFinish() *cobra.Command {
	var made, spoiled, offcuts []string
	cmd := &cobra.Command{
		Use:   "finish JOB",
		Short: "Finish a job: its boards are used up, its offcuts go back to the rack",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o, err := c.outcome(made, spoiled, offcuts)
			if err != nil {
				return err
			}
			return c.finishJob(cmd.Context(), args[0], o)
		},
	}
	cmd.Flags().StringArrayVar(&made, "made", nil, "boxes made of a line, if not as planned: `BOX=N`; may be repeated")
	cmd.Flags().StringArrayVar(&spoiled, "spoiled", nil, "boxes spoiled of a line: `BOX=N`; may be repeated")
	cmd.Flags().StringArrayVar(&offcuts, "offcut", nil, "an offcut of another size than planned: `NAME=LENGTHxWIDTH`, or NAME=none; may be repeated")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// outcome reads the flags of finish.
func (c *common) outcome(made, spoiled, offcuts []string) (shop.Outcome, error) {
	o := shop.Outcome{Offcuts: map[string]shop.Rectangle{}}
	var errs [3]error
	o.Made, errs[0] = countFlags("made", made)
	o.Spoiled, errs[1] = countFlags("spoiled", spoiled)
	for _, text := range offcuts {
		name, size, _ := strings.Cut(text, "=")
		r, err := c.rectangleFlag(size)
		errs[2] = errors.Join(errs[2], err)
		o.Offcuts[name] = r
	}
	if err := errors.Join(errs[:]...); err != nil {
		return o, exit{exitUsage, err}
	}
	return o, nil
}

func countFlags(flag string, texts []string) (map[string]int, error) {
	out := map[string]int{}
	for _, text := range texts {
		at := strings.LastIndex(text, "=")
		n, err := strconv.Atoi(strings.TrimSpace(text[at+1:]))
		if at < 1 || err != nil || n < 0 {
			return nil, fmt.Errorf("--%s %q is not written like \"Tea box=9\"", flag, text)
		}
		out[strings.TrimSpace(text[:at])] = n
	}
	return out, nil
}

func (c *common) rectangleFlag(size string) (shop.Rectangle, error) {
	if size == "none" {
		return shop.Rectangle{}, nil
	}
	long, wide, ok := strings.Cut(strings.ReplaceAll(size, "×", "x"), "x")
	if !ok {
		return shop.Rectangle{}, fmt.Errorf("--offcut size %q is not written like 28x3-1/2, nor none", size)
	}
	l, err1 := c.lengthFlag("offcut", long)
	w, err2 := c.lengthFlag("offcut", wide)
	if err := errors.Join(err1, err2); err != nil {
		return shop.Rectangle{}, err
	}
	if l <= 0 || w <= 0 {
		return shop.Rectangle{}, fmt.Errorf("--offcut size %q is nothing: write none when it was not kept", size)
	}
	return shop.Rectangle{Length: l, Width: w}, nil
}

func (c *common) finishJob(ctx context.Context, arg string, o shop.Outcome) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	var e shop.Ended
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			e, err = shop.FinishJob(tx, id, o)
			return fmt.Sprintf("finish job %d: %s used up, %s back on the rack", id, listed(e.Used), listed(names(e.Back))), err
		})
	})
	if err != nil {
		return err
	}
	if err := c.writeJSON(endedJSON{1, c.dryRun, jobID(id), shop.JobFinished, append([]string{}, e.Used...), append([]string{}, e.Freed...), append([]string{}, names(e.Back)...)}); err != nil {
		return err
	}
	c.sayf("job %d finished; used up: %s", id, listed(e.Used))
	if len(e.Freed) > 0 {
		c.sayf("free again: %s", listed(e.Freed))
	}
	for _, r := range e.Back {
		c.sayf("back on the rack: %s, %s", r.Name, shop.DescribeBoard(r.Board, c.unit()))
	}
	return nil
}

func names(back []shop.Returned) (out []string) {
	for _, r := range back {
		out = append(out, r.Name)
	}
	return out
}

func (c *common) jobRecut() *cobra.Command {
	var a acceptance
	cmd := &cobra.Command{
		Use:   "recut JOB PART...",
		Short: "Plan spoiled or missing parts again from what is left",
		Long: "Plans the parts named (\"Recipe box 3 side 1\", a code from the sheet Parts, or a whole box) on what is left of the job's boards\n" +
			"and on free boards, with the cards the job was accepted with, and writes a workbook of just those. With --board all parts that\n" +
			"were to come from a board that split or is missing are planned on others. The job's boards count as cut from now on.",
		Example: "  batchwright job recut 3 \"Recipe box 3 side 1\"\n  batchwright job recut 3 --board R2#1",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.read(c); err != nil {
				return err
			}
			if len(args) < 2 && len(a.boards) == 0 {
				return exit{exitUsage, errors.New("name the parts, such as \"Recipe box 3 side 1\", or with --board the board they were to come from")}
			}
			return c.recutJob(cmd.Context(), args[0], args[1:], a)
		},
	}
	cmd.Flags().StringSliceVar(&a.boards, "board", nil, "all parts of this `BOARD`, which split or is missing; nothing of it is used")
	return c.acceptFlags(cmd, &a)
}

// spoiled is the codes of the parts to be cut again: those named, and all that
// were to come from a board that is gone.
func spoiled(p *jigplan.Plan, said, boards []string) ([]string, error) {
	names := reports.NamesOf(p)
	var codes []string
	for _, text := range said {
		found := names.Find(text)
		if len(found) == 0 {
			return nil, fmt.Errorf("no part %q; nearest: %s", text, strings.Join(names.Nearest(text, 3), ", "))
		}
		codes = append(codes, found...)
	}
	for _, id := range boards {
		n := len(codes)
		for i := range p.Layout.Boards {
			b := &p.Layout.Boards[i]
			if !strings.EqualFold(b.Whole(), id) && !strings.EqualFold(b.ID, id) {
				continue
			}
			for _, piece := range b.Pieces {
				codes = append(codes, piece.Part)
			}
		}
		if len(codes) == n {
			return nil, fmt.Errorf("no part is planned on board %q; the job's boards: %s", id, strings.Join(boardsOf(p), ", "))
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes), nil
}

func boardsOf(p *jigplan.Plan) []string {
	var out []string
	for i := range p.Layout.Boards {
		if id := p.Layout.Boards[i].Whole(); !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

func (c *common) recutJob(ctx context.Context, arg string, parts []string, a acceptance) error {
	id, err := jobArg(arg)
	if err != nil {
		return err
	}
	ready, h, err := c.planRecut(ctx, id, parts, a)
	if err != nil {
		return err
	}
	revision := 0
	err = c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			revision, err = shop.AddRecut(tx, id, ready)
			return fmt.Sprintf("recut of job %d, revision %d: %s, from %s", id, revision, strings.Join(parts, ", "), listed(shop.RackBoards(ready.Plan))), err
		})
	})
	if err != nil {
		return err
	}
	return c.accepted(ready.Plan.Order.File, id, revision, ready, h)
}

// planRecut plans on the job's own leftovers first, then on free boards.
func (c *common) planRecut(ctx context.Context, id int64, parts []string, a acceptance) (shop.Accepted, held, error) {
	none := shop.Accepted{}
	h, err := c.shopFor(ctx, id)
	if err != nil {
		return none, h, err
	}
	var s shown
	var plans []*jigplan.Plan
	left := map[*jigplan.Plan][]shop.Returned{}
	if err := c.readShop(ctx, func(tx *shop.Tx) error {
		if _, err := shop.OpenJob(tx, id); err != nil {
			return err
		}
		if err := s.read(tx, id, 0); err != nil {
			return err
		}
		holds, err := shop.HeldBoards(tx, id)
		if err != nil {
			return err
		}
		plans, err = shop.PlansInForce(tx, id)
		for _, p := range plans {
			if err == nil {
				left[p], err = shop.StillOnBoards(tx, shop.Leftovers(p.Layout.Boards, id), holds)
			}
		}
		return err
	}); err != nil {
		return none, h, err
	}
	accepted := plans[0]
	free := h.free
	for _, p := range plans { // its boards are cut; what is left of them is there
		cut := shop.RackBoards(p)
		free = slices.DeleteFunc(slices.Clone(free), func(b orders.Board) bool { return slices.Contains(cut, b.ID) })
		for _, r := range left[p] {
			if !slices.Contains(a.boards, r.Parent) {
				free = append(free, r.Board)
			}
		}
	}
	if parts, err = spoiled(accepted, parts, a.boards); err != nil {
		return none, h, refuse("job %d: %w", id, err)
	}
	p, err := plan.Recut(accepted, parts, free, c.options(ctx))
	if errors.Is(err, jigplan.ErrFault) {
		return none, h, c.fault(accepted.Order.File, p, err)
	}
	if err != nil {
		return none, h, refuse("job %d: %w", id, err)
	}
	if p.Incomplete() && !a.short {
		return none, h, c.shortOfWood(p, h)
	}
	book, err := workbook.Batch(p)
	if err != nil {
		return none, h, refuse("cannot make the workbook: %w", err)
	}
	c.warnOfProfile(&s, accepted)
	c.show([]reports.Table{recutTable(p.Layout.Boards)})
	return shop.Accepted{Plan: p, Workbook: book, Profile: s.revision.Profile, Factors: shop.FactorsByElement(h.factors)}, h, nil
}

// recutTable says which part comes from which board.
func recutTable(boards []nesting.CutBoard) reports.Table {
	t := reports.Table{Title: "Cut again", Head: []string{"Part", "From board"}}
	for i := range boards {
		for _, piece := range boards[i].Pieces {
			t.Add(piece.Part, boards[i].ID)
		}
	}
	return t
}
