package shop

import (
	"database/sql"
	"fmt"
	"slices"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// TakenError is a board that was free when the plan was made and is not now.
type TakenError struct {
	Board string
	Job   int64 // that holds or used it; 0: it was removed or changed
	State BoardState
}

func (e *TakenError) Error() string {
	switch e.State {
	case BoardReserved:
		return fmt.Sprintf("board %s is already reserved by job %d", e.Board, e.Job)
	case BoardUsed:
		return fmt.Sprintf("board %s was used up by job %d", e.Board, e.Job)
	case BoardFree:
		return fmt.Sprintf("board %s was corrected while the plan was made", e.Board)
	}
	return fmt.Sprintf("board %s is no longer on the rack", e.Board)
}

// Reserve holds boards for a job, each as the plan saw it. A board that is not
// free, or is another size by now, is a *TakenError and nothing is reserved
// once the transaction is given up.
func Reserve(tx *Tx, job int64, boards []orders.Board) error {
	for _, want := range boards {
		b, err := FindBoard(tx, want.ID)
		if err != nil {
			return err
		}
		switch {
		case b == nil:
			return &TakenError{Board: want.ID}
		case b.State == BoardReserved && b.Job == job:
			continue
		case b.State != BoardFree:
			return &TakenError{want.ID, b.Job, b.State}
		}
		if size, _ := boardDifferences(b.Board, want, 0); len(size) > 0 {
			return &TakenError{Board: want.ID, State: BoardFree}
		}
		if _, err := tx.Exec("UPDATE boards SET state = 'reserved', job = ?, version = version + 1 WHERE id = ? AND state = 'free'", job, want.ID); err != nil {
			return err
		}
	}
	return nil
}

// Release frees all that a job holds, and says which boards those were.
func Release(tx *Tx, job int64) ([]string, error) {
	ids, err := HeldBoards(tx, job)
	if err != nil {
		return nil, err
	}
	_, err = tx.Exec("UPDATE boards SET state = 'free', job = NULL, version = version + 1 WHERE state = 'reserved' AND job = ?", job)
	return ids, err
}

// HeldBoards lists the boards a job holds, by id.
func HeldBoards(tx *Tx, job int64) ([]string, error) {
	found, err := queryBoards(tx, "WHERE state = 'reserved' AND job = ?", job)
	sortByID(found)
	return boardIDs(found), err
}

// BoardsOfJobs lists the boards each job holds or used up.
func BoardsOfJobs(tx *Tx) (map[int64][]string, error) {
	out := map[int64][]string{}
	err := tx.Each(func(rows *sql.Rows) error {
		var job int64
		var id string
		err := rows.Scan(&job, &id)
		out[job] = append(out[job], id)
		return err
	}, "SELECT job, id FROM boards WHERE job IS NOT NULL")
	return out, err
}

// useBoards marks boards as cut up by the job that holds them.
func useBoards(tx *Tx, job int64, boards []string) error {
	for _, id := range boards {
		res, err := tx.Exec("UPDATE boards SET state = 'used', version = version + 1 WHERE id = ? AND state = 'reserved' AND job = ?", id, job)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n != 1 {
			return fmt.Errorf("board %s is not reserved by job %d: see shop verify", id, job)
		}
	}
	return nil
}

// Returned is an offcut that goes back to the rack.
type Returned struct {
	Name   string // "W1.2": the second offcut kept of W1; "3-Y1#2.1": of a board bought for job 3
	Parent string // the rack board it is cut from; empty: a board that was bought
	Board  orders.Board
}

// Leftovers names the offcuts that a layout keeps of each of its boards, those
// of the rack and those bought for the job.
func Leftovers(boards []nesting.CutBoard, job int64) []Returned {
	var out []Returned
	count := map[string]int{}
	for i := range boards {
		b := &boards[i]
		parent, from, name := b.Stock.ID, "offcut of "+b.Stock.ID, b.Stock.ID
		if !OnRack(b) {
			parent, from, name = "", "offcut of bought wood", fmt.Sprintf("%d-%s", job, b.Whole())
		}
		for _, o := range b.Offcuts {
			if !o.Keep {
				continue
			}
			count[name]++
			left := b.Leftover(o)
			left.ID = fmt.Sprintf("%s.%d", name, count[name])
			left.From = fmt.Sprintf("%s, job %d", from, job)
			left.WideEnd = 0
			out = append(out, Returned{left.ID, parent, left})
		}
	}
	return out
}

// StillOnBoards keeps the leftovers that are not on the rack yet: their board
// was cut just now, or was bought and its offcuts never came back.
func StillOnBoards(tx *Tx, all []Returned, cut []string) ([]Returned, error) {
	var out []Returned
	for _, r := range all {
		if r.Parent != "" {
			if slices.Contains(cut, r.Parent) {
				out = append(out, r)
			}
			continue
		}
		old, err := FindBoard(tx, r.Name)
		if err != nil {
			return nil, err
		}
		if old == nil {
			out = append(out, r)
		}
	}
	return out, nil
}

// OnRack reports whether a board of a layout is one of the shop's own.
func OnRack(b *nesting.CutBoard) bool {
	return b.Stock.Origin == orders.FromRack || b.Stock.Origin == orders.FromOffcut
}

// ReturnOffcut puts an offcut on the rack: free, or held by a job that still needs
// it.
func ReturnOffcut(tx *Tx, r Returned, holder int64) error {
	state := BoardFree
	if holder != 0 {
		state = BoardReserved
	}
	return insertBoard(tx, r.Board, state, holder)
}

func boardIDs(boards []RackBoard) []string {
	out := make([]string, len(boards))
	for i, b := range boards {
		out[i] = b.ID
	}
	return out
}

// ResizeBoard corrects the size of an offcut that its job still holds; nothing left
// of it takes it off the rack.
func ResizeBoard(tx *Tx, id string, length, width measure.Length) error {
	if length == 0 || width == 0 {
		_, err := tx.Exec("UPDATE boards SET state = 'removed', job = NULL, reason = 'not kept', version = version + 1 WHERE id = ?", id)
		return err
	}
	b, err := FindBoard(tx, id)
	if err != nil || b == nil {
		return err
	}
	b.Defects = DefectsWithin(b.Defects, length, width)
	b.Length, b.Width = length, width
	return updateBoard(tx, b.Board, b.State)
}

// DefectsWithin keeps of defects what lies on a board of this size.
func DefectsWithin(defects []orders.Defect, length, width measure.Length) []orders.Defect {
	var out []orders.Defect
	for _, d := range defects {
		if d.X < length && d.Y < width {
			d.Length, d.Width = min(d.Length, length-d.X), min(d.Width, width-d.Y)
			out = append(out, d)
		}
	}
	return out
}

// SetBoardMoisture notes a measured moisture on a board; what is no board of the
// rack is left alone.
func SetBoardMoisture(tx *Tx, id string, percent float64) error {
	_, err := tx.Exec("UPDATE boards SET moisture = ?, version = version + 1 WHERE id = ? AND state IN ('free', 'reserved')", percent, id)
	return err
}
