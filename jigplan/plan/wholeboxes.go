package plan

import (
	"cmp"
	"math"
	"slices"
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/woods"
)

// attempt is a layout together with the walls of the boxes left out of it.
type attempt struct {
	layout nesting.Layout
	short  []nesting.Short
}

// whole reports that no part is short.
func (a *attempt) whole() bool { return a.missing() == 0 }

func (a *attempt) missing() int { return len(a.short) + len(a.layout.Short) }

// better: fewer parts are short, or it costs less, or it uses less wood.
func (a *attempt) better(b attempt) bool {
	if a.missing() != b.missing() {
		return a.missing() < b.missing()
	}
	if a.layout.Net() != b.layout.Net() {
		return a.layout.Net() < b.layout.Net()
	}
	return a.layout.AreaUsed.Cmp(b.layout.AreaUsed) < 0
}

// effort decides once which boxes are made: all of them if the wood reaches;
// else the small ones that it may reach for by area; broken ones are left out,
// and what can be given back is.
func (b *boxChoice) effort(think time.Duration) attempt {
	lim := b.limits(think)
	if think == firstThink {
		lim.Deadline = b.opt.Finish // something whole must come of it
	}
	a := b.nest(nil, lim)
	broken := b.broken(a)
	if len(broken) == 0 {
		return a
	}
	a = b.settle(broken, lim)
	if b.over() {
		return a
	}
	quick := lim
	quick.Think = trialThink
	if few := b.settle(b.beyondWood(), quick); few.better(a) {
		a = few
	}
	a = b.retryLeftOut(a, quick)
	if b.over() {
		return a
	}
	if more := b.settle(a.short, lim); more.better(a) {
		a = more
	}
	return a
}

// trialThink is the time to think about one trial of which boxes are made.
const trialThink = time.Microsecond

// usableShare is how much of a rack's area a layout may be hoped to use.
const usableShare = 0.75

// beyondWood lists the walls of the larger boxes, those the wood there is does
// not reach for by area.
func (b *boxChoice) beyondWood() (left []nesting.Short) {
	free := b.woodArea()
	for _, bx := range bySize(b.boxes) {
		wood := woods.Key(bx.walls[0].Wood)
		if free[wood] >= bx.area {
			free[wood] -= bx.area
			continue
		}
		for _, wall := range bx.walls {
			left = append(left, nesting.Short{Part: wall.ID, Why: "left out so that smaller boxes can be completed from the wood there is; add boards or make fewer"})
		}
	}
	return left
}

// woodArea is the area a layout may be hoped to use, by wood.
func (b *boxChoice) woodArea() map[string]float64 {
	free := map[string]float64{}
	for _, list := range [][]orders.Board{b.p.Order.Rack, b.p.Order.Yard} {
		for _, board := range list {
			n := float64(board.Count)
			if board.Unlimited {
				n = math.Inf(1)
			}
			free[woods.Key(board.Wood)] += n * usableShare * board.Length.Times(board.Width).SquareMillimetres()
		}
	}
	return free
}

// bySize sorts boxes small to large; equal ones keep their order.
func bySize(boxes []box) []box {
	out := slices.Clone(boxes)
	slices.SortStableFunc(out, func(x, y box) int { return cmp.Compare(x.area, y.area) })
	return out
}

// settle nests with some boxes left out, and leaves out what that breaks, until
// no box is broken. Once the clock has ended a nest, the next ones still have
// to be made; they get the time the plan keeps for what follows the nesting.
func (b *boxChoice) settle(left []nesting.Short, lim nesting.Limits) attempt {
	for {
		a := b.nest(left, lim)
		broken := b.broken(a)
		if len(broken) == 0 {
			return a
		}
		left = append(slices.Clone(left), broken...)
		if b.over() {
			lim.Deadline = b.opt.Finish
		}
	}
}

// broken lists the walls of the boxes that have wood for some of their walls
// and not for others.
func (b *boxChoice) broken(a attempt) (out []nesting.Short) {
	why := map[string]string{}
	for _, s := range a.layout.Short {
		why[s.Part] = s.Why
	}
	for _, s := range a.short {
		why[s.Part] = s.Why
	}
	for _, bx := range b.boxes {
		lacks := ""
		missing := 0
		for _, wall := range bx.walls {
			if why[wall.ID] == "" {
				continue
			}
			missing++
			if lacks == "" {
				lacks = wall.ID
			}
		}
		if missing == 0 || missing == len(bx.walls) {
			continue
		}
		for _, wall := range bx.walls {
			reason := why[wall.ID]
			if reason == "" {
				reason = "left out because its box lacks " + lacks + ": " + why[lacks]
			}
			out = append(out, nesting.Short{Part: wall.ID, Why: reason})
		}
	}
	return out
}

// maxGiven bounds the nests made to give boxes back in one effort.
const maxGiven = 10

// retryLeftOut tries the boxes left out again, wood by wood, the small ones first:
// twice as many at once while that goes well, half as many when it does not.
func (b *boxChoice) retryLeftOut(a attempt, lim nesting.Limits) attempt {
	tries := maxGiven
	for _, group := range b.leftOut(a) {
		for many := 1; many > 0 && len(group) > 0 && tries > 0 && !b.over(); tries-- {
			many = min(many, len(group))
			again := b.settle(except(a.short, group[:many]), lim)
			if b.over() || !again.better(a) {
				many /= 2
				continue
			}
			a, group, many = again, b.still(group, again), 2*many
		}
	}
	return a
}

// leftOut lists the boxes of which every wall is short, by their wood, the
// small ones first.
func (b *boxChoice) leftOut(a attempt) (out [][]box) {
	at := map[string]int{}
	short := shortParts(a)
	for _, bx := range b.boxes {
		if !short[bx.walls[0].ID] {
			continue
		}
		wood := woods.Key(bx.walls[0].Wood)
		i, known := at[wood]
		if !known {
			i = len(out)
			at[wood] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], bx)
	}
	for i := range out {
		out[i] = bySize(out[i])
	}
	return out
}

// still keeps the boxes of a group that an attempt leaves out.
func (b *boxChoice) still(group []box, a attempt) []box {
	short := shortParts(a)
	return slices.DeleteFunc(slices.Clone(group), func(bx box) bool { return !short[bx.walls[0].ID] })
}

func shortParts(a attempt) map[string]bool {
	short := map[string]bool{}
	for _, list := range [][]nesting.Short{a.short, a.layout.Short} {
		for _, s := range list {
			short[s.Part] = true
		}
	}
	return short
}

// except is the walls left out without those of the boxes given.
func except(left []nesting.Short, boxes []box) []nesting.Short {
	back := map[string]bool{}
	for _, bx := range boxes {
		for _, wall := range bx.walls {
			back[wall.ID] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(left), func(s nesting.Short) bool { return back[s.Part] })
}
