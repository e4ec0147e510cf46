package reports

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders/spelling"
)

// Find gives the codes of the parts that words mean: a code, a part's name in
// the orders people say it in ("Recipe box 3 side 1", "Recipe box, side 1, box
// 3 of 6"), or a whole box ("Recipe box 3"). None: nothing is called that.
func (n Names) Find(said string) []string {
	want := plainName(said)
	var codes []string
	for code, name := range n {
		if plainName(code) == want || slices.Contains(name.spoken(), want) {
			codes = append(codes, code)
		}
	}
	slices.Sort(codes)
	return codes
}

// Nearest lists the names and codes most like what was said, best first.
func (n Names) Nearest(said string, most int) []string {
	type near struct {
		text string
		off  int
	}
	want := plainName(said)
	var all []near
	for code, name := range n {
		off := spelling.Distance(want, plainName(code))
		for _, text := range name.spoken() {
			off = min(off, spelling.Distance(want, text))
		}
		all = append(all, near{fmt.Sprintf("%s (%s)", name.short(), code), off})
	}
	slices.SortFunc(all, func(a, b near) int {
		if a.off != b.off {
			return a.off - b.off
		}
		return strings.Compare(a.text, b.text)
	})
	var out []string
	for _, one := range all[:min(most, len(all))] {
		out = append(out, one.text)
	}
	return out
}

// short is a name as it is typed: "Recipe box 3 side 1".
func (n *Name) short() string {
	text := n.Box
	if n.Units > 1 {
		text += fmt.Sprintf(" %d", n.Unit)
	}
	return joined(" ", text, n.Part())
}

// spoken is a part's name in the orders it is said in, and its box's.
func (n *Name) spoken() []string {
	which := fmt.Sprintf("%s %d", n.Box, n.Unit)
	texts := []string{n.String(), which + " " + n.Part(), which,
		fmt.Sprintf("%s %s box %d", n.Box, n.Part(), n.Unit), fmt.Sprintf("%s box %d %s", n.Box, n.Unit, n.Part()), fmt.Sprintf("%s box %d", n.Box, n.Unit)}
	if n.Units < 2 {
		texts = append(texts, n.Box, n.Box+" "+n.Part())
	}
	for i := range texts {
		texts[i] = plainName(texts[i])
	}
	return texts
}

// plainName is a name without capitals and commas.
func plainName(text string) string { return spelling.Fold(strings.ReplaceAll(text, ",", " ")) }
