package workbook

// paginate sets the page breaks itself, so that a page ends where a block ends
// on A4 and on Letter alike. It gives back how much of the last page is taken,
// in points.
func (s *sheet) paginate() float64 {
	page, used := s.tall()*pointsPerMM, 0.0
	for start := 0; start < len(s.rows); {
		end := s.blockEnd(start)
		height := s.heightOf(start, end)
		if s.rows[start].breaks {
			used = 0
		}
		switch {
		case used == 0 || used+height <= page:
		case height <= page:
			s.rows[start].breaks, used = true, 0
		}
		used = s.flow(start, end, used, page)
		start = end
	}
	return used
}

// blockEnd is the first row that may stand on another page than row start.
func (s *sheet) blockEnd(start int) int {
	end := start + 1
	for end < len(s.rows) {
		before, r := s.rows[end-1], s.rows[end]
		if !before.holds && (r.group == 0 || r.group != before.group) {
			break
		}
		end++
	}
	return end
}

func (s *sheet) heightOf(start, end int) float64 {
	sum := 0.0
	for _, r := range s.rows[start:end] {
		sum += r.height
	}
	return sum
}

// flow lets the rows of a block that no page can hold run from page to page;
// what holds to the next row still stays with it.
func (s *sheet) flow(start, end int, used, page float64) float64 {
	for i := start; i < end; {
		next := i + 1
		for next < end && s.rows[next-1].holds {
			next++
		}
		height := s.heightOf(i, next)
		if used > 0 && used+height > page {
			s.rows[i].breaks, used = true, 0
		}
		used += height
		i = next
	}
	return used
}

// room is what is left of the last page, in mm.
func (s *sheet) room() float64 {
	trial := *s
	trial.rows = append([]row(nil), s.rows...)
	return s.tall() - trial.paginate()/pointsPerMM
}
