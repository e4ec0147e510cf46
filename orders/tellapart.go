package orders

import (
	"fmt"
	"strings"

	"batchwright/orders/spelling"
)

// TellApart renames boards of the yard that go by the name of one on the rack:
// a plan names every board once.
func (o *Order) TellApart() {
	taken := map[string]bool{}
	for i := range o.Rack {
		id, _, _ := strings.Cut(o.Rack[i].ID, "#") // K1#2 is the second of K1
		taken[spelling.Fold(id)], taken[spelling.Fold(o.Rack[i].ID)] = true, true
	}
	for i := range o.Yard {
		b := &o.Yard[i]
		if !taken[spelling.Fold(b.ID)] {
			continue
		}
		was, id := b.ID, b.ID+" (yard)"
		for n := 2; taken[spelling.Fold(id)]; n++ {
			id = fmt.Sprintf("%s (yard %d)", was, n)
		}
		b.ID, taken[spelling.Fold(id)] = id, true
		o.Findings = append(o.Findings, Finding{Level: Note, Source: b.Source, Read: was,
			Did: "a board on the rack has this name too; the yard's is called " + id, Fix: "OK if intended"})
	}
}
