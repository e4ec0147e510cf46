package workbook

import "strings"

// A column is counted in digits of the default font at 11 points, so a text's
// width is measured in the same coin: the letters of a font against its own
// digits. The widths are the larger of two families, one narrow and one wide.
const (
	columnUnit = 7.0 // points of one unit of column width
	boldWider  = 1.10
	cellMargin = 6.0 // points that a cell keeps free at its sides
)

// letterWide is the width of a letter in em.
func letterWide(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl.,:;'|!", r):
		return 0.33
	case r == ' ', r == '\u00a0':
		return 0.33
	case strings.ContainsRune("ft()[]-\u2011/\"", r):
		return 0.40
	case r == 'm', r == 'w', r == 'W', r == 'M', r == '%', r == '&', strings.ContainsRune("½¼¾⅓⅔⅛⅜⅝⅞—…", r):
		return 0.97
	case r >= 'A' && r <= 'Z':
		return 0.76
	case r >= 'a' && r <= 'z':
		return 0.61
	case r >= '0' && r <= '9':
		return 0.66
	case r > 0x2E80: // wide scripts and pictographs
		return 1.05
	}
	return 0.70
}

// textWide is the width of a text in points.
func textWide(text string, size float64, bold bool) float64 {
	sum := 0.0
	for _, r := range text {
		sum += letterWide(r)
	}
	if bold {
		sum *= boldWider
	}
	return sum * size
}

// lines is how many lines a text takes in a column of that width.
func lines(text string, chars, size float64, bold bool) int {
	n := 0
	for paragraph := range strings.SplitSeq(text, "\n") {
		n += linesOf(rich{{text: paragraph, size: size, bold: bold}}, chars)
	}
	return n
}

// linesOf is how many lines some runs take that go on in each other's lines.
func linesOf(runs rich, chars float64) int {
	room := chars*columnUnit - cellMargin
	n, at, space, word := 1, 0.0, 0.0, 0.0
	put := func() {
		switch {
		case word == 0:
			return
		case at == 0:
			at = word
		case at+space+word <= room:
			at += space + word
		default:
			n++
			at = word
		}
		for at > room && room > bodySize {
			n++
			at -= room
		}
		word, space = 0, 0
	}
	for _, r := range runs {
		for _, letter := range unbroken(r.text) {
			wide := textWide(string(letter), r.points(), r.bold)
			if letter == ' ' || letter == '\n' {
				put()
				space += wide
				continue
			}
			word += wide
		}
	}
	put()
	return n
}

// longestWord is what of a text stands on one line in any case.
func longestWord(text string) (longest string) {
	for word := range strings.FieldsFuncSeq(unbroken(text), func(r rune) bool { return r == ' ' || r == '\n' }) {
		if textWide(word, 1, false) > textWide(longest, 1, false) {
			longest = word
		}
	}
	return longest
}

// fitting is the largest size, up to most, at which a text stands in a column
// of that width on one line.
func fitting(text string, chars, most float64) float64 {
	room := chars*columnUnit - cellMargin
	if wide := textWide(text, most, true); wide > room {
		return max(8, float64(int(most*room/wide)))
	}
	return most
}
