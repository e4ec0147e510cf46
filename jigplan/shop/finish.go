package shop

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
)

// Outcome is what really came of a job.
type Outcome struct {
	Made    map[string]int       // boxes made of a line; a line that is not named: as planned
	Spoiled map[string]int       // boxes spoiled of a line
	Offcuts map[string]Rectangle // offcuts that came out in another size; zero: not kept
}

// Rectangle is the true size of an offcut.
type Rectangle struct{ Length, Width measure.Length }

// Ended is what the end of a job did to the rack.
type Ended struct {
	Used  []string   // boards that are used up
	Back  []Returned // offcuts that came back
	Freed []string   // what the job held beside that
}

// FinishJob ends a job: its boards are used up, the offcuts go back to the rack,
// and the counts are recorded.
func FinishJob(tx *Tx, job int64, o Outcome) (e Ended, err error) {
	if _, err := OpenJob(tx, job); err != nil {
		return e, err
	}
	plans, err := PlansInForce(tx, job)
	if err != nil {
		return e, err
	}
	counts, err := o.counts(plans[0])
	if err != nil {
		return e, err
	}
	var left []Returned
	if e.Used, left, err = sawUp(tx, job, plans); err != nil {
		return e, err
	}
	if e.Back, err = o.correct(tx, job, left); err != nil {
		return e, err
	}
	if e.Freed, err = Release(tx, job); err != nil {
		return e, err
	}
	if err := RecordMade(tx, job, counts); err != nil {
		return e, err
	}
	return e, CloseJob(tx, job, JobFinished, "")
}

// sawUp marks the boards that a job's plans cut as used, and names the offcuts
// that are now there; it does not put them on the rack.
func sawUp(tx *Tx, job int64, plans []*jigplan.Plan) (used []string, left []Returned, err error) {
	for _, p := range plans {
		cut, err := stillHeld(tx, job, p)
		if err != nil {
			return nil, nil, err
		}
		if err := useBoards(tx, job, cut); err != nil {
			return nil, nil, err
		}
		used = append(used, cut...)
		there, err := StillOnBoards(tx, Leftovers(p.Layout.Boards, job), cut)
		if err != nil {
			return nil, nil, err
		}
		left = append(left, there...)
	}
	return used, left, nil
}

// correct puts the offcuts back at their true sizes. Those that a recut put on
// the rack before are corrected there.
func (o Outcome) correct(tx *Tx, job int64, planned []Returned) (back []Returned, err error) {
	known := map[string]bool{}
	for _, left := range planned {
		known[left.Name] = true
		size, corrected := o.Offcuts[left.Name]
		switch {
		case corrected && size == Rectangle{}:
			continue
		case corrected:
			left.Board.Length, left.Board.Width = size.Length, size.Width
			left.Board.Defects = DefectsWithin(left.Board.Defects, size.Length, size.Width)
		}
		if err := ReturnOffcut(tx, left, 0); err != nil {
			return nil, err
		}
		back = append(back, left)
	}
	for name, size := range o.Offcuts {
		if known[name] {
			continue
		}
		b, err := FindBoard(tx, name)
		if err != nil {
			return nil, err
		}
		if b == nil || b.Job != job || b.State != BoardReserved {
			return nil, fmt.Errorf("job %d returns no offcut %q: job show %d lists those it returns", job, name, job)
		}
		if err := ResizeBoard(tx, name, size.Length, size.Width); err != nil {
			return nil, err
		}
	}
	return back, nil
}

// counts is what was made of each line, by its name in the order.
func (o Outcome) counts(p *jigplan.Plan) ([]Made, error) {
	var out []Made
	known := map[string]bool{}
	for _, b := range p.Order.Boxes {
		known[b.Name] = true
		m := Made{Box: b.Name, Planned: b.Count, Made: b.Count, Spoiled: o.Spoiled[b.Name]}
		if n, said := o.Made[b.Name]; said {
			m.Made = n
		} else {
			m.Made = max(0, b.Count-m.Spoiled)
		}
		out = append(out, m)
	}
	for _, said := range []map[string]int{o.Made, o.Spoiled} {
		for name := range said {
			if !known[name] {
				return nil, fmt.Errorf("the order has no box called %q", name)
			}
		}
	}
	return out, nil
}
