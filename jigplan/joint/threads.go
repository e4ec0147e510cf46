package joint

import (
	"strings"
	"sync"

	"batchwright/orders/measure"
)

// threadTable is the rods that are sold, by standard. "M8=1.25" is a coarse
// thread with its pitch; every other designation says its own. Figures were
// read in secondary charts of the standards named, except where the source
// says "from memory".
var threadTable = []struct{ source, suffix, sizes string }{
	{"ASME B1.1 coarse series UNC", "", "1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12 5/8-11 3/4-10 7/8-9 1-8"},
	{"ASME B1.1 fine series UNF", "", "1/4-28 5/16-24 3/8-24 7/16-20 1/2-20 9/16-18 5/8-18 3/4-16 7/8-14 1-12"},
	{"ASME B1.1 special series UNS, from memory", "", "1-14"},
	{"ASME B1.5 general purpose acme", " acme", "1/4-16 5/16-14 3/8-12 7/16-12 1/2-10 5/8-8 3/4-6 7/8-6 1-5"},
	{"ASME B1.5 form, sizes sold beside the preferred ones", " acme", "5/8-6 5/8-10 3/4-5 3/4-8 3/4-10 7/8-5 1-4 1-6 1-8 1-10"},
	{"ISO 261 coarse", "", "M5=0.8 M6=1 M7=1 M8=1.25 M10=1.5 M12=1.75 M14=2 M16=2 M18=2.5 M20=2.5 M22=2.5 M24=3"},
	{"ISO 261 fine", "", "M5x0.5 M6x0.75 M7x0.75 M8x0.75 M8x1 M10x1 M10x1.25 M12x1.25 M12x1.5 M14x1.5 M16x1.5 M18x1.5 M18x2 M20x1.5 M20x2 M22x1.5 M22x2 M24x2"},
	{"ISO 261 fine, from memory", "", "M12x1 M14x1 M14x1.25 M16x1 M18x1 M20x1 M22x1 M24x1 M24x1.5"},
	{"ISO 2904 trapezoidal", "", "Tr8x1.5 Tr9x1.5 Tr9x2 Tr10x1.5 Tr10x2 Tr11x2 Tr11x3 Tr12x2 Tr12x3 Tr14x2 Tr14x3 Tr16x2 Tr16x3 Tr16x4 Tr18x2 Tr18x3"},
	{"ISO 2904 trapezoidal, from memory", "", "Tr18x4 Tr20x2 Tr20x4 Tr22x3 Tr22x5 Tr22x8 Tr24x3 Tr24x5 Tr24x8"},
}

// Rods is every rod of the thread tables, single start, in table order. The
// slice is shared: do not change it.
var Rods = sync.OnceValue(func() []Rod {
	var rods []Rod
	for _, row := range threadTable {
		for _, size := range strings.Fields(row.sizes) {
			name, coarse, _ := strings.Cut(size, "=")
			rods = append(rods, Rod{
				Name: name + row.suffix, Pitch: tabledPitch(name, coarse), Starts: 1, Source: row.source,
			})
		}
	}
	return rods
})

// tabledPitch is the pitch in ticks of a table entry: the coarse figure where
// there is one, else what the designation says.
func tabledPitch(name, coarse string) measure.Ratio {
	figure := coarse
	if _, after, ok := strings.Cut(name, "x"); ok {
		figure = after
	}
	if figure != "" {
		return mustRatio(figure).Times(int64(measure.Millimetre))
	}
	return measure.Inch.Ratio().Div(mustRatio(name[strings.LastIndex(name, "-")+1:]))
}

func mustRatio(text string) measure.Ratio {
	r, err := measure.ParseRatio(text)
	if err != nil {
		panic("joint: thread table: " + err.Error())
	}
	return r
}

// sourceOf names the table a rod stands in: the same diameter, and the same
// pitch within it. Empty: in none, which may be a slip of the pen.
func sourceOf(name string, pitch measure.Ratio) string {
	for _, r := range Rods() {
		if diameter(r.Name) == diameter(name) && r.Pitch.Cmp(pitch) == 0 {
			return r.Source
		}
	}
	return ""
}

// diameter is the part of a designation before its pitch: "M8", "Tr16", "3/8".
func diameter(name string) string {
	base, _, _ := strings.Cut(name, " ")
	if before, _, ok := strings.Cut(base, "x"); ok {
		return before
	}
	if i := strings.LastIndex(base, "-"); i > 0 {
		return base[:i]
	}
	return base
}
