package shop

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// Accepted is a planned order on its way into the shop file.
type Accepted struct {
	Order    []byte // the order file
	Plan     *jigplan.Plan
	Workbook []byte // as printed
	Profile  int    // the jig profile it was planned with
	Factors  map[string]float64
	Held     time.Time // the reservation lapses after this day; zero: never
	Repeats  int64
	Taken    *TakenQuote // what was taken of a quote; nil: it was not quoted

	AsQuoted bool          // the plan is the one that was priced
	Moved    []string      // why it is another than Priced
	Priced   *jigplan.Plan // that could not be kept
}

// Accept takes a planned order on as a job: its frozen revision and its boards
// in the one transaction given. A board that another job took meanwhile is a
// *TakenError, and nothing is to be committed.
func Accept(tx *Tx, a Accepted) (job int64, err error) {
	r, papers, err := a.revision()
	if err != nil {
		return 0, err
	}
	job, err = addJob(tx, a.job(), r, papers)
	if err != nil {
		return 0, err
	}
	if err := a.take(tx, job, 1); err != nil {
		return 0, err
	}
	return job, a.reserve(tx, job)
}

// ChangeJob replaces what an open job was accepted as.
func ChangeJob(tx *Tx, job int64, a Accepted) (revision int, err error) {
	r, papers, err := a.revision()
	if err != nil {
		return 0, err
	}
	if _, err := Release(tx, job); err != nil {
		return 0, err
	}
	r.Job, r.Kind = job, KindChange
	if revision, err = revise(tx, r, papers); err != nil {
		return 0, err
	}
	if err := a.take(tx, job, revision); err != nil {
		return 0, err
	}
	j := a.job()
	j.ID = job
	if err := redate(tx, j); err != nil {
		return 0, err
	}
	return revision, a.reserve(tx, job)
}

// AddRecut puts the plan of parts that are cut again beside what was accepted.
// The boards cut so far count as used, and what is left of them is the job's
// until it is finished.
func AddRecut(tx *Tx, job int64, a Accepted) (revision int, err error) {
	if err := CutUp(tx, job); err != nil {
		return 0, err
	}
	r, papers, err := a.revision()
	if err != nil {
		return 0, err
	}
	r.Job, r.Kind = job, KindRecut
	if revision, err = revise(tx, r, papers); err != nil {
		return 0, err
	}
	return revision, a.reserve(tx, job)
}

// CutUp notes that a job's boards have been cut: they are used, and the
// offcuts its plans keep lie on the rack, held by the job.
func CutUp(tx *Tx, job int64) error {
	plans, err := PlansInForce(tx, job)
	if err != nil {
		return err
	}
	_, left, err := sawUp(tx, job, plans)
	if err != nil {
		return err
	}
	for _, r := range left {
		if err := ReturnOffcut(tx, r, job); err != nil {
			return err
		}
	}
	return nil
}

func stillHeld(tx *Tx, job int64, p *jigplan.Plan) ([]string, error) {
	held, err := HeldBoards(tx, job)
	return slices.DeleteFunc(RackBoards(p), func(id string) bool { return !slices.Contains(held, id) }), err
}

