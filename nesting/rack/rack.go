// Package rack keeps the boards on hand in the shop file: what is free, which
// job holds a board, which boards were used up, and what came back. It takes
// the store's transaction and opens none; which boards a job wants is the
// plan's to say.
package rack

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/store"
)

// State is what may be done with a board.
type State string

// A free board may be planned on; a reserved one waits for its job; used and
// removed ones are kept for the record.
const (
	Free     State = "free"
	Reserved State = "reserved"
	Used     State = "used"
	Removed  State = "removed"
)

// Board is one physical board: its Count is always 1.
type Board struct {
	orders.Board
	State   State
	Job     int64  // that holds it, or used it; 0: none
	Reason  string // why it was removed
	Version int64  // rises with every change
}

// Filter picks boards; its zero value picks all that are on the rack.
type Filter struct {
	Wood, Class string         // empty: any
	MinLength   measure.Length // at least so long and wide
	MinWidth    measure.Length
	State       State // empty: free and reserved
	All         bool  // used and removed ones as well
}

// List gives the boards that pass the filter, by id in reading order: R2
// before R10.
func List(tx *store.Tx, f Filter) ([]Board, error) {
	where, args := []string{"length >= ?", "width >= ?"}, []any{int64(f.MinLength), int64(f.MinWidth)}
	switch {
	case f.State != "":
		where, args = append(where, "state = ?"), append(args, string(f.State))
	case !f.All:
		where = append(where, "state IN ('free', 'reserved')")
	}
	if f.Wood != "" {
		where, args = append(where, "wood = ?"), append(args, orders.WoodName(f.Wood))
	}
	if f.Class != "" {
		where, args = append(where, "class = ?"), append(args, strings.ReplaceAll(f.Class, " ", ""))
	}
	found, err := query(tx, "WHERE "+strings.Join(where, " AND "), args...)
	sortByID(found)
	return found, err
}

// Boards gives the free boards as a plan takes them, with those that a job
// holds already: its own to plan on again. Job 0 holds none.
func Boards(tx *store.Tx, job int64) ([]orders.Board, error) {
	found, err := query(tx, "WHERE state = 'free' OR state = 'reserved' AND job = ?", job)
	sortByID(found)
	var out []orders.Board
	for _, b := range found {
		out = append(out, b.Board)
	}
	return out, err
}

// Taken gives the boards that are not free, by id.
func Taken(tx *store.Tx) ([]Board, error) {
	found, err := query(tx, "WHERE state <> 'free'")
	sortByID(found)
	return found, err
}

// Find is one board; nil when the shop never had it.
func Find(tx *store.Tx, id string) (*Board, error) {
	found, err := query(tx, "WHERE id = ?", id)
	if err != nil || len(found) == 0 {
		return nil, err
	}
	return &found[0], nil
}

// Empty reports whether the shop never had a board: then nobody keeps a rack
// here, which is another thing than a rack with nothing left on it.
func Empty(tx *store.Tx) (bool, error) {
	var any bool
	err := tx.QueryRow("SELECT EXISTS (SELECT 1 FROM boards)").Scan(&any)
	return !any, err
}

const columns = `id, state, job, wood, class, thickness, length, width, wide_end, cost, place, grain, moisture, sheet, offcut, defects, source, reason, version`

func query(tx *store.Tx, where string, args ...any) ([]Board, error) {
	rows, err := tx.Query("SELECT "+columns+" FROM boards "+where, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Board
	for rows.Next() {
		b, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, rows.Err()
}

func scan(rows *sql.Rows) (Board, error) {
	b := Board{Board: orders.Board{Count: 1, Origin: orders.FromRack}}
	var job, cost sql.NullInt64
	var offcut bool
	var defects string
	err := rows.Scan(&b.ID, &b.State, &job, &b.Wood, &b.Class, &b.Thickness, &b.Length, &b.Width, &b.WideEnd, &cost, &b.Place,
		&b.GrainTag, &b.Moisture, &b.Sheet, &offcut, &defects, &b.From, &b.Reason, &b.Version)
	if err != nil {
		return b, err
	}
	b.Job, b.Cost, b.CostKnown = job.Int64, orders.Money(cost.Int64), cost.Valid
	if offcut {
		b.Origin = orders.FromOffcut
	}
	if b.Defects, err = readDefects(defects); err != nil {
		return b, fmt.Errorf("board %s: its defects cannot be read: %w", b.ID, err)
	}
	return b, nil
}

// Defects stand in the file as [[x, y, length, width], ...] in ticks.
func readDefects(text string) ([]orders.Defect, error) {
	if text == "[]" {
		return nil, nil
	}
	var raw [][4]int64
	if err := json.Unmarshal([]byte(text), &raw); err != nil {
		return nil, err
	}
	out := make([]orders.Defect, len(raw))
	for i, d := range raw {
		out[i] = orders.Defect{X: measure.Length(d[0]), Y: measure.Length(d[1]), Length: measure.Length(d[2]), Width: measure.Length(d[3])}
	}
	return out, nil
}

func writeDefects(defects []orders.Defect) string {
	raw := make([][4]int64, len(defects))
	for i, d := range defects {
		raw[i] = [4]int64{int64(d.X), int64(d.Y), int64(d.Length), int64(d.Width)}
	}
	text, _ := json.Marshal(raw) // numbers always marshal
	return string(text)
}

func costOf(b orders.Board) sql.NullInt64 {
	return sql.NullInt64{Int64: int64(b.Cost), Valid: b.CostKnown}
}
