package workbook

import (
	"strings"
	"testing"
	"unicode/utf16"
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
	long := strings.Repeat("ab", maxText)
	got := cut(long)
	if n := len(utf16.Encode([]rune(got))); n > maxText || !strings.HasSuffix(got, "(cut here: a cell holds no more)") {
		t.Errorf("%d units, ending %q", n, got[len(got)-40:])
	}
	if got := cut("a\x00b\x0bc\td\ne"); got != "abc\td\ne" {
		t.Errorf("control characters: %q", got)
	}
}
