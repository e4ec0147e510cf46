package shop

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// BoardState is what may be done with a board.
type BoardState string

// A free board may be planned on; a reserved one waits for its job; used and
// removed ones are kept for the record.
const (
	BoardFree     BoardState = "free"
	BoardReserved BoardState = "reserved"
	BoardUsed     BoardState = "used"
	BoardRemoved  BoardState = "removed"
)

// RackBoard is one physical board: its Count is always 1.
type RackBoard struct {
	orders.Board
	State   BoardState
	Job     int64  // that holds it, or used it; 0: none
	Reason  string // why it was removed
	Version int64  // rises with every change
}

// BoardFilter picks boards; its zero value picks all that are on the rack.
type BoardFilter struct {
	Wood, Class string         // empty: any
	MinLength   measure.Length // at least so long and wide
	MinWidth    measure.Length
	State       BoardState // empty: free and reserved
	All         bool       // used and removed ones as well
}

// ListBoards gives the boards that pass the filter, by id in reading order: R2
// before R10.
func ListBoards(tx *Tx, f BoardFilter) ([]RackBoard, error) {
	where, args := []string{"length >= ?", "width >= ?"}, []any{int64(f.MinLength), int64(f.MinWidth)}
	switch {
	case f.State != "":
		where, args = append(where, "state = ?"), append(args, string(f.State))
	case !f.All:
		where = append(where, "state IN ('free', 'reserved')")
	}
	if f.Wood != "" {
		where, args = append(where, "wood = ?"), append(args, woods.Name(f.Wood))
	}
	if f.Class != "" {
		where, args = append(where, "class = ?"), append(args, strings.ReplaceAll(f.Class, " ", ""))
	}
	found, err := queryBoards(tx, "WHERE "+strings.Join(where, " AND "), args...)
	sortByID(found)
	return found, err
}

// BoardsFor gives the free boards as a plan takes them, with those that a job
// holds already: its own to plan on again. Job 0 holds none.
func BoardsFor(tx *Tx, job int64) ([]orders.Board, error) {
	found, err := queryBoards(tx, "WHERE state = 'free' OR state = 'reserved' AND job = ?", job)
	sortByID(found)
	var out []orders.Board
	for _, b := range found {
		out = append(out, b.Board)
	}
	return out, err
}

// TakenBoards gives the boards that are not free, by id.
func TakenBoards(tx *Tx) ([]RackBoard, error) {
	found, err := queryBoards(tx, "WHERE state <> 'free'")
	sortByID(found)
	return found, err
}

// FindBoard is one board; nil when the shop never had it.
func FindBoard(tx *Tx, id string) (*RackBoard, error) {
	found, err := queryBoards(tx, "WHERE id = ?", id)
	if err != nil || len(found) == 0 {
		return nil, err
	}
	return &found[0], nil
}

const boardColumns = `id, state, job, wood, class, thickness, length, width, wide_end, cost, place, grain, moisture, sheet, offcut, defects, source, reason, version`

func queryBoards(tx *Tx, where string, args ...any) ([]RackBoard, error) {
	var out []RackBoard
	var r boardRow
	into := r.columns()
	err := tx.Each(func(rows *sql.Rows) error {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		if len(out) == cap(out) {
			out = slices.Grow(out, len(out)+1) // boards are large: copied rather seldom
		}
		b, err := r.board()
		out = append(out, b)
		return err
	}, "SELECT "+boardColumns+" FROM boards "+where, args...)
	if err != nil {
		return nil, err
	}
	return out, nil
}

// boardRow is one row as it is scanned; each is scanned over the one before.
type boardRow struct {
	id, state, wood, class, place, grain, defects, source, reason string
	thickness, length, width, wideEnd, version                    int64
	job, cost                                                     sql.NullInt64
	moisture                                                      float64
	sheet, offcut                                                 bool
}

// columns is where the columns go, in the order they stand in a query.
func (r *boardRow) columns() []any {
	return []any{&r.id, &r.state, &r.job, &r.wood, &r.class, &r.thickness, &r.length, &r.width, &r.wideEnd, &r.cost, &r.place,
		&r.grain, &r.moisture, &r.sheet, &r.offcut, &r.defects, &r.source, &r.reason, &r.version}
}

func (r *boardRow) board() (RackBoard, error) {
	defects, err := readDefects(r.defects)
	if err != nil {
		return RackBoard{}, fmt.Errorf("board %s: its defects cannot be read: %w", r.id, err)
	}
	origin := orders.FromRack
	if r.offcut {
		origin = orders.FromOffcut
	}
	return RackBoard{
		Board: orders.Board{ID: r.id, Origin: origin, Count: 1, Wood: r.wood, Class: r.class, Thickness: measure.Length(r.thickness),
			Length: measure.Length(r.length), Width: measure.Length(r.width), WideEnd: measure.Length(r.wideEnd),
			Cost: measure.Money(r.cost.Int64), CostKnown: r.cost.Valid, Defects: defects, Place: r.place, Sheet: r.sheet,
			GrainTag: r.grain, Moisture: r.moisture, From: r.source},
		State: BoardState(r.state), Job: r.job.Int64, Reason: r.reason, Version: r.version,
	}, nil
}

// Defects stand in the file as [[x, y, length, width], ...] in ticks; a fifth
// number, 1, says that it is sapwood.
func readDefects(text string) ([]orders.Defect, error) {
	if text == "[]" {
		return nil, nil
	}
	var raw [][]int64
	if err := json.Unmarshal([]byte(text), &raw); err != nil {
		return nil, err
	}
	out := make([]orders.Defect, len(raw))
	for i, d := range raw {
		if len(d) != 4 && len(d) != 5 {
			return nil, fmt.Errorf("%d numbers for one of them", len(d))
		}
		out[i] = orders.Defect{X: measure.Length(d[0]), Y: measure.Length(d[1]), Length: measure.Length(d[2]), Width: measure.Length(d[3]),
			Sapwood: len(d) == 5 && d[4] == 1}
	}
	return out, nil
}

func writeDefects(defects []orders.Defect) string {
	raw := make([][]int64, len(defects))
	for i, d := range defects {
		raw[i] = []int64{int64(d.X), int64(d.Y), int64(d.Length), int64(d.Width)}
		if d.Sapwood {
			raw[i] = append(raw[i], 1)
		}
	}
	text, _ := json.Marshal(raw) // numbers always marshal
	return string(text)
}

func costOf(b orders.Board) sql.NullInt64 {
	return sql.NullInt64{Int64: int64(b.Cost), Valid: b.CostKnown}
}
