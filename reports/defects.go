package reports

import "batchwright/orders"

// DefectWords say how many defects a board's drawing shows, and its sapwood.
func DefectWords(b *orders.Board) (out []string) {
	defects, sapwood := 0, 0
	for _, d := range b.Defects {
		if d.Sapwood {
			sapwood++
		} else {
			defects++
		}
	}
	if defects > 0 {
		out = append(out, Counted(defects, "defect, cross-hatched", "defects, cross-hatched"))
	}
	if sapwood > 0 {
		out = append(out, "sapwood, hatched one way")
	}
	return out
}
