package cutting

import (
	"encoding/binary"
	"slices"
)

// filling is one way to fill a board of a line, and what it holds.
type filling struct {
	stock int
	fill  fill
	uses  []int32 // of each item of the wood group
}

// pool is the fillings met in a search, each once.
type pool struct {
	list []filling
	seen map[string]bool
}

// maxPooled bounds the fillings that are kept.
const maxPooled = 6000

func (q *pool) add(f filling) bool {
	key := make([]byte, 0, 4+2*len(f.uses))
	key = binary.AppendUvarint(key, uint64(f.stock))
	for _, n := range f.uses {
		key = binary.AppendUvarint(key, uint64(n))
	}
	if q.seen[string(key)] || len(q.list) == maxPooled {
		return false
	}
	if q.seen == nil {
		q.seen = map[string]bool{}
	}
	q.seen[string(key)] = true
	q.list = append(q.list, f)
	return true
}

// fillingsOf are the fillings of a plan.
func (h *woodSearch) fillingsOf(plan []used) []filling {
	out := make([]filling, 0, len(plan))
	for _, u := range plan {
		out = append(out, h.filling(u.stock, u.fill))
	}
	return out
}

func (h *woodSearch) filling(stock int, f fill) filling {
	uses := make([]int32, len(h.g.items))
	for _, pl := range f.places {
		k, _ := slices.BinarySearch(h.g.items, pl.item)
		uses[k] += int32(h.p.each(stock, pl.item))
	}
	return filling{stock, f, uses}
}
