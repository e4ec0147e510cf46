package workbook

import "math"

// paginate sets the page breaks itself, so that a page ends where a block ends
// on A4 and on Letter alike, and repeats a table's headings where the table
// goes on. It gives back how much of the last page is taken, in points.
func (s *sheet) paginate() float64 {
	p := pager{page: s.tall() * pointsPerMM * 100 / float64(s.percent())}
	for start := 0; start < len(s.rows); {
		end := s.blockEnd(start)
		p.block(s.rows[start:end])
		start = end
	}
	s.rows = p.rows
	return p.used
}

// percent is how large a sheet is printed, so that it is no wider than a page.
func (s *sheet) percent() int {
	wide := portraitWide
	if s.landscape {
		wide = landscapeWide
	}
	percent := 100.0
	if all := s.width(0, len(s.widths)); s.smaller && all > wide {
		percent = 100 * wide / all
	}
	if s.snug > 0 {
		percent *= s.snug
	}
	return int(math.Floor(percent))
}

// tighten prints a sheet a little smaller where that saves its last page.
func (s *sheet) tighten() {
	pages := s.pages()
	for at := 0.98; at >= s.least && pages > 1; at -= 0.02 {
		if s.snug = at; s.pages() < pages {
			return
		}
	}
	s.snug = 0
}

func (s *sheet) pages() int {
	trial := *s
	trial.rows = append([]row(nil), s.rows...)
	trial.paginate()
	n := 1
	for i := range trial.rows {
		if trial.rows[i].breaks && i > 0 {
			n++
		}
	}
	return n
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

// pager lays rows onto pages.
type pager struct {
	page, used float64 // points
	rows       []row
	fresh      bool // the page has headings at most
	turned     int
}

// maxTurns keeps below the 1,026 page breaks that a sheet may have; beyond
// them the program that prints breaks where it likes.
const maxTurns = 1000

// block puts rows that belong together on one page where a page can hold them;
// else they run from page to page, and what holds to the next row stays with it.
func (p *pager) block(rows []row) {
	height := heightOf(rows)
	switch {
	case rows[0].breaks:
		p.used, p.turned = 0, p.turned+1
	case p.used > 0 && p.used+height > p.page && height <= p.page:
		p.turn(&rows[0])
	}
	for i := 0; i < len(rows); {
		next := i + 1
		for next < len(rows) && rows[next-1].holds {
			next++
		}
		height := heightOf(rows[i:next])
		if p.used > 0 && !p.fresh && p.used+height > p.page {
			p.turn(&rows[i])
		}
		p.used, p.fresh = p.used+height, false
		p.rows = append(p.rows, rows[i:next]...)
		i = next
	}
}

// turn begins a page with a row, beneath the headings of the table it is of.
func (p *pager) turn(r *row) {
	if p.turned++; p.turned > maxTurns {
		p.used = 0
		return
	}
	if r.heads == nil {
		r.breaks, p.used = true, 0
		return
	}
	p.used, p.fresh = heightOf(r.heads), true
	for i, h := range r.heads {
		h.breaks, h.holds = i == 0, true
		p.rows = append(p.rows, h)
	}
}

func heightOf(rows []row) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.height
	}
	return sum
}

// room is what is left of the last page, in mm.
func (s *sheet) room() float64 {
	trial := *s
	trial.rows = append([]row(nil), s.rows...)
	return s.tall() - trial.paginate()/pointsPerMM
}
