package quote_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"batchwright/jigplan/quote"
	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

const in = measure.Inch

// Densities at 12 % moisture are specific gravity x 1.12 x 1000 kg/m3; gravities
// of the Wood Handbook, FPL-GTR-190, Table 5-3a: black cherry 0.50, sugar maple
// 0.63, white oak 0.68, ponderosa pine 0.40; black walnut 0.55 (from memory).
func TestDensities(t *testing.T) {
	for _, c := range []struct {
		wood    string
		gravity float64
	}{{"cherry", 0.50}, {"Black Cherry", 0.50}, {"hard maple", 0.63}, {"maple", 0.63}, {"white oak", 0.68}, {"quartersawn white oak", 0.68},
		{"ponderosa pine", 0.40}, {"walnut", 0.55}, {"poplar", 0.42}} {
		d, ok := quote.DensityOf(c.wood)
		if !ok || math.Abs(d.Cubic-c.gravity*1120) > 0.5 {
			t.Errorf("%s: %v kg/m3 of %q, want %.1f", c.wood, d.Cubic, d.Wood, c.gravity*1120)
		}
	}
	if d, ok := quote.DensityOf("birch ply"); !ok || d.Wood != "birch ply" {
		t.Errorf("plywood is taken as %q", d.Wood)
	}
	if d, ok := quote.DensityOf("moonwood"); ok || d.Cubic < 750 {
		t.Errorf("an unknown wood is taken as %v kg/m3, known %v", d.Cubic, ok)
	}
}

// A box worked by hand: cherry walls 12 x 8 x 3-1/2 in, half an inch thick. Its
// walls fill 12 x 8 x 3.5 less 11 x 7 x 3.5 = 66.5 cubic inches, 0.00108974 m3:
// 0.610 kg at 560 kg/m3.
func TestWeightOfABox(t *testing.T) {
	wall := func(length measure.Length) orders.Part {
		return orders.Part{Wood: "cherry", Length: length, Width: 3*in + in/2, Thickness: in / 2, Joint: &orders.Joint{Mate: in / 2}}
	}
	kg, unknown := quote.Weight([]orders.Part{wall(12 * in), wall(12 * in), wall(8 * in), wall(8 * in)})
	if math.Abs(kg-0.610) > 0.0005 || len(unknown) > 0 {
		t.Errorf("%.4f kg, unknown %v", kg, unknown)
	}
}

// Whatever is packed: it fits its carton with the packing around it, all boxes
// are in a carton, and no carton is too heavy unless one box alone is.
func TestWhatIsPackedFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := settings.Default()
		side := func(name string) measure.Length { return measure.Length(rapid.IntRange(2, 20).Draw(t, name)) * in }
		size := measure.Size{Length: side("length"), Width: side("width"), Height: side("height")}
		kg := float64(rapid.IntRange(1, 400).Draw(t, "weight")) / 20
		boxes := rapid.IntRange(1, 100).Draw(t, "boxes")
		for range rapid.IntRange(0, 3).Draw(t, "cartons") {
			s.Rates.Cartons = append(s.Rates.Cartons, measure.Size{Length: side("l") * 2, Width: side("w") * 2, Height: side("h")})
		}
		p := quote.Packed(size, kg, boxes, &s)
		if p.Each == 0 {
			if len(s.Rates.Cartons) == 0 {
				t.Fatal("no carton although any size may be had")
			}
			return
		}
		if p.Each*p.Cartons < boxes || p.Each*(p.Cartons-1) >= boxes {
			t.Fatalf("%d boxes in %d cartons of %d", boxes, p.Cartons, p.Each)
		}
		if p.Each > p.Across[0]*p.Across[1]*p.Across[2] {
			t.Fatalf("%d boxes in a pile of %v", p.Each, p.Across)
		}
		room := quote.Litres(measure.Size{Length: p.Carton.Length - 2*in, Width: p.Carton.Width - 2*in, Height: p.Carton.Height - 2*in})
		if room < float64(p.Each)*quote.Litres(size)-1e-6 {
			t.Fatalf("%d boxes do not fit %v", p.Each, p.Carton)
		}
		if float64(p.Each)*kg > s.Rates.CartonKilograms && p.Each > 1 {
			t.Fatalf("%d boxes of %v kg in one carton", p.Each, kg)
		}
		if p.TooHeavyKg != (kg > s.Rates.CartonKilograms-0.5) {
			t.Fatalf("too heavy %v at %v kg", p.TooHeavyKg, kg)
		}
	})
}
