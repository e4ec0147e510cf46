package draw

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

var show = flag.String("show", "", "folder that gets the drawings, to look at")

const inch = measure.Inch

// rackBoard is a board of 84 x 7 in with a knot, four sides in two strips, two
// rips and an offcut that is kept.
func rackBoard() *nesting.Board {
	b := &nesting.Board{ID: "R7", Length: 84 * inch, Width: 7 * inch, Thickness: inch,
		Stock: orders.Board{Defects: []orders.Defect{{X: 30 * inch, Y: 0, Length: 3 * inch, Width: 3 * inch / 2}}}}
	l, w, kerf := 12*inch+inch/8, 3*inch+inch/8, inch/8
	b.Cuts = []nesting.Cut{{N: 1, Kind: nesting.Crosscut, At: inch - kerf, To: 7 * inch, Kerf: kerf},
		{N: 2, Kind: nesting.Crosscut, At: 2*l + kerf + inch, To: 7 * inch, Kerf: kerf}}
	for row := range measure.Length(2) {
		y := inch/8 + row*(w+kerf)
		for col := range measure.Length(2) {
			b.Pieces = append(b.Pieces, nesting.Piece{X: inch + col*(l+kerf), Y: y, Length: l, Width: w})
		}
		b.Cuts = append(b.Cuts, nesting.Cut{N: 3 + int(row), Kind: nesting.Rip, At: y + w, From: inch, To: 2*l + kerf + inch, Kerf: kerf})
		b.Cuts = append(b.Cuts, nesting.Cut{N: 5 + int(row), Kind: nesting.Crosscut, At: inch + l, From: y, To: y + w, Kerf: kerf})
	}
	b.Offcuts = []nesting.Offcut{{X: 33 * inch, Length: 50 * inch, Width: 7 * inch, Keep: true}}
	return b
}

var fourTags = []Tag{{"1", []string{"T1 side 1", "12-1/8 x 3-1/8"}}, {"2", []string{"T1 side 2"}}, {"3", nil}, {"4", []string{"T1 end"}}}

func save(t *testing.T, name string, p Picture) {
	t.Helper()
	if *show != "" {
		if err := os.WriteFile(filepath.Join(*show, name), p.PNG, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A picture's dots must agree with the size on paper that goes with it, or the
// workbook stretches it.
func TestPictureSizeIs300DotsAnInch(t *testing.T) {
	p, err := Board(rackBoard(), fourTags, "84 x 7 in", 250, 110)
	if err != nil {
		t.Fatal(err)
	}
	save(t, "board.png", p)
	img, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		t.Fatal(err)
	}
	gotW, gotH := float64(img.Bounds().Dx())/300*25.4, float64(img.Bounds().Dy())/300*25.4
	if gotW < p.Width || gotW > p.Width+0.1 || gotH < p.Height || gotH > p.Height+0.1 {
		t.Errorf("dots make %.2f x %.2f mm, said %.2f x %.2f", gotW, gotH, p.Width, p.Height)
	}
	if p.Width > 250 || p.Height > 110 {
		t.Errorf("drawing is %.1f x %.1f mm, larger than allowed", p.Width, p.Height)
	}
}

func TestSameDrawingSameBytes(t *testing.T) {
	first, _ := Board(rackBoard(), fourTags, "84 x 7 in", 250, 110)
	again, _ := Board(rackBoard(), fourTags, "84 x 7 in", 250, 110)
	if !bytes.Equal(first.PNG, again.PNG) {
		t.Error("two drawings of one board differ")
	}
}

// A pin is as dark at its edges and as white inside as the slot beside it is
// open: sampled at full size, where 1 mm is 11.81 dots.
func TestJointIsToScale(t *testing.T) {
	a := End{Name: "A", Height: 76.2, Slots: [][2]float64{{0, 7.14375}, {14.2875, 21.43125}}, Low: "notch 9/32", High: "pin 9/32"}
	b := End{Name: "B", Height: 76.2, Slots: [][2]float64{{7.14375, 14.2875}}, Low: "pin 9/32", High: "notch"}
	p, err := Joint(&a, &b, 50.8, "2 in when printed to scale")
	if err != nil {
		t.Fatal(err)
	}
	save(t, "joint.png", p)
	img, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		t.Fatal(err)
	}
	// Along the finger row of the upper board the dark strokes lie where slots
	// begin and end: 7.14375, 14.2875 and 21.43125 mm from the marked edge.
	y := dots(2 + 9 + 2)
	var strokes []float64
	dark := false
	for x := dots(8 + 1); x < dots(8+30); x++ {
		r, _, _, _ := img.At(x, y).RGBA()
		if now := r < 0x8000; now != dark {
			dark = now
			if dark {
				strokes = append(strokes, float64(x)/dotsPerMM-8+0.25)
			}
		}
	}
	want := []float64{7.14375, 14.2875, 21.43125}
	if len(strokes) < 3 {
		t.Fatalf("strokes at %v, want %v", strokes, want)
	}
	for i, w := range want {
		if d := strokes[i] - w; d > 0.15 || d < -0.15 {
			t.Errorf("stroke %d lies at %.3f mm, want %.3f", i, strokes[i], w)
		}
	}
}

func BenchmarkBoard(b *testing.B) {
	board := rackBoard()
	for b.Loop() {
		if _, err := Board(board, fourTags, "84 x 7 in", 250, 110); err != nil {
			b.Fatal(err)
		}
	}
}
