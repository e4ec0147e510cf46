// Package woods knows woods and sheet goods by all their names. It leaves
// their weight and movement to the packages that calculate with them.
package woods

import (
	"slices"
	"strings"

	"batchwright/orders/spelling"
)

// Wood is a wood or a manufactured sheet that orders may name.
type Wood struct {
	Name   string
	Others []string // other names for the same wood
}

// All lists the woods that are known by name. Names are common practice;
// a wood that is not listed is used as it is written.
var All = []Wood{
	{Name: "alder", Others: []string{"red alder"}},
	{Name: "ash", Others: []string{"white ash"}},
	{Name: "aspen"},
	{Name: "basswood", Others: []string{"american basswood", "lime", "limewood", "linden"}},
	{Name: "beech", Others: []string{"american beech", "european beech"}},
	{Name: "birch", Others: []string{"yellow birch"}},
	{Name: "butternut", Others: []string{"white walnut"}},
	{Name: "cedar"},
	{Name: "western red cedar", Others: []string{"western redcedar", "red cedar"}},
	{Name: "eastern red cedar", Others: []string{"aromatic cedar", "aromatic red cedar"}},
	{Name: "spanish cedar"},
	{Name: "cherry", Others: []string{"black cherry", "american cherry"}},
	{Name: "chestnut"},
	{Name: "cypress", Others: []string{"baldcypress", "bald cypress"}},
	{Name: "douglas fir", Others: []string{"douglas-fir", "doug fir"}},
	{Name: "ebony"},
	{Name: "elm"},
	{Name: "fir"},
	{Name: "hackberry"},
	{Name: "hemlock"},
	{Name: "hickory"},
	{Name: "holly"},
	{Name: "jatoba"},
	{Name: "larch"},
	{Name: "locust", Others: []string{"black locust"}},
	{Name: "mahogany", Others: []string{"true mahogany", "honduras mahogany", "genuine mahogany"}},
	{Name: "african mahogany", Others: []string{"khaya"}},
	{Name: "maple"},
	{Name: "hard maple", Others: []string{"sugar maple", "rock maple"}},
	{Name: "soft maple", Others: []string{"red maple", "silver maple"}},
	{Name: "oak"},
	{Name: "red oak"},
	{Name: "white oak"},
	{Name: "padauk"},
	{Name: "pear", Others: []string{"pearwood"}},
	{Name: "pecan"},
	{Name: "pine"},
	{Name: "eastern white pine"},
	{Name: "white pine"},
	{Name: "yellow pine", Others: []string{"southern yellow pine"}},
	{Name: "sugar pine"},
	{Name: "ponderosa pine"},
	{Name: "poplar", Others: []string{"yellow-poplar", "yellow poplar", "tulip poplar", "tulipwood"}},
	{Name: "purpleheart"},
	{Name: "redwood"},
	{Name: "rosewood"},
	{Name: "sapele"},
	{Name: "sassafras"},
	{Name: "spruce"},
	{Name: "sycamore"},
	{Name: "teak"},
	{Name: "walnut", Others: []string{"black walnut", "american walnut", "american black walnut"}},
	{Name: "wenge"},
	{Name: "willow"},
	{Name: "zebrawood"},

	{Name: "birch ply", Others: []string{"birch plywood", "baltic birch", "baltic birch ply", "baltic birch plywood"}},
	{Name: "plywood", Others: []string{"ply"}},
	{Name: "poplar ply", Others: []string{"poplar plywood"}},
	{Name: "oak ply", Others: []string{"oak plywood"}},
	{Name: "walnut ply", Others: []string{"walnut plywood"}},
	{Name: "maple ply", Others: []string{"maple plywood"}},
	{Name: "cherry ply", Others: []string{"cherry plywood"}},
	{Name: "mdf", Others: []string{"medium density fibreboard", "medium density fiberboard"}},
	{Name: "hardboard", Others: []string{"tempered hardboard"}},
	{Name: "particleboard", Others: []string{"chipboard", "particle board"}},
}

var woodByName = func() map[string]*Wood {
	byName := map[string]*Wood{}
	for i := range All {
		w := &All[i]
		byName[w.Name] = w
		for _, other := range w.Others {
			byName[other] = w
		}
	}
	return byName
}()

// Find looks a wood up by any of its names, any case and spacing; nil when
// it is not known.
func Find(name string) *Wood { return woodByName[spelling.Fold(name)] }

// Name is the name a wood goes by in plans: the known one, else what is
// written, in small letters with single spaces.
func Name(name string) string {
	if w := Find(name); w != nil {
		return w.Name
	}
	return spelling.Fold(name)
}

// Nearest is the known wood whose name is one or two letters away, for a
// name that is not known itself; empty when none or several are.
func Nearest(name string) string {
	folded := spelling.Fold(name)
	best, found, tie := 3, "", false
	for written, w := range woodByName {
		if len(written) < 4 || len(folded) < 4 {
			continue
		}
		allowed := 1
		if len(written) > 6 {
			allowed = 2
		}
		n := spelling.Distance(folded, written)
		switch {
		case n > allowed || n > best:
		case n < best:
			best, found, tie = n, w.Name, false
		case w.Name != found:
			tie = true
		}
	}
	if tie {
		return ""
	}
	return found
}

// notCovered are woods whose name ends like a general one and that are another
// tree (common practice).
var notCovered = []string{"spanish cedar", "douglas fir", "african mahogany"}

// Covers reports whether a general name, such as oak or ply, takes in a
// species: oak takes in red oak, plywood takes in birch ply.
func Covers(general, species string) bool {
	g, s := Name(general), Name(species)
	if g == s || slices.Contains(notCovered, s) || IsSheet(g) != IsSheet(s) {
		return false
	}
	if g == "plywood" {
		return strings.HasSuffix(s, " ply") || strings.HasSuffix(s, " plywood")
	}
	return strings.HasSuffix(s, " "+g)
}

// Same compares two names of a wood, whatever their case and spacing.
func Same(a, b string) bool { return spelling.Fold(a) == spelling.Fold(b) }

// Key is the one spelling under which a wood is looked up.
func Key(wood string) string { return spelling.Fold(wood) }

// IsSheet reports whether a wood is sold as manufactured sheets: plywood,
// fibreboard, hardboard, particle board (common practice, by their usual
// names).
func IsSheet(wood string) bool {
	for _, word := range strings.FieldsFunc(spelling.Fold(wood), func(r rune) bool { return r == ' ' || r == '-' || r == ',' }) {
		switch word {
		case "ply", "plywood", "mdf", "hdf", "hardboard", "fibreboard", "fiberboard", "chipboard", "particleboard", "melamine":
			return true
		}
	}
	return false
}
