package shop

// RackCount is a stock-take: what was found, against what should be there.
type RackCount struct {
	Found   []string    // there, as they should be
	Missing []RackBoard // should be there, and were not found
	Extra   []string    // found, and the shop never had them
	Back    []RackBoard // found, and were thought used up or removed
}

// CountRack compares the names of the boards found with the rack.
func CountRack(tx *Tx, found []string) (RackCount, error) {
	all, err := ListBoards(tx, BoardFilter{All: true})
	if err != nil {
		return RackCount{}, err
	}
	var t RackCount
	known, listed := map[string]*RackBoard{}, map[string]bool{}
	for _, id := range found {
		listed[id] = true
	}
	for i := range all {
		known[all[i].ID] = &all[i]
		there := all[i].State == BoardFree || all[i].State == BoardReserved
		if there && !listed[all[i].ID] {
			t.Missing = append(t.Missing, all[i])
		}
	}
	for _, id := range found {
		switch b := known[id]; {
		case b == nil:
			t.Extra = append(t.Extra, id)
		case b.State == BoardFree || b.State == BoardReserved:
			t.Found = append(t.Found, id)
		default:
			t.Back = append(t.Back, *b)
		}
	}
	return t, nil
}

// rackFaults lists what is wrong with the boards of a shop file: nothing is right.
func rackFaults(tx *Tx) ([]string, error) {
	held, err := listRows(tx, oneRow[string], `SELECT 'board ' || boards.id || ' is ' || boards.state || ' by job ' || jobs.id || ', which is ' || jobs.state
		FROM boards JOIN jobs ON jobs.id = boards.job
		WHERE boards.state = 'reserved' AND jobs.state <> 'open' OR boards.state = 'used' AND jobs.state IN ('cancelled', 'lapsed') AND jobs.revision < 2`)
	if err != nil {
		return nil, err
	}
	orphans, err := listRows(tx, oneRow[string], `SELECT 'offcut ' || id || ' is of board ' || parent || ', which the shop never had'
		FROM (SELECT id, substr(source, 11, instr(source, ', job ') - 11) AS parent FROM boards WHERE offcut = 1 AND source LIKE 'offcut of %, job %')
		WHERE parent <> 'bought wood' AND NOT EXISTS (SELECT 1 FROM boards WHERE boards.id = parent)`)
	return append(held, orphans...), err
}
