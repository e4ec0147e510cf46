package rack

import (
	"crypto/sha256"
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/store"
	"batchwright/orders/woods"
)

// Change is one board that an import or a count changes.
type Change struct {
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

// Put adds boards and corrects those whose id the shop knows, one line of the
// list for each or, with a Count, for several. Nothing is changed when any is
// refused. Unit is how changes are worded.
func Put(tx *store.Tx, lines []orders.Board, unit measure.Unit) (changes []Change, refused []Refused, err error) {
	seen := map[string]bool{}
	var todo []func() error
	for _, line := range lines {
		for _, id := range Physical(line.ID, line.Count) {
			b := line
			b.ID, b.Count = id, 1
			if seen[id] {
				refused = append(refused, Refused{id, line.Source, "this name stands twice in the list", "give each board a name of its own"})
				continue
			}
			seen[id] = true
			change, no, do, err := put(tx, b, unit)
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

// put says what becomes of one board; do is nil when it stays as it is.
func put(tx *store.Tx, b orders.Board, unit measure.Unit) (c Change, no *Refused, do func() error, err error) {
	old, err := Find(tx, b.ID)
	switch {
	case err != nil:
		return c, nil, nil, err
	case old == nil:
		return Change{b.ID, "added", Describe(b, unit)}, nil, func() error { return insert(tx, b, Free, 0) }, nil
	case old.State == Used:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s was used up by job %d", b.ID, old.Job), "give the new board another name"}, nil, nil
	}
	size, rest := differences(old.Board, b, unit)
	switch {
	case b.Listed != "" && b.Listed != Listed(old.Board) && len(size)+len(rest) > 0:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s was corrected by somebody else after this list was written: the shop file says otherwise in %s", b.ID, strings.Join(append(size, rest...), "; ")),
			"write the list anew with rack list -o and correct that, or clear the cell As listed to say that this line is right"}, nil, nil
	case old.State == Reserved && len(size) > 0:
		return c, &Refused{b.ID, b.Source, fmt.Sprintf("board %s is reserved by job %d, whose plan counts on its %s", b.ID, old.Job, strings.Join(size, "; ")),
			"cancel or change the job first, or leave the board as it is"}, nil, nil
	case old.State == Removed:
		how := strings.Join(append([]string{"was removed: " + old.Reason}, append(size, rest...)...), "; ")
		return Change{b.ID, "put back", how}, nil, func() error { return update(tx, b, Free) }, nil
	case len(size)+len(rest) == 0:
		return c, nil, nil, nil
	}
	return Change{b.ID, "corrected", strings.Join(append(size, rest...), "; ")}, nil, func() error { return update(tx, b, old.State) }, nil
}

// Same reports whether two descriptions are of one board, as far as a plan
// counts on it.
func Same(a, b orders.Board) bool {
	size, _ := differences(a, b, measure.Millimetres)
	return len(size) == 0
}

// differences says what of a board changes: what a plan counts on, and the
// rest.
func differences(old, b orders.Board, unit measure.Unit) (size, rest []string) {
	note := func(list *[]string, what, was, is string) {
		if was != is {
			*list = append(*list, fmt.Sprintf("%s %s -> %s", what, said(was), said(is)))
		}
	}
	length := func(list *[]string, what string, was, is measure.Length) {
		if was != is {
			note(list, what, Exact(was, unit), Exact(is, unit))
		}
	}
	note(&size, "wood", woods.Name(old.Wood), woods.Name(b.Wood))
	note(&size, "class", old.Class, b.Class)
	length(&size, "thickness", old.Thickness, b.Thickness)
	length(&size, "length", old.Length, b.Length)
	length(&size, "width", old.Width, b.Width)
	note(&size, "defects", Defects(old, unit), Defects(b, unit))
	length(&rest, "wide end", old.WideEnd, b.WideEnd)
	note(&rest, "cost", cost(old), cost(b))
	note(&rest, "place", old.Place, b.Place)
	note(&rest, "grain tag", old.GrainTag, b.GrainTag)
	if old.Moisture != b.Moisture {
		note(&rest, "moisture", fmt.Sprint(old.Moisture), fmt.Sprint(b.Moisture))
	}
	return size, rest
}

// Listed stands for all that a list says of a board. A correction is refused
// when it was made to a list that said something else than the shop file does.
func Listed(b orders.Board) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %d %d %d %d %q %q %q %v %s", woods.Name(b.Wood), b.Class, b.Thickness, b.Length, b.Width, b.WideEnd,
		cost(b), b.Place, b.GrainTag, b.Moisture, writeDefects(b.Defects)))
	return fmt.Sprintf("v%x", sum[:4])
}

func said(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

func cost(b orders.Board) string {
	if !b.CostKnown {
		return ""
	}
	return b.Cost.String()
}

func insert(tx *store.Tx, b orders.Board, state State, job int64) error {
	_, err := tx.Exec(`INSERT INTO boards (id, state, job, wood, class, thickness, length, width, wide_end, cost, place, grain, moisture, sheet, offcut, defects, source)
		VALUES (?, ?, NULLIF(?, 0), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		b.ID, state, job, woods.Name(b.Wood), b.Class, int64(b.Thickness), int64(b.Length), int64(b.Width), int64(b.WideEnd), costOf(b), b.Place,
		b.GrainTag, b.Moisture, b.Sheet, b.Origin == orders.FromOffcut, writeDefects(b.Defects), b.From)
	return err
}

// update corrects a board; where it came from, and whether it is an offcut,
// stay as they are.
func update(tx *store.Tx, b orders.Board, state State) error {
	_, err := tx.Exec(`UPDATE boards SET state = ?, wood = ?, class = ?, thickness = ?, length = ?, width = ?, wide_end = ?, cost = ?, place = ?,
		grain = ?, moisture = ?, sheet = ?, defects = ?, reason = '', version = version + 1 WHERE id = ?`,
		state, woods.Name(b.Wood), b.Class, int64(b.Thickness), int64(b.Length), int64(b.Width), int64(b.WideEnd), costOf(b), b.Place,
		b.GrainTag, b.Moisture, b.Sheet, writeDefects(b.Defects), b.ID)
	return err
}

// Remove takes boards off the rack for a reason. A reserved board is refused,
// a removed one stays removed.
func Remove(tx *store.Tx, ids []string, reason string) (changes []Change, refused []Refused, err error) {
	for _, id := range ids {
		b, err := Find(tx, id)
		switch {
		case err != nil:
			return nil, nil, err
		case b == nil:
			refused = append(refused, Refused{ID: id, Why: "there is no board " + id, Fix: "see rack list"})
		case b.State == Reserved:
			refused = append(refused, Refused{ID: id, Why: fmt.Sprintf("board %s is already reserved by job %d", id, b.Job), Fix: fmt.Sprintf("cancel job %d first, or plan it again with job change", b.Job)})
		case b.State == Used:
			refused = append(refused, Refused{ID: id, Why: fmt.Sprintf("board %s was used up by job %d", id, b.Job), Fix: "nothing to do"})
		case b.State == Free:
			changes = append(changes, Change{id, "removed", reason})
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
