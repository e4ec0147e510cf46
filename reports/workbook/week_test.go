package workbook_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/reports/workbook"
)

// shopWeek is a week of two jobs, seven days with a holiday and a weekend; one
// date cannot be kept.
func shopWeek(t testing.TB) *jigplan.Week {
	t.Helper()
	p := once(t, shopPlan)
	settings := p.Order.Settings.Clone()
	monday := time.Date(2027, 3, 8, 0, 0, 0, 0, time.UTC)
	settings.Week.People, settings.Week.Benches, settings.Week.Holidays = 2, 2, []time.Time{monday.AddDate(0, 0, 2)}
	w, err := week.Plan(week.Request{From: monday, Days: 7, Settings: &settings, Limits: week.Limits{Work: 100}, Open: []week.Open{
		{ID: "12", Name: "Alder Lane", Due: monday.AddDate(0, 0, 3), Plan: p},
		{ID: "13", Name: "Alder Lane again", Due: monday.AddDate(0, 0, 20), Plan: p},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func weekBook(t testing.TB, w *jigplan.Week) []byte {
	t.Helper()
	data, err := workbook.Week(w)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestWeekWorkbook(t *testing.T) {
	data := weekBook(t, shopWeek(t))
	if !bytes.Equal(data, weekBook(t, shopWeek(t))) {
		t.Error("the same week gives other bytes")
	}
	save(t, "week.xlsx", data)
	f := opened(t, data)
	want := "Read first, Week, Bars, Half-days, Hour by hour, Due, Wood and buying, Changes"
	if got := strings.Join(f.GetSheetList(), ", "); got != want {
		t.Errorf("sheets %s, want %s", got, want)
	}
	text := dump(t, data)
	for _, say := range []string{"Wed Mar 10 holiday", "LATE", "glue ", "To buy", "No week sheet was given out"} {
		if !strings.Contains(text, say) {
			t.Errorf("the workbook nowhere says %q", say)
		}
	}
	for _, part := range unpacked(t, data).File {
		content := contentOf(t, part)
		if strings.HasPrefix(part.Name, "xl/worksheets/sheet") {
			sheetRules(t, part.Name, string(content))
		}
	}
}

// The page to hang up and the bars are one page each on both papers, and every
// other page stands inside what printers reach.
func TestWeekPrints(t *testing.T) {
	onPaper(t, map[string][]byte{"week": weekBook(t, shopWeek(t))}, checkWeek)
}

func checkWeek(t *testing.T, p printout) {
	count := map[string]int{}
	for i, page := range p.pages {
		words := wordBox.FindAllStringSubmatch(page, -1)
		size := pageSize.FindStringSubmatch(page)
		for _, w := range words {
			if number(w[1]) < 14 || number(w[3]) > number(size[1])-14 || number(w[4]) > number(size[2])-14 {
				t.Errorf("page %d: %q is outside", i+1, w[5])
			}
			if (w[5] == "Week" || w[5] == "Bars") && number(w[2]) > number(size[2])-40 && number(w[1]) > 200 {
				count[w[5]]++ // the sheet's name at the foot of the page
				checkPicture(t, p, i+1)
			}
		}
	}
	if count["Week"] != 1 || count["Bars"] != 1 {
		t.Errorf("the sheets Week and Bars take %v pages, want one each", count)
	}
}

// checkPicture looks at a page that is one picture: the pictures' frames are
// 250 mm apart, and both are on the paper, at least 5 mm from its edges.
func checkPicture(t *testing.T, p printout, page int) {
	t.Helper()
	const dots = 60 // an inch
	n := strconv.Itoa(page)
	image, err := exec.Command("pdftoppm", "-r", strconv.Itoa(dots), "-gray", "-f", n, "-l", n, p.file).Output()
	if err != nil {
		t.Skip("skipped: pdftoppm is not installed, so nobody sees the picture: ", err)
	}
	var wide, tall, most int
	if _, err := fmt.Sscanf(string(image), "P5\n%d %d\n%d", &wide, &tall, &most); err != nil {
		t.Fatal(err)
	}
	dot := image[len(image)-wide*tall:]
	first, last := wide, 0
	for y := tall / 10; y < tall*9/10; y++ { // without header and footer
		for x := range wide {
			if dot[y*wide+x] < 128 {
				first, last = min(first, x), max(last, x)
			}
		}
	}
	mm := func(x int) float64 { return float64(x) / dots * 25.4 }
	t.Logf("page %d: the picture is from %.0f to %.0f mm of %.0f", page, mm(first), mm(last), mm(wide))
	if mm(first) < 5 || mm(last) > mm(wide)-5 || mm(last-first) < 240 {
		t.Errorf("page %d: the picture is from %.0f to %.0f mm of %.0f: some of it is cut off", page, mm(first), mm(last), mm(wide))
	}
}
