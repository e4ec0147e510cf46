package shop

import (
	"crypto/sha256"
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

// BoardChange is one board that an import or a count changes.
type BoardChange struct {
	ID   string
	What string // "added", "corrected", "put back", "removed"
	How  string // "length 96 in -> 90 in; place A1 -> B2"
}

// Refused is a board that cannot be changed as asked.
type Refused struct {
	ID     string
	Source orders.Source
	Why    string
	Fix    string
}

// PutBoards adds boards and corrects those whose id the shop knows, one line of the
// list for each or, with a Count, for several. Nothing is changed when any is
// refused. Unit is how changes are worded.
func PutBoards(tx *Tx, lines []orders.Board, unit measure.Unit) (changes []BoardChange, refused []Refused, err error) {
	seen := map[string]bool{}
	var todo []func() error
	for _, line := range lines {
		for _, id := range PhysicalIDs(line.ID, line.Count) {
			b := line
			b.ID, b.Count = id, 1
			if seen[id] {
				refused = append(refused, Refused{id, line.Source, "this name appears twice in the list", "give each board its own name"})
				continue
			}
			seen[id] = true
			change, no, do, err := putBoard(tx, b, unit)
			if err != nil {
				return nil, nil, err
			}
			if no != nil {
				refused = append(refused, *no)
			}
			if do != nil {
				changes, todo = append(changes, change), append(todo, do)
			}
		}
	}
	if len(refused) > 0 {
		return changes, refused, nil
	}
	for _, do := range todo {
		if err := do(); err != nil {
			return nil, nil, err
		}
	}
	return changes, nil, nil
}

// putBoard says what becomes of one board; do is nil when it stays as it is.
func putBoard(tx *Tx, b orders.Board, unit measure.Unit) (c BoardChange, no *Refused, do func() error, err error) {
	old, err := FindBoard(tx, b.ID)
	switch {
	case err != nil:
		return c, nil, nil, err
	case old == nil:
		return BoardChange{b.ID, "added", DescribeBoard(b, unit)}, nil, func() error { return insertBoard(tx, b, BoardFree, 0) }, nil
	case old.State == BoardUsed:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s was used up by job %d", b.ID, old.Job), "give the new board another name"}, nil, nil
	}
	size, rest := boardDifferences(old.Board, b, unit)
	switch {
	case b.Listed != "" && b.Listed != BoardListed(old.Board) && len(size)+len(rest) > 0:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s was corrected by somebody else after this list was written: the shop file differs in %s", b.ID, strings.Join(append(size, rest...), "; ")),
			"write the list again with rack list -o and correct that, or clear the cell As listed if this line is right"}, nil, nil
	case old.State == BoardReserved && len(size) > 0:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s is reserved by job %d, whose plan depends on its %s", b.ID, old.Job, strings.Join(size, "; ")),
			"cancel or change the job first, or leave the board as it is"}, nil, nil
	case old.State == BoardRemoved:
		how := strings.Join(append([]string{"was removed: " + old.Reason}, append(size, rest...)...), "; ")
		return BoardChange{b.ID, "put back", how}, nil, func() error { return updateBoard(tx, b, BoardFree) }, nil
	case len(size)+len(rest) == 0:
		return c, nil, nil, nil
	}
	return BoardChange{b.ID, "corrected", strings.Join(append(size, rest...), "; ")}, nil, func() error { return updateBoard(tx, b, old.State) }, nil
}

// SameBoard reports whether two descriptions are of one board, as far as a plan
// counts on it.
func SameBoard(a, b orders.Board) bool {
	size, _ := boardDifferences(a, b, measure.Millimetres)
	return len(size) == 0
}

