package workbook

import (
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"
)

// Sheet names have at most 31 UTF-16 units, none of []:*?/\, no apostrophe at
// an end, and differ whatever their case (ECMA-376 part 1, 18.2.19, and the
// limits spreadsheet programs publish).
func TestSheetNames(t *testing.T) {
	b := &book{names: map[string]bool{}}
	for _, c := range []struct{ want, got, why string }{
		{"Parts", "Parts", "an ordinary name stays"},
		{"PARTS", "PARTS (2)", "names differ whatever their case"},
		{"Jig [1/2]: a*b?", "Jig -1-2-- a-b-", "forbidden signs are replaced"},
		{"'quoted'", "quoted", "no apostrophe at an end"},
		{"", "Sheet", "a name is needed"},
		{strings.Repeat("x", 40), strings.Repeat("x", 31), "31 characters"},
		{strings.Repeat("x", 40), strings.Repeat("x", 27) + " (2)", "cut to make room for the number"},
		{strings.Repeat("😀", 20), strings.Repeat("😀", 15), "a pictograph counts twice and is never halved"},
	} {
		got := b.sheetName(c.want)
		if got != c.got {
			t.Errorf("%q becomes %q, want %q: %s", c.want, got, c.got, c.why)
		}
		if n := len(utf16.Encode([]rune(got))); n > 31 {
			t.Errorf("%q has %d units", got, n)
		}
	}
}

func TestLongTextSaysThatItIsCut(t *testing.T) {
	long := strings.Repeat("ab", mostText)
	got := cut(long)
	if n := len(utf16.Encode([]rune(got))); n > mostText || !strings.HasSuffix(got, "(cut here: a cell holds no more)") {
		t.Errorf("%d units, ending %q", n, got[len(got)-40:])
	}
	if got := cut("a\x00b\x0bc\td\ne"); got != "abc\td\ne" {
		t.Errorf("control characters: %q", got)
	}
}

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
		for range rapid.IntRange(1, 12).Draw(t, "blocks") {
			if rapid.Bool().Draw(t, "together") {
				s.together(func() {
					for range rapid.IntRange(1, 9).Draw(t, "rows") {
						add()
					}
				})
			} else {
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