// PlansInForce thaws the plans of a job that hold: what was accepted or last
// changed, and the recuts after it.
func PlansInForce(tx *Tx, job int64) ([]*jigplan.Plan, error) {
	revisions, err := Revisions(tx, job)
	if err != nil {
		return nil, err
	}
	var out []*jigplan.Plan
	for _, r := range RevisionsInForce(revisions) {
		papers, err := ReadPapers(tx, job, r.Number)
		if err != nil {
			return nil, err
		}
		p, err := Thaw(papers.Plan)
		if err != nil {
			return nil, fmt.Errorf("job %d, revision %d: %w", job, r.Number, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// RackBoards names the shop's own boards a plan cuts, each once.
func RackBoards(p *jigplan.Plan) []string {
	var out []string
	for _, b := range stockUsed(p) {
		out = append(out, b.ID)
	}
	return out
}

func stockUsed(p *jigplan.Plan) []orders.Board {
	var out []orders.Board
	seen := map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if OnRack(b) && !seen[b.Stock.ID] {
			seen[b.Stock.ID] = true
			out = append(out, b.Stock)
		}
	}
	return out
}

// reserve holds the plan's boards; those of the order's own Rack sheet that
// the shop file does not know yet are put on the rack first.
func (a Accepted) reserve(tx *Tx, job int64) error {
	used := stockUsed(a.Plan)
	for i := range used {
		old, err := FindBoard(tx, used[i].ID)
		if err != nil {
			return err
		}
		if old != nil || used[i].Source == (orders.Source{}) {
			continue
		}
		used[i].From = fmt.Sprintf("%s of %s", used[i].Source, a.Plan.Order.File)
		if _, _, err := PutBoards(tx, used[i:i+1], a.Plan.Order.Settings.Units); err != nil {
			return err
		}
	}
	return Reserve(tx, job, used)
}

// take notes the quote that a revision was accepted as.
func (a Accepted) take(tx *Tx, job int64, revision int) error {
	if a.Taken == nil {
		return nil
	}
	t := *a.Taken
	t.Job, t.Number = job, revision
	return TakeQuote(tx, t)
}

// Price is what the boxes of an order are sold for, spares not: as quoted, else
// as the order says; 0: it does not.
func (a Accepted) Price() (sum measure.Money) {
	if a.Taken != nil {
		return a.Taken.Net
	}
	for _, b := range a.Plan.Order.Boxes {
		sum += b.Price * measure.Money(b.Count-b.Spare)
	}
	return sum
}

func (a Accepted) job() Job {
	o := a.Plan.Order
	j := Job{Name: o.File, Held: a.Held, Repeats: a.Repeats}
	var customers []string
	for _, b := range o.Boxes {
		if b.Customer != "" && !slices.Contains(customers, b.Customer) {
			customers = append(customers, b.Customer)
		}
		if !b.Due.IsZero() && (j.Due.IsZero() || b.Due.Before(j.Due)) {
			j.Due = b.Due
		}
	}
	j.Customer = strings.Join(customers, ", ")
	return j
}

func (a Accepted) revision() (Revision, Papers, error) {
	p := a.Plan
	frozen, err := Freeze(p)
	r := Revision{
		File: p.Order.File, SHA256: p.Order.SHA256, Profile: a.Profile, Parts: len(p.Parts), Boards: RackBoards(p),
		Cost: p.Layout.Cost, Minutes: p.Time.Minutes, P80: p.Time.P80Minutes, Factors: a.Factors, Feet: boardFeet(p),
	}
	for _, b := range p.Order.Boxes {
		r.Boxes += b.Count
	}
	r.Price = a.Price()
	return r, Papers{Order: a.Order, Plan: frozen, Workbook: a.Workbook}, err
}

// boardFeet is the tally of the solid boards a plan cuts, leaves of one resawn
// board once.
func boardFeet(p *jigplan.Plan) float64 {
	total, counted := 0.0, map[string]bool{}
	for i := range p.Layout.Boards {
		b := &p.Layout.Boards[i]
		if b.Stock.Sheet || counted[b.Whole()] {
			continue
		}
		counted[b.Whole()] = true
		feet, _ := b.Stock.BoardFeet().Float64()
		total += feet
	}
	return total
}

// Lapse cancels the reservations whose day is past, and says which jobs those
// were.
func Lapse(tx *Tx, today time.Time) ([]Job, error) {
	overdue, err := Overdue(tx, today)
	if err != nil {
		return nil, err
	}
	for _, j := range overdue {
		if _, err := Release(tx, j.ID); err != nil {
			return nil, err
		}
		if err := CloseJob(tx, j.ID, JobLapsed, "the reservation lapsed after "+j.Held.Format(time.DateOnly)); err != nil {
			return nil, err
		}
	}
	return overdue, nil
}

// CancelJob frees what a job holds.
func CancelJob(tx *Tx, job int64, why string) (freed []string, err error) {
	if freed, err = Release(tx, job); err != nil {
		return nil, err
	}
	return freed, CloseJob(tx, job, JobCancelled, why)
}

// Verify goes through the whole shop file; nothing is right.
func Verify(ctx context.Context, s *File) ([]string, error) {
	faults, err := s.Verify(ctx)
	if err != nil || len(faults) > 0 {
		return faults, err // a damaged file is not believed any further
	}
	err = s.View(ctx, func(tx *Tx) error {
		for _, look := range []func(*Tx) ([]string, error){rackFaults, jobFaults, settingFaults, heldAsPlanned} {
			more, err := look(tx)
			if err != nil {
				return err
			}
			faults = append(faults, more...)
		}
		return nil
	})
	return faults, err
}

// heldAsPlanned checks that every open job has the boards its plans cut, held
// or used by itself.
func heldAsPlanned(tx *Tx) ([]string, error) {
	open, err := Jobs(tx, JobOpen)
	if err != nil {
		return nil, err
	}
	owned, err := BoardsOfJobs(tx)
	if err != nil {
		return nil, err
	}
	var faults []string
	for _, j := range open {
		revisions, err := Revisions(tx, j.ID)
		if err != nil {
			return nil, err
		}
		for _, r := range RevisionsInForce(revisions) {
			for _, id := range r.Boards {
				if !slices.Contains(owned[j.ID], id) {
					faults = append(faults, fmt.Sprintf("job %d, revision %d, counts on board %s, which it does not hold", j.ID, r.Number, id))
				}
			}
		}
	}
	return faults, nil
}
