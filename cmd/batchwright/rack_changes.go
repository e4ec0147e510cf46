package main

import (
	"fmt"
	"strings"

	"batchwright/jigplan/shop"
	"batchwright/reports"
)

// changesJSON is what a command changed.
type changesJSON struct {
	Version int          `json:"version"`
	DryRun  bool         `json:"dry_run"`
	Changes []changeJSON `json:"changes"`
}

type changeJSON struct {
	ID   string `json:"id"`
	What string `json:"what"`
	How  string `json:"how"`
}

// changed prints what was changed, board by board.
func (c *common) changed(changes []shop.BoardChange) error {
	doc := changesJSON{1, c.dryRun, []changeJSON{}}
	t := reports.Table{Head: []string{"Board", "", ""}}
	for _, change := range changes {
		doc.Changes = append(doc.Changes, changeJSON{change.ID, change.What, change.How})
		t.Add(change.ID, change.What, change.How)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if len(changes) == 0 {
		c.sayf("nothing to change: the rack already matches")
		return nil
	}
	c.show([]reports.Table{t})
	c.sayf("%s", summed(changes))
	return nil
}

// summed counts changes by their kind.
func summed(changes []shop.BoardChange) string {
	var kinds []string
	count := map[string]int{}
	for _, c := range changes {
		if count[c.What] == 0 {
			kinds = append(kinds, c.What)
		}
		count[c.What]++
	}
	for i, kind := range kinds {
		kinds[i] = some(count[kind], "board") + " " + kind
	}
	return strings.Join(kinds, ", ")
}

// historyOf words changes for the history; nothing changed is nothing to keep.
func historyOf(why string, changes []shop.BoardChange) string {
	if len(changes) == 0 {
		return ""
	}
	var list []string
	for _, c := range changes[:min(len(changes), 20)] {
		list = append(list, strings.TrimSpace(c.ID+" "+c.What+" "+c.How))
	}
	if len(changes) > 20 {
		list = append(list, fmt.Sprintf("and %d more", len(changes)-20))
	}
	return why + ": " + summed(changes) + " (" + strings.Join(list, "; ") + ")"
}
