package draw

import (
	"bytes"
	"fmt"
	"image/png"
	"testing"
	"time"

	"batchwright/reports"
)

// wallHalves is a full week: so many open days, jobs in every cell.
func wallHalves(days, jobs int) (out []reports.WeekHalf) {
	monday := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	var work []reports.WeekEntry
	for k := range jobs {
		work = append(work, reports.WeekEntry{Code: string(rune('A' + k)), Text: "glue 6 boxes 13:00-15:10, off by 16:00; 2 boxes, 8 clamps over night"})
	}
	for day := range days {
		for k, name := range []string{"am", "pm"} {
			out = append(out, reports.WeekHalf{Day: monday.AddDate(0, 0, day), Name: name, Hours: "8:00-12:00", First: k == 0, Last: k == 1,
				Saw: work, Bench: work, Clamps: work, Drying: work, Needs: work, Planned: 300, Free: 100})
		}
	}
	return out
}

// Letters are 12 mm high for the headings of up to six open days, the height
// that is read at 6 ft (20 minutes of arc), however much stands beside them;
// the rows fill the page and no more.
func TestWallHeadingsAreReadAcrossTheShop(t *testing.T) {
	const tall = 181.0
	for days := 1; days <= 6; days++ {
		w := &wall{newCanvas(wallWide, tall)}
		sum := 0.0
		for i, high := range w.heights(wallHalves(days, 3), tall-wallTitle-wallHeads-wallKey) {
			sum += high
			if size := min(acrossTheShop, high-headRoom); size < 12-1e-9 {
				t.Errorf("%d days, row %d: letters of %.1f mm", days, i, size)
			}
		}
		if sum > tall-wallTitle-wallHeads-wallKey+1e-6 {
			t.Errorf("%d days: rows of %.1f mm on a page", days, sum)
		}
	}
}

// Every word of a cell is there, or the cell says how many jobs are not; a
// word is never cut where a smaller size would hold it.
func TestWallCellsSayAllOrSaySo(t *testing.T) {
	for jobs := 1; jobs <= 6; jobs++ {
		w := &wall{newCanvas(wallWide, 40)}
		rows, whole := w.fit(clusters(wallHalves(1, jobs)[0].Clamps), 45, 40, 1.7)
		sum, words := 0.0, 0
		for _, r := range rows {
			sum += r.tall
			for _, line := range r.lines {
				words += len(line)
			}
		}
		if whole != (sum <= 39.01) || words == 0 {
			t.Errorf("%d jobs: %.1f mm in 39, whole %t", jobs, sum, whole)
		}
	}
}

func TestWeekPicturesRepeat(t *testing.T) {
	halves := wallHalves(5, 4)
	var first []byte
	for range 2 {
		p, err := WallWeek("Week from Mon Mar 8", halves, []string{"A = tea"}, 181)
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, p.PNG) {
			t.Error("the same week is drawn otherwise")
		}
		first = p.PNG
		img, err := png.Decode(bytes.NewReader(p.PNG))
		if err != nil || p.Width != wallWide || img.Bounds().Dx() < 2900 {
			t.Errorf("%v, %g mm, %d dots", err, p.Width, img.Bounds().Dx())
		}
	}
}

// Time runs from left to right, whatever the hours: nights are narrow, never
// backward, and the days tile the page.
func TestBarsRunForward(t *testing.T) {
	monday := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	week := reports.WeekBars{From: monday, To: monday.AddDate(0, 0, 3), Clamps: 16}
	for k := range 3 {
		day := monday.AddDate(0, 0, k)
		week.Days = append(week.Days, reports.BarDay{Day: day, Open: day.Add(7*time.Hour + 30*time.Minute), Shut: day.Add(time.Duration(15+k) * time.Hour)})
	}
	p := &bars{newCanvas(wallWide, 100), week, (wallWide - barsLabel) / 3}
	before := 0.0
	for at := monday; !at.After(week.To); at = at.Add(15 * time.Minute) {
		x := p.x(at)
		if x < before || x < barsLabel-1e-9 || x > wallWide+1e-9 {
			t.Fatalf("%s lies at %.2f mm, after %.2f", at, x, before)
		}
		before = x
	}
	for k := range 4 {
		if x, want := p.x(monday.AddDate(0, 0, k)), barsLabel+p.day*float64(k); x-want > 1e-9 || want-x > 1e-9 {
			t.Errorf("day %d begins at %.3f, want %.3f", k, x, want)
		}
	}
	if _, err := Bars("week", week, 100); err != nil {
		t.Error(fmt.Errorf("draw: %w", err))
	}
}
