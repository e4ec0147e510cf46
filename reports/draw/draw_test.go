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
func rackBoard() *nesting.CutBoard {
	b := &nesting.CutBoard{ID: "R7", Length: 84 * inch, Width: 7 * inch, Thickness: inch,
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

func wholeBoard() View {
	return View{Length: 84 * inch, Width: 7 * inch, Whole: true, Size: "84 x 7 in", Steps: map[int]string{1: "1", 3: "2"},
		Pieces: map[int][]string{0: {"side 1", "box 2", "Tray"}, 1: {"side 1"}, 2: nil, 3: {"end 1", "a name that finds no room at all on so small a piece"}}}
}

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
	p, err := Board(rackBoard(), wholeBoard(), 250, 110)
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
	first, _ := Board(rackBoard(), wholeBoard(), 250, 110)
	again, _ := Board(rackBoard(), wholeBoard(), 250, 110)
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
		if _, err := Board(board, wholeBoard(), 250, 110); err != nil {
			b.Fatal(err)
		}
	}
}

// What is written by our own encoder must be what the library reads back, dot by
// dot, with an odd number of dots in a row.
func TestPictureReadsBack(t *testing.T) {
	c := newCanvas(10.2, 3.1)
	c.fill(1, 0.5, 4, 1, black)
	c.fill(5, 0.7, 4.9, 2, pale)
	c.set(c.img.Rect.Max.X-1, 3, 9)
	p, err := c.picture()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		t.Fatal(err)
	}
	if img.Bounds() != c.img.Rect || c.img.Rect.Dx()%2 == 0 {
		t.Fatalf("read back %v, drawn %v (an odd width is wanted)", img.Bounds(), c.img.Rect)
	}
	for y := range c.img.Rect.Dy() {
		for x := range c.img.Rect.Dx() {
			want, _, _, _ := c.img.At(x, y).RGBA()
			if got, _, _, _ := img.At(x, y).RGBA(); got != want {
				t.Fatalf("dot %d, %d reads %04x, drawn %04x", x, y, got, want)
			}
		}
	}
}

// A view of one strip shows its own pieces alone, and numbers of steps never
// cover each other: where there is no place left one is not drawn.
func TestNumbersNeverOverlap(t *testing.T) {
	v := wholeBoard()
	for n := range 7 {
		v.Steps[n] = "12"
	}
	b := rackBoard()
	for i := range 40 { // forty kerfs side by side
		b.Cuts = append(b.Cuts, nesting.Cut{N: 100 + i, Kind: nesting.Crosscut, At: 40*inch + measure.Length(i)*inch/4, To: 7 * inch, Kerf: inch / 8})
		v.Steps[100+i] = "88"
	}
	s := &sheet{canvas: newCanvas(250, 40), view: &v, sx: 0.1, sy: 0.1, left: 6, foot: 30}
	s.numbers(b)
	for i, p := range s.taken {
		for _, q := range s.taken[:i] {
			if dx, dy := p.x-q.x, p.y-q.y; dx*dx+dy*dy < (p.r+q.r)*(p.r+q.r) {
				t.Errorf("two numbers at %.1f, %.1f and %.1f, %.1f cover each other", p.x, p.y, q.x, q.y)
			}
		}
	}
	if len(s.taken) < 8 {
		t.Errorf("only %d numbers find a place", len(s.taken))
	}
}
