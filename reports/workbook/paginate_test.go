package workbook

import (
	"testing"

	"pgregory.net/rapid"
)

// The page breaks of a sheet: a block that fits a page is never torn, and what
// holds to the next row stays with it even in a block that no page can hold.
func TestPaginate(t *testing.T) {
	s := &sheet{widths: []float64{76}}
	page := portraitTall * pointsPerMM
	s.addTall(page * 0.6)
	s.together(func() { s.addTall(page * 0.3); s.addTall(page * 0.3) })
	s.together(func() {
		for range 3 {
			s.addTall(page * 0.1)
			s.hold()
			s.addTall(page * 0.5)
		}
	})
	// The tallest row a sheet allows is lower than these: set them as they are.
	for i, h := range []float64{0.6, 0.3, 0.3, 0.1, 0.5, 0.1, 0.5, 0.1, 0.5} {
		s.rows[i].height = page * h
	}
	s.paginate()
	want := []bool{false, true, false, true, false, true, false, true, false}
	for i, breaks := range want {
		if s.rows[i].breaks != breaks {
			t.Errorf("row %d: breaks %v, want %v", i, s.rows[i].breaks, breaks)
		}
	}
}

// Whatever stands on a sheet, no page is fuller than a page, unless by a single
// run of rows that hold together and is taller than one.
func TestPagesAreNeverOverfull(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &sheet{widths: []float64{76}}
		add := func() {
			s.addTall(rapid.Float64Range(5, 200).Draw(t, "height"))
			if rapid.IntRange(0, 5).Draw(t, "holds") == 0 {
				s.hold()
			}
		}
		table := func() {
			s.head([]string{"a table"}, ones(1))
			first := len(s.rows)
			for range rapid.IntRange(1, 30).Draw(t, "lines") {
				add()
			}
			s.goOn(first)
		}
		for range rapid.IntRange(1, 12).Draw(t, "blocks") {
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				table()
			case 1:
				s.together(func() {
					for range rapid.IntRange(1, 9).Draw(t, "rows") {
						add()
					}
				})
			default:
				add()
			}
		}
		s.paginate()
		used, held := 0.0, 0.0 // of the page, and of the run that holds together at its end
		for i, r := range s.rows {
			if r.breaks {
				used = 0
			}
			used += r.height
			if i > 0 && s.rows[i-1].holds {
				held += r.height
			} else {
				held = r.height
			}
			if page := s.tall() * pointsPerMM; used > page && used > held {
				t.Fatalf("row %d: %.0f points on a page of %.0f", i, used, page)
			}
		}
	})
}

// A table that goes on begins every page with its headings, prints smaller where
// it is wider than a page, and loses no row; what comes after it has none of them.
func TestTablesGoOnUnderTheirHeadings(t *testing.T) {
	s := &sheet{landscape: true, smaller: true, widths: []float64{80, 50}}
	s.head([]string{"Label", "Size"}, ones(2))
	first := len(s.rows)
	for range 100 {
		s.addTall(20, cell{0, 1, "line", style{}})
	}
	s.goOn(first)
	s.heading("after it")
	for range 60 {
		s.addTall(20, cell{0, 1, "another", style{}})
	}
	s.paginate()
	if s.percent() != 80 { // 104 of 130 characters
		t.Errorf("printed at %d %%", s.percent())
	}
	lines, pages, inTable := 0, 1, true
	page, used := landscapeTall*pointsPerMM/0.8, 0.0
	for i, r := range s.rows {
		text := ""
		if len(r.cells) > 0 {
			text, _ = r.cells[0].value.(string)
		}
		if text == "after it" {
			inTable = false
		}
		if r.breaks {
			pages, used = pages+1, 0
			if inTable != (text == "Label") {
				t.Errorf("page %d begins with %q", pages, text)
			}
		}
		if used += r.height; used > page {
			t.Errorf("row %d: %.0f points on a page of %.0f", i, used, page)
		}
		if text == "line" {
			lines++
		}
	}
	if lines != 100 || pages < 5 {
		t.Errorf("%d lines on %d pages", lines, pages)
	}
}

// A sheet has at most 1,026 page breaks (the limits spreadsheet programs
// publish); a longer one is not refused for them.
func TestVeryLongSheetsKeepWithinTheBreaksAllowed(t *testing.T) {
	s := &sheet{widths: []float64{76}}
	s.head([]string{"a table"}, ones(1))
	first := len(s.rows)
	for range 5000 {
		s.addTall(400, cell{0, 1, "tall", style{}})
	}
	s.goOn(first)
	s.paginate()
	breaks, rows := 0, 0
	for _, r := range s.rows {
		if r.breaks {
			breaks++
		}
		if r.height == 400 {
			rows++
		}
	}
	if breaks > 1026 || breaks < 900 || rows != 5000 {
		t.Errorf("%d breaks, %d rows", breaks, rows)
	}
}
