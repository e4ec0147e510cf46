package solve

// builder collects the fillings of one size, best first.
type builder struct {
	least0 int64 // ranks must be above
	over   bool  // something was left out because the list was full
	ranks  []int64
	marks  []uint64
	ids    []int32 // in the arena, -1: new
	hows   []how
}

func (s *builder) reset(floor int64) {
	s.least0, s.over = floor, false
	s.ranks, s.marks, s.ids, s.hows = s.ranks[:0], s.marks[:0], s.ids[:0], s.hows[:0]
}

// least returns the rank a new filling must be above to get in.
func (s *builder) least(keep int) int64 {
	if n := len(s.ranks); n == keep {
		return max(s.least0, s.ranks[n-1])
	}
	return s.least0
}

// inherit offers fillings that are in the arena already.
func (l *lists) inherit(ids []int32) {
	for _, id := range ids {
		l.offer(l.rank[id], l.mark[id], id, l.how[id])
	}
}

func (l *lists) offerShapes(shapes []int32) {
	for _, k := range shapes {
		part := l.b.shapes[k].part
		l.offer(l.w.rank[part], l.pack.mark[part], -1, how{shape: k})
	}
}

// offerPairs offers the fillings got by putting one of as beside one of bs,
// parted at a distance from the origin, 0 for close together.
func (l *lists) offerPairs(as, bs []int32, cut Direction, at int64) int64 {
	if len(as) == 0 || len(bs) == 0 {
		return 0
	}
	work := int64(0)
	bestB := l.rank[bs[0]]
	for _, a := range as {
		ra := l.rank[a]
		if ra+bestB <= l.least(l.keep) {
			l.over = l.over || ra+bestB > l.least0
			break
		}
		for _, b := range bs {
			work++
			r := ra + l.rank[b]
			if r <= l.least(l.keep) {
				l.over = l.over || r > l.least0
				break
			}
			if l.fits(a, b) {
				l.offer(r, l.mark[a]+l.mark[b], -1, how{low: a, high: b, shape: -1, cut: cut, at: at})
			}
		}
	}
	return work
}

// offer puts a filling in its place unless it is there already.
func (l *lists) offer(rank int64, mark uint64, id int32, h how) {
	s := &l.builder
	if rank <= s.least(l.keep) {
		s.over = s.over || rank > s.least0
		return
	}
	at, end := 0, len(s.ranks) // the first rank that is not more
	for at < end {
		if mid := (at + end) / 2; s.ranks[mid] > rank {
			at = mid + 1
		} else {
			end = mid
		}
	}
	for ; at < len(s.ranks) && s.ranks[at] == rank; at++ {
		if s.marks[at] == mark {
			return
		}
	}
	if len(s.ranks) < l.keep {
		s.ranks, s.marks = append(s.ranks, 0), append(s.marks, 0)
		s.ids, s.hows = append(s.ids, 0), append(s.hows, how{})
	} else {
		s.over = true
	}
	copy(s.ranks[at+1:], s.ranks[at:])
	copy(s.marks[at+1:], s.marks[at:])
	copy(s.ids[at+1:], s.ids[at:])
	copy(s.hows[at+1:], s.hows[at:])
	s.ranks[at], s.marks[at], s.ids[at], s.hows[at] = rank, mark, id, h
}

// settle writes the collected fillings to ids and returns their number.
func (l *lists) settle(ids []int32) int {
	s := &l.builder
	for k, id := range s.ids {
		if id < 0 {
			id = l.add(s.hows[k])
		}
		ids[k] = id
	}
	return len(s.ids)
}
