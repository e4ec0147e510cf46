package parts

import (
	_ "embed"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

//go:embed woods.csv
var woodTable string

// Coefficient is how much a wood swells across its grain for each percent of
// moisture, in hundred-thousandths of its width.
type Coefficient struct {
	Wood      string // the row of the table; empty: the wood is not in it
	PerPoint  int64
	Quarter   bool // quarter-sawn: the radial figure
	Shrinkage bool // no coefficient is tabled: reckoned from the wood's shrinkage
}

// species is one row of the table.
type species struct {
	name               string
	words              []string
	radial, tangential int64
	fromShrinkage      bool
}

// fiberSaturation is the moisture percent at which wood begins to shrink, as
// used with tabled shrinkage: 28 by the flooring trade's shrinkage form, a
// little more careful than the handbook's 30.
const fiberSaturation = 28

// CoefficientOf finds a wood by the words of its name: "walnut", "hard maple",
// "quartersawn white oak". Where several rows of the table fit, the one that
// moves most counts, a tabled coefficient before one reckoned from shrinkage.
// A wood that is not in the table moves like the liveliest one in it.
func CoefficientOf(wood string) Coefficient {
	table := loadWoods()
	words := usefulWords(wood, table)
	quarter := isQuarterSawn(wood)
	best := Coefficient{Quarter: quarter, Shrinkage: true}
	for _, s := range table {
		if len(words) > 0 && !hasAll(s.words, words) || len(words) == 0 && s.fromShrinkage {
			continue
		}
		c := Coefficient{Wood: s.name, PerPoint: s.tangential, Quarter: quarter, Shrinkage: s.fromShrinkage}
		if quarter {
			c.PerPoint = s.radial
		}
		if best.PerPoint == 0 || best.Shrinkage && !c.Shrinkage || best.Shrinkage == c.Shrinkage && c.PerPoint > best.PerPoint {
			best = c
		}
	}
	if len(words) == 0 {
		best.Wood = ""
	}
	return best
}

// loadWoods reads the embedded table once; a broken table is a broken build.
var loadWoods = sync.OnceValue(func() []species {
	r := csv.NewReader(strings.NewReader(woodTable))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("parts: woods.csv: " + err.Error())
	}
	var out []species
	for _, row := range rows[1:] {
		s := species{name: row[0], words: wordsOf(row[0])}
		if s.fromShrinkage = row[1] == ""; s.fromShrinkage {
			s.radial, s.tangential = hundredThousandths(row[4], 1000./fiberSaturation), hundredThousandths(row[5], 1000./fiberSaturation)
		} else {
			s.radial, s.tangential = hundredThousandths(row[1], 1e5), hundredThousandths(row[2], 1e5)
		}
		out = append(out, s)
	}
	return out
})

func hundredThousandths(text string, scale float64) int64 {
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("parts: woods.csv: " + err.Error())
	}
	return int64(math.Ceil(f*scale - 1e-6))
}

// otherNames are names that share no word with the table's, or that would be
// taken for another wood; the first that fits counts.
var otherNames = []struct{ from, to string }{
	{"soft maple", "maple red"}, {"rock maple", "maple sugar"}, {"tulipwood", "yellow poplar"},
	{"lime", "basswood"}, {"linden", "basswood"}, {"redcedar", "western redcedar"},
	{"khaya", "african mahogany"}, {"cypress", "baldcypress"},
}

// qualifiers are the table's words that name no tree by themselves.
var qualifiers = strings.Fields("black red white green yellow sweet paper american true commercial northern eastern western coast hard silver african old growth q alba sugar")

// usefulWords are the words of a wood's name that the table knows, the tree's
// own name first; grades, figures and saw marks fall away. None: not in it.
func usefulWords(wood string, table []species) []string {
	name := strings.Join(wordsOf(wood), " ")
	for _, other := range otherNames {
		if strings.Contains(" "+name+" ", " "+other.from+" ") && !strings.Contains(name, other.to) {
			name = other.to
			break
		}
	}
	var out []string
	add := func(qualifying bool) {
		for _, word := range strings.Fields(name) {
			if slices.Contains(qualifiers, word) == qualifying && fitsSome(append(slices.Clone(out), word), table) {
				out = append(out, word)
			}
		}
	}
	add(false)
	if len(out) > 0 {
		add(true)
	}
	return out
}

func fitsSome(words []string, table []species) bool {
	return slices.ContainsFunc(table, func(s species) bool { return hasAll(s.words, words) })
}

func hasAll(have, want []string) bool {
	for _, w := range want {
		if !slices.Contains(have, w) {
			return false
		}
	}
	return true
}

func isQuarterSawn(wood string) bool {
	words := wordsOf(wood)
	return slices.Contains(words, "quartersawn") || slices.Contains(words, "quarter") || slices.Contains(words, "qs")
}

func wordsOf(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
}
