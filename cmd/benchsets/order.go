package main

import (
	"fmt"
	"slices"
	"time"

	"batchwright/nesting"
	"batchwright/nesting/cutting"
	"batchwright/orders"
	"batchwright/orders/measure"
	shopset "batchwright/orders/settings"
)

// unit is what one whole unit of an instance measures on the order's boards.
const unit = measure.Length(1 << 16)

// job is the instance as an order: its stock is sheets that a yard sells, without
// raw edges and without limits of the saw, as the sets know none.
func (c instance) job() cutting.Job {
	const wood, thick = "birch ply", 6 * measure.Millimetre
	job := cutting.Job{Settings: shopset.Default()}
	set := &job.Settings
	set.EndTrim, set.EdgeTrim, set.ShortestMachine, set.ShortestRip, set.FenceReaches, set.SledTakes = 0, 0, 0, 0, 0, 0
	set.CrosscutKerf, set.RipKerf = measure.Length(c.kerf)*unit, measure.Length(c.kerf)*unit
	set.WoodBeforeWork, set.ResawUpTo = 0, 0
	for k, s := range c.stocks {
		b := orders.Board{ID: fmt.Sprint(k), Wood: wood, Sheet: true, Thickness: thick, Length: measure.Length(s.length) * unit,
			Width: measure.Length(c.across(s.width)) * unit, Cost: measure.Money(s.cost), CostKnown: true}
		if b.Unlimited = s.count == unlimited; !b.Unlimited {
			b.Count = int(s.count)
		}
		job.Yard = append(job.Yard, b)
	}
	for i, it := range c.items {
		part := orders.Part{Wood: wood, Thickness: thick, CutLength: measure.Length(it.length) * unit,
			CutWidth: measure.Length(c.across(it.width)) * unit, Grain: orders.AlongLength}
		if c.turn {
			part.Grain = orders.EitherWay
		}
		for n := range it.demand {
			part.ID = fmt.Sprintf("%d.%d", i, n)
			job.Parts = append(job.Parts, part)
		}
	}
	return job
}

// across is a size across the boards; lengths alone lie on boards one unit wide.
func (c instance) across(width int64) int64 {
	if c.cuts == "1d" {
		return 1
	}
	return width
}

// runOrder cuts the demand by the call that lays an order.
func runOrder(c instance, b budget) outcome {
	think := time.Until(b.deadline)
	l := cutting.Nest(c.job(), nesting.Limits{Seed: 1, Think: think, Deadline: b.deadline, Stop: b.stop})
	return outcome{ours: int64(l.Cost), solved: true, bound: int64(l.CostBound), bounded: true,
		proven: l.Proven, invalid: c.check(&l)}
}

// check recomputes a layout from the instance: every board, the stock, the
// demand and the cost.
func (c instance) check(l *nesting.Layout) error {
	flat := c
	flat.stocks, flat.items = slices.Clone(c.stocks), slices.Clone(c.items)
	for k := range flat.stocks {
		flat.stocks[k].width = c.across(flat.stocks[k].width)
	}
	for i := range flat.items {
		flat.items[i].width = c.across(flat.items[i].width)
	}
	made, used := make([]int64, len(c.items)), make([]int64, len(c.stocks))
	cost := int64(0)
	for n := range l.Boards {
		b := &l.Boards[n]
		var stock int
		if _, err := fmt.Sscan(b.Stock.ID, &stock); err != nil || stock < 0 || stock >= len(c.stocks) {
			return fmt.Errorf("board %d: no stock %q", n, b.Stock.ID)
		}
		var parts []placed
		for _, piece := range b.Pieces {
			var item, serial int
			if _, err := fmt.Sscanf(piece.Part, "%d.%d", &item, &serial); err != nil || item < 0 || item >= len(c.items) {
				return fmt.Errorf("board %d: no part %q", n, piece.Part)
			}
			for _, at := range []measure.Length{piece.X, piece.Y, piece.Length, piece.Width} {
				if at%unit != 0 {
					return fmt.Errorf("part %s lies at a part of a unit", piece.Part)
				}
			}
			parts = append(parts, placed{item, int64(piece.X / unit), int64(piece.Y / unit), int64(piece.Length / unit), int64(piece.Width / unit), piece.Turned})
			made[item]++
		}
		if err := checkPlate(flat, stock, parts); err != nil {
			return fmt.Errorf("board %d: %w", n, err)
		}
		used[stock]++
		cost += c.stocks[stock].cost
	}
	for i, s := range c.stocks {
		if s.count != unlimited && used[i] > s.count {
			return fmt.Errorf("stock %d is used %d times of %d", i, used[i], s.count)
		}
	}
	for i, it := range c.items {
		if made[i] < it.demand {
			return fmt.Errorf("item %d is made %d times of %d", i, made[i], it.demand)
		}
	}
	if cost != int64(l.Cost) {
		return fmt.Errorf("cost %d said, %d counted", l.Cost, cost)
	}
	return nil
}
