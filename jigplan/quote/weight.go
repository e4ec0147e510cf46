package quote

import (
	_ "embed"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

//go:embed densities.csv
var densityTable string

// Density is what a wood weighs.
type Density struct {
	Wood   string  // the row of the table
	Cubic  float64 // kg/m3 at 12 % moisture
	Source string
	Basis  string // "read" or "memory"

	words []string
}

var densities = sync.OnceValue(func() (out []Density) {
	r := csv.NewReader(strings.NewReader(densityTable))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("pack: built-in table: " + err.Error())
	}
	for _, row := range rows[1:] {
		cubic, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			panic("pack: built-in table: " + err.Error())
		}
		out = append(out, Density{row[0], cubic, row[2], row[3], wordsOf(row[0])})
	}
	return out
})

func wordsOf(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
}

// saw are words that say how a board was sawn or graded, not what it is.
var saw = []string{"quartersawn", "quarter", "flatsawn", "flat", "plain", "riftsawn", "rift", "sawn", "figured", "curly", "select", "common"}

// DensityOf finds a wood by the words of its name, as it is and by its other
// names; where several rows fit, the heaviest counts. Not ok: the wood is not
// in the table, and the heaviest wood of the table is given, so that no carton
// is too heavy.
func DensityOf(wood string) (d Density, ok bool) {
	names := []string{wood}
	if known := woods.Find(wood); known != nil {
		names = append(append(names, known.Name), known.Others...)
	}
	for _, name := range names {
		words := slices.DeleteFunc(wordsOf(name), func(w string) bool { return slices.Contains(saw, w) })
		if d, ok = heaviest(words); ok {
			return d, true
		}
	}
	d, _ = heaviest(nil)
	return d, false
}

// heaviest is the heaviest row that has all the words. A sheet's row fits only
// when the words say that it is a sheet.
func heaviest(words []string) (best Density, ok bool) {
	for _, d := range densities() {
		fits := !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(d.words, w) })
		if fits && sheet(d.words) == sheet(words) && d.Cubic > best.Cubic {
			best, ok = d, true
		}
	}
	return best, ok
}

func sheet(words []string) bool {
	for _, w := range words {
		switch w {
		case "ply", "plywood", "mdf", "hardboard", "particleboard":
			return true
		}
	}
	return false
}

// Weight is what the parts of one box weigh, and the woods that are not in the
// table. Where walls meet, each has half of the corner: the other half is the
// mate's fingers.
func Weight(parts []orders.Part) (kilograms float64, unknown []string) {
	for i := range parts {
		p := &parts[i]
		d, ok := DensityOf(p.Wood)
		if !ok && !slices.Contains(unknown, p.Wood) {
			unknown = append(unknown, p.Wood)
		}
		length := p.Length
		if p.Joint != nil {
			length -= p.Joint.Mate
		}
		kilograms += cubicMetres(measure.Size{Length: length, Width: p.Width, Height: p.Thickness}) * d.Cubic
	}
	return math.Round(kilograms*1000) / 1000, unknown
}

func cubicMetres(s measure.Size) float64 {
	return metres(s.Length) * metres(s.Width) * metres(s.Height)
}

func metres(l measure.Length) float64 { return l.Millimetres() / 1000 }

// Litres is the room a size takes.
func Litres(s measure.Size) float64 { return 1000 * cubicMetres(s) }
