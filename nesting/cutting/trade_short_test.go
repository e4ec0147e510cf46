package cutting_test

import (
	"strings"
	"testing"

	"batchwright/nesting/cutting"
	"batchwright/orders"
)

// TestWhyAPartIsShort: the reason given is the one that a longer, wider, thicker
// or clearer board would take away, and no other.
func TestWhyAPartIsShort(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why  string // the beginning of the reason
		odd  func(*cutting.Job)
		mend func(*cutting.Job)
	}{
		{"no such wood", func(j *cutting.Job) { j.Parts[0].Wood = "elm" }, func(j *cutting.Job) { j.Rack[0].Wood = "elm" }},
		{"too thick", func(j *cutting.Job) { j.Parts[0].Thickness = inch }, func(j *cutting.Job) { j.Rack[0].Class = "5/4" }},
		{"no sheet of", func(j *cutting.Job) { j.Rack[0].Sheet, j.Rack[0].Class, j.Rack[0].Thickness = true, "", inch/2-1 },
			func(j *cutting.Job) { j.Rack[0].Thickness = inch / 2 }},
		{"too short to be planed", func(j *cutting.Job) { j.Parts[0].CutLength, j.Rack[0].Length = 5*inch, 12*inch-1 },
			func(j *cutting.Job) { j.Rack[0].Length = 12 * inch }},
		{"too short to be planed", func(j *cutting.Job) { // beside a board that does not hold it
			j.Parts[0].CutLength, j.Rack[0].Length = 5*inch, 12*inch-1
			j.Rack = append(j.Rack, ashBoard("S", 4*inch, 4*inch, 100))
		}, func(j *cutting.Job) { j.Rack[1].Length = 12 * inch }},
		{"too long", func(j *cutting.Job) { j.Rack[0].Length = 20*inch - 1 }, func(j *cutting.Job) { j.Rack[0].Length = 20 * inch }},
		{"too long", func(j *cutting.Job) { j.Settings.EndTrim = inch }, func(j *cutting.Job) { j.Rack[0].Origin = orders.FromOffcut }},
		{"too wide", func(j *cutting.Job) { j.Parts[0].CutWidth++ }, func(j *cutting.Job) { j.Rack[0].Width++ }},
		{"only across a defect", func(j *cutting.Job) { j.Rack[0].Defects = []orders.Defect{{X: 10 * inch, Length: inch, Width: inch}} },
			func(j *cutting.Job) { j.Rack[0].Defects[0].Sapwood, j.Settings.Sapwood = true, "allowed" }},
		{"no board left", func(j *cutting.Job) { j.Parts = append(j.Parts, ashPart("Q", 20*inch, 4*inch)) },
			func(j *cutting.Job) { j.Rack[0].Count = 2 }},
		{"a size of zero", func(j *cutting.Job) { j.Parts[0].CutWidth = 0 }, func(j *cutting.Job) { j.Parts[0].CutWidth = 1 }},
		{"no band saw", func(j *cutting.Job) { inBook(j) }, func(j *cutting.Job) { j.Settings.ResawUpTo, j.Rack[0].Class = 4*inch, "8/4" }},
		{"no two leaves", func(j *cutting.Job) { inBook(j); j.Settings.ResawUpTo = 4 * inch }, func(j *cutting.Job) { j.Rack[0].Class = "8/4" }},
		{"its matched-grain run mixes", func(j *cutting.Job) {
			inBook(j)
			j.Parts[0].Book, j.Parts[1].Book, j.Parts[1].Run, j.Parts[1].Place = "", "", "a", 2
			j.Parts[1].Thickness, j.Rack[0].Length, j.Settings.ShortestMachine = inch/4, 48*inch, 24*inch
		}, func(j *cutting.Job) { j.Settings.ShortestMachine = 12 * inch }},
	} {
		job := tradeJob(ashBoard("R", 20*inch, 4*inch, 100))
		job.Parts = []orders.Part{ashPart("P", 20*inch, 4*inch)}
		c.odd(&job)
		if l := laid(t, job); len(l.Short) == 0 || !strings.HasPrefix(l.Short[0].Why, c.why) {
			t.Errorf("%s: short %v", c.why, l.Short)
		}
		c.mend(&job)
		if l := laid(t, job); len(l.Short) > 0 {
			t.Errorf("%s, mended: short %v", c.why, l.Short)
		}
	}
}

// inBook makes the part half of a pair that lies alike on two leaves.
func inBook(j *cutting.Job) {
	other := j.Parts[0]
	other.ID, other.Run, other.Place, other.Book = "Q", "b", 1, "box"
	j.Parts[0].Run, j.Parts[0].Place, j.Parts[0].Book = "a", 1, "box"
	j.Parts = append(j.Parts, other)
}