// boardDifferences says what of a board changes: what a plan counts on, and the
// rest.
func boardDifferences(old, b orders.Board, unit measure.Unit) (size, rest []string) {
	note := func(list *[]string, what, was, is string) {
		if was != is {
			*list = append(*list, fmt.Sprintf("%s %s -> %s", what, orNone(was), orNone(is)))
		}
	}
	length := func(list *[]string, what string, was, is measure.Length) {
		if was != is {
			note(list, what, ExactLength(was, unit), ExactLength(is, unit))
		}
	}
	note(&size, "wood", woods.Name(old.Wood), woods.Name(b.Wood))
	note(&size, "class", old.Class, b.Class)
	length(&size, "thickness", old.Thickness, b.Thickness)
	length(&size, "length", old.Length, b.Length)
	length(&size, "width", old.Width, b.Width)
	note(&size, "defects", DefectsText(old, unit), DefectsText(b, unit))
	length(&rest, "wide end", old.WideEnd, b.WideEnd)
	note(&rest, "cost", costText(old), costText(b))
	note(&rest, "place", old.Place, b.Place)
	note(&rest, "grain tag", old.GrainTag, b.GrainTag)
	if old.Moisture != b.Moisture {
		note(&rest, "moisture", fmt.Sprint(old.Moisture), fmt.Sprint(b.Moisture))
	}
	return size, rest
}

// BoardListed stands for all that a list says of a board. A correction is refused
// when it was made to a list that said something else than the shop file does.
func BoardListed(b orders.Board) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %d %d %d %q %q %q %v %s", woods.Name(b.Wood), b.Class, b.Thickness, b.Length, b.Width, b.WideEnd,
		costText(b), b.Place, b.GrainTag, b.Moisture, writeDefects(b.Defects)))
	return fmt.Sprintf("v%x", sum[:4])
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

func costText(b orders.Board) string {
	if !b.CostKnown {
		return ""
	}
	return b.Cost.String()
}

func insertBoard(tx *Tx, b orders.Board, state BoardState, job int64) error {
	_, err := tx.Exec(`INSERT INTO boards (id, state, job, wood, class, thickness, length, width, wide_end, cost, place, grain, moisture, sheet, offcut, defects, source)
		VALUES (?, ?, NULLIF(?, 0), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		b.ID, state, job, woods.Name(b.Wood), b.Class, int64(b.Thickness), int64(b.Length), int64(b.Width), int64(b.WideEnd), costOf(b), b.Place,
		b.GrainTag, b.Moisture, b.Sheet, b.Origin == orders.FromOffcut, writeDefects(b.Defects), b.From)
	return err
}

// updateBoard corrects a board; where it came from, and whether it is an offcut,
// stay as they are.
func updateBoard(tx *Tx, b orders.Board, state BoardState) error {
	_, err := tx.Exec(`UPDATE boards SET state = ?, wood = ?, class = ?, thickness = ?, length = ?, width = ?, wide_end = ?, cost = ?, place = ?,
		grain = ?, moisture = ?, sheet = ?, defects = ?, reason = '', version = version + 1 WHERE id = ?`,
		state, woods.Name(b.Wood), b.Class, int64(b.Thickness), int64(b.Length), int64(b.Width), int64(b.WideEnd), costOf(b), b.Place,
		b.GrainTag, b.Moisture, b.Sheet, writeDefects(b.Defects), b.ID)
	return err
}

// RemoveBoards takes boards off the rack for a reason. A reserved board is refused,
// a removed one stays removed.
func RemoveBoards(tx *Tx, ids []string, reason string) (changes []BoardChange, refused []Refused, err error) {
	for _, id := range ids {
		b, err := FindBoard(tx, id)
		switch {
		case err != nil:
			return nil, nil, err
		case b == nil:
			refused = append(refused, Refused{ID: id, Why: "there is no board " + id, Fix: "see rack list"})
		case b.State == BoardReserved:
			refused = append(refused, Refused{ID: id, Why: fmt.Sprintf("board %s is already reserved by job %d", id, b.Job), Fix: fmt.Sprintf("cancel job %d first, or plan it again with job change", b.Job)})
		case b.State == BoardUsed:
			refused = append(refused, Refused{ID: id, Why: fmt.Sprintf("board %s was used up by job %d", id, b.Job), Fix: "nothing to do"})
		case b.State == BoardFree:
			changes = append(changes, BoardChange{id, "removed", reason})
		}
	}
	if len(refused) > 0 {
		return changes, refused, nil
	}
	for _, c := range changes {
		if _, err := tx.Exec("UPDATE boards SET state = 'removed', reason = ?, version = version + 1 WHERE id = ?", reason, c.ID); err != nil {
			return nil, nil, err
		}
	}
	return changes, nil, nil
}
