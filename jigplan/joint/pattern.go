package joint

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/orders/measure"
)

// Pattern is a decorative joint: features of row A from the marked edge, slot
// and pin by turns. Row B shows the opposite.
type Pattern struct {
	Widths   []measure.Length
	PinFirst bool // row A shows a pin at its marked edge
	Repeats  bool // the list goes on to the other edge
	Centred  bool // the list's middle is the board's middle
	Fills    bool // the widths may give way so that the list fills the tallest board
	Mirrored bool // the list reads the same from both edges, and must stay so
}

// ParsePattern reads a list of widths ("1/4 1/2 3/4", from the marked edge,
// slot first), or one of four rules: "key W" is one finger of width W in the
// middle of regular ones; "rising W to V" widens from one edge to the other;
// "mirrored W to V" widens from both edges to the middle, so that boards that
// are all alike mate turned; "repeat W V ..." goes on to the edge. "pin" before
// a list starts with a pin. height is the tallest board's.
func ParsePattern(text string, finger, height measure.Length, how measure.Reading) (Pattern, error) {
	words := strings.Fields(strings.ToLower(strings.NewReplacer(",", " ", ";", " ").Replace(text)))
	if how.DecimalComma {
		words = strings.Fields(strings.ToLower(strings.ReplaceAll(text, ";", " ")))
	}
	var p Pattern
	rule := ""
	for len(words) > 0 && rule == "" {
		switch words[0] {
		case "pin", "slot":
			p.PinFirst = words[0] == "pin"
		case "key", "rising", "mirrored", "repeat":
			rule = words[0]
		default:
			rule = "list"
			continue
		}
		words = words[1:]
	}
	widths, err := readWidths(words, how)
	if err != nil {
		return p, fmt.Errorf("pattern %q: %w", text, err)
	}
	p.Widths, p.Repeats = widths, rule == "repeat"
	switch {
	case rule == "key" && len(widths) == 1:
		p.Widths, p.Centred = keyWidths(widths[0], finger, height), true
	case rule == "rising" && len(widths) == 2:
		p.Widths, p.Centred, p.Fills = risingWidths(widths[0], widths[1], height), true, true
	case rule == "mirrored" && len(widths) == 2:
		p.Widths, p.Centred, p.Fills, p.Mirrored = mirroredWidths(widths[0], widths[1], height), true, true, true
	case rule == "key" || rule == "rising" || rule == "mirrored":
		return p, fmt.Errorf("pattern %q: write %q", text, map[string]string{"key": "key 3/4", "rising": "rising 1/4 to 3/4", "mirrored": "mirrored 1/4 to 3/4"}[rule])
	}
	if len(p.Widths) < 1 || len(p.Widths) > maxFeatures {
		return p, fmt.Errorf("pattern %q has %d features: between 1 and %d", text, len(p.Widths), maxFeatures)
	}
	return p, nil
}

const maxFeatures = 400

func readWidths(words []string, how measure.Reading) ([]measure.Length, error) {
	var out []measure.Length
	for _, word := range words {
		if word == "to" {
			continue
		}
		w, err := measure.Parse(word, how)
		if err != nil {
			return nil, err
		}
		if w <= 0 || w > maxFinger {
			return nil, fmt.Errorf("a width of %s: more than 0 and at most 12 in", word)
		}
		out = append(out, w)
	}
	return out, nil
}

// keyWidths is a wide feature with regular ones on either side. The outermost
// reach past the edges; where less than half a finger would be left there, the
// last finger takes it in.
func keyWidths(key, finger, height measure.Length) []measure.Length {
	if finger <= 0 {
		return nil
	}
	half := max(0, height-key) / 2
	whole, left := int64(half/finger), half%finger
	if whole > maxFeatures {
		return make([]measure.Length, maxFeatures+1)
	}
	outer := finger
	if whole > 0 && 2*left < finger {
		outer, whole = 2*finger, whole-1
	}
	out := []measure.Length{outer}
	for range whole {
		out = append(out, finger)
	}
	out = append(out, key)
	for range whole {
		out = append(out, finger)
	}
	return append(out, outer)
}

// risingWidths grows evenly from one width to the other in as many features
// as come nearest to the height.
func risingWidths(from, to, height measure.Length) []measure.Length {
	n := max(2, int64(measure.Frac(2*int64(height), int64(from+to)).Round()))
	if n > maxFeatures {
		return make([]measure.Length, maxFeatures+1)
	}
	var out []measure.Length
	for i := range n {
		out = append(out, from+measure.Length(measure.Frac(int64(to-from)*i, n-1).Round()))
	}
	return out
}

// mirroredWidths rises from either edge to the middle: an even list, whose
// slots and pins change places when it is read backwards.
func mirroredWidths(edge, middle, height measure.Length) []measure.Length {
	out := risingWidths(edge, middle, height/2)
	back := slices.Clone(out)
	slices.Reverse(back)
	return append(out, back...)
}
