package draw

import (
	"fmt"
	"slices"
	"strings"

	"batchwright/reports"
)

// Letters that are read from across the shop are 12 mm high where they fit:
// 6.4 mm for each metre of distance, at 6 ft.
const acrossTheShop = 12.0

// column is one of the wall page.
type column struct {
	name string
	wide float64
}

var wallColumns = []column{{"", 37}, {"Saw", 37}, {"Bench", 40}, {"Clamps", 45}, {"Drying", 37}, {"Planned", 17}, {"The next day needs", 37}}

const (
	wallWide  = 250.0
	wallTitle = 8.0
	wallHeads = 4.6
	wallKey   = 8.0 // the jobs by their letters, at the foot
	shutTall  = 9.0 // a closed day
)

// WallWeek is the week by half-day as one page to hang up. Jobs are told by
// their letters or numbers, as large as the row allows; nothing hangs on a
// shade. jobs says what each letter stands for.
func WallWeek(title string, halves []reports.WeekHalf, jobs []string, tall float64) (Picture, error) {
	w := &wall{newCanvas(wallWide, tall)}
	w.title(title)
	y := wallTitle
	w.heads(y)
	y += wallHeads
	for i, high := range w.heights(halves, tall-wallTitle-wallHeads-wallKey) {
		w.half(&halves[i], y, high)
		y += high
	}
	w.across(0, wallWide, y, 0.7)
	w.downTo(y)
	w.key(jobs, y+1, tall-y-1)
	return w.picture()
}

type wall struct{ *canvas }

// title is one line, smaller rather than cut.
func (c *canvas) title(text string) {
	size := 5.0
	for size > 2.6 && span(text, style{true, size}) > c.width {
		size -= 0.2
	}
	c.text(0, 6.2, fitText(text, c.width, style{true, size}), style{true, size})
}

// headRoom is what a row's heading needs beside its letters; a morning's day
// and hours stand beneath it.
const (
	headRoom = 1.2
	dateRoom = 3.4
)

// heights shares the page among the rows: each as much as its heading needs,
// what is left by how much is written in them.
func (w *wall) heights(halves []reports.WeekHalf, tall float64) []float64 {
	out, needs := make([]float64, len(halves)), make([]float64, len(halves))
	left, sum, open, shut := tall, 0.0, 0.0, 0.0
	for i := range halves {
		out[i] = acrossTheShop + headRoom
		if halves[i].First {
			out[i] += dateRoom
		}
		if halves[i].Name == "" {
			out[i] = shutTall
			shut += shutTall
		} else {
			needs[i] = max(0.5, w.need(&halves[i])-out[i])
			sum += needs[i]
			open++
		}
		left -= out[i]
	}
	for i := range halves {
		switch {
		case halves[i].Name == "":
		case left > 0:
			out[i] += min(left*needs[i]/sum, acrossTheShop*1.5)
		default: // too many for dates beneath the mornings: all alike
			out[i] = (tall - shut) / open
		}
	}
	return out
}

// need is the height of a half-day's fullest cell at a size of text that is
// still read at the bench.
func (w *wall) need(h *reports.WeekHalf) float64 {
	most := 0.0
	for i, entries := range [][]reports.WeekEntry{h.Saw, h.Bench, h.Clamps, h.Drying, nil, h.Needs} {
		rows, _ := w.fit(clusters(entries), wallColumns[i+1].wide, 1, 2.4)
		sum := 1.0
		for _, r := range rows {
			sum += r.tall
		}
		most = max(most, sum)
	}
	return most
}

func (w *wall) heads(y float64) {
	x := 0.0
	for _, c := range wallColumns {
		w.text(x+1, y+3.6, c.name, style{true, 2.8})
		x += c.wide
	}
}

// downTo rules the columns.
func (w *wall) downTo(y float64) {
	x := 0.0
	for i, c := range wallColumns {
		if i > 0 {
			w.down(x, wallTitle, y, 0.25)
		}
		x += c.wide
	}
}

// half is one row.
func (w *wall) half(h *reports.WeekHalf, y, high float64) {
	thick := 0.2
	if h.First {
		thick = 0.7
	}
	w.across(0, wallWide, y, thick)
	if h.Name == "" {
		w.shut(h, y, high)
		return
	}
	w.headline(h, y, high)
	x := wallColumns[0].wide
	for i, entries := range [][]reports.WeekEntry{h.Saw, h.Bench, h.Clamps, h.Drying} {
		w.entries(entries, x, y, wallColumns[i+1].wide, high)
		x += wallColumns[i+1].wide
	}
	w.hours(h, x, y, high)
	w.entries(h.Needs, x+wallColumns[5].wide, y, wallColumns[6].wide, high)
}

// headline is the day in its morning row, and which half it is.
func (w *wall) headline(h *reports.WeekHalf, y, high float64) {
	big := h.Day.Format("Mon")
	if !h.First {
		big = strings.ToUpper(h.Name)
	}
	size := min(acrossTheShop, high-headRoom)
	w.text(1, y+0.7+size, big, style{true, size})
	end := 1 + wide(big, style{true, size}) + 1
	room := wallColumns[0].wide - end
	from, to, _ := strings.Cut(h.Hours, "-")
	lines := []string{h.Date, from, "to " + to}
	below := h.Date + "  " + h.Name + " " + h.Hours
	if h.Away != "" {
		lines = append(lines, h.Away)
		below = h.Date + " " + h.Hours + " " + h.Away
	}
	if room < wide(lines[2], style{false, 1.9}) {
		if high >= size+dateRoom {
			const usual = 2.2
			small := min(usual, usual*(wallColumns[0].wide-1.5)/wide(below, style{false, usual}))
			w.text(1, y+size+3.6, below, style{false, small})
		}
		return
	}
	for i, line := range lines {
		w.text(end, y+4+float64(i)*3.3, line, style{false, 1.9})
	}
}

// shut is a day nobody works.
func (w *wall) shut(h *reports.WeekHalf, y, high float64) {
	w.hatch(0, y, wallColumns[0].wide, high, 2.4, 0.15, true)
	size := high - 2.6
	text := h.Day.Format("Mon")
	w.fill(0.7, y+0.9, wide(text, style{true, size})+1.2, size+0.9, white)
	w.text(1, y+1.2+size, text, style{true, size})
	x := wallColumns[0].wide
	w.text(x+1, y+5.6, h.Date+" "+h.Hours, style{true, 3.4})
	for _, c := range wallColumns[1:4] {
		x += c.wide
	}
	w.entries(h.Drying, x, y, wallColumns[4].wide, high)
	w.dueBox(h.Due, x+wallColumns[4].wide, y+1.5)
}

// hours says what is planned and free, and shows it as a bar.
func (w *wall) hours(h *reports.WeekHalf, x, y, high float64) {
	wideBar := wallColumns[5].wide - 3
	w.text(x+1.2, y+4.8, hoursText(h.Planned), style{true, 3})
	w.text(x+1.2, y+8.2, "free "+hoursText(h.Free), style{false, 2.2})
	if len(h.Due) > 0 {
		w.dueBox(h.Due, x, y+8.9)
	} else if all := float64(h.Planned + h.Free); all > 0 && high > 12 {
		w.box(x+1.2, y+9.6, wideBar, 2.6, 0.25)
		w.fill(x+1.2, y+9.6, wideBar*float64(h.Planned)/all, 2.6, black)
	}
}

// dueBox says what is due that day.
func (w *wall) dueBox(codes []string, x, y float64) {
	if len(codes) == 0 {
		return
	}
	text, size, room := "DUE "+strings.Join(codes, ", "), 3.4, wallColumns[5].wide-2.4
	for size > 1.8 && span(text, style{true, size}) > room {
		size -= 0.1
	}
	text = fitText(text, room, style{true, size})
	w.text(x+1.6, y+size+0.9, text, style{true, size})
	w.box(x+0.6, y, wide(text, style{true, size})+2, size+1.8, 0.5)
}

func hoursText(minutes int) string { return fmt.Sprintf("%d:%02d", minutes/60, minutes%60) }

// cluster is what is said of one job in a cell.
type cluster struct {
	code  string
	texts []string
}

func clusters(entries []reports.WeekEntry) (out []cluster) {
	for _, e := range entries {
		at := slices.IndexFunc(out, func(c cluster) bool { return c.code == e.Code })
		if at < 0 {
			at = len(out)
			out = append(out, cluster{code: e.Code})
		}
		out[at].texts = append(out[at].texts, e.Text)
	}
	return out
}

// entries writes the work in a cell at the largest size that fits.
func (w *wall) entries(entries []reports.WeekEntry, x, y, wideCol, high float64) {
	list := clusters(entries)
	if len(list) == 0 {
		return
	}
	for _, size := range []float64{3, 2.7, 2.4, 2.1, 1.9, 1.7} {
		if rows, ok := w.fit(list, wideCol, high, size); ok || size == 1.7 {
			w.write(rows, x, y, wideCol, high, size)
			return
		}
	}
}

// cellRow is one job of a cell, laid out.
type cellRow struct {
	code  string
	big   float64 // height of its letter
	lines []string
	tall  float64
}

// fit lays a cell out at a size of text; the letters of the jobs share what
// height there is, and are smaller where their words need the room.
func (w *wall) fit(list []cluster, wideCol, high, size float64) (rows []cellRow, ok bool) {
	const gap = 0.6
	room := high - 1
	for most := min(acrossTheShop, room-gap); ; most -= 0.4 {
		used, whole := 0.0, true
		rows = rows[:0]
		for _, c := range list {
			r := cellRow{code: c.code, big: max(most, 2.4)}
			for r.big > 2.4 && span(c.code, style{true, r.big}) > wideCol*0.4 {
				r.big -= 0.2
			}
			left := wideCol - 3.2 - span(c.code, style{true, r.big})
			for _, text := range c.texts {
				lines, fits := wrapText(text, left, style{false, size})
				r.lines = append(r.lines, lines...)
				whole = whole && fits
			}
			r.tall = max(r.big+gap, float64(len(r.lines))*size*lineOf+0.4)
			used += r.tall
			rows = append(rows, r)
		}
		if used <= room+0.01 && whole {
			return rows, true
		}
		if most < 2.4 {
			return rows, false
		}
	}
}

// lineOf is the distance of two lines, in capitals.
const lineOf = 1.38

// write puts the rows of a cell down; what finds no room is counted.
func (w *wall) write(rows []cellRow, x, y, wideCol, high, size float64) {
	at, line, all := y+0.7, size*lineOf, 0.0
	for _, r := range rows {
		all += r.tall
	}
	full := y + high + 0.2
	if at+all > full {
		full -= 2.4 // for the line that says there is more
	}
	for i, r := range rows {
		if at+r.tall > full && i > 0 {
			w.text(x+1, y+high-0.7, fitText(fmt.Sprintf("and %d more: see Half-days", len(rows)-i), wideCol-2, style{true, 1.7}), style{true, 1.7})
			return
		}
		w.text(x+1, at+r.big, r.code, style{true, r.big})
		left := x + 2.2 + wide(r.code, style{true, r.big})
		top := at + max(0, (min(r.tall, r.big+0.6)-float64(len(r.lines))*line)/2)
		for k, text := range r.lines {
			w.text(left, top+float64(k)*line+size, text, style{false, size})
		}
		at += r.tall
	}
}

// key says what each letter stands for.
func (w *wall) key(jobs []string, y, high float64) {
	for size := 3.0; size >= 1.6; size -= 0.2 {
		lines := flow(jobs, wallWide, style{false, size})
		if float64(len(lines))*size*1.5 > high && size > 1.7 {
			continue
		}
		for i, line := range lines {
			w.text(0, y+size+0.8+float64(i)*size*1.5, line, style{false, size})
		}
		return
	}
}

// flow sets texts one after the other, on as many lines as they need.
func flow(texts []string, room float64, s style) (lines []string) {
	for _, text := range texts {
		if n := len(lines); n > 0 && wide(lines[n-1]+"     "+text, s) <= room {
			lines[n-1] += "     " + text
			continue
		}
		lines = append(lines, fitText(text, room, s))
	}
	return lines
}

// wrapText breaks a text into lines, and says whether every word fits.
func wrapText(text string, room float64, s style) (lines []string, fits bool) {
	fits = true
	for word := range strings.FieldsSeq(text) {
		if n := len(lines); n > 0 && span(lines[n-1]+" "+word, s) <= room {
			lines[n-1] += " " + word
			continue
		}
		short := fitText(word, room, s)
		fits = fits && short == word
		lines = append(lines, short)
	}
	return lines, fits
}

// fitText shortens a text to its room.
func fitText(text string, room float64, s style) string {
	if span(text, s) <= room {
		return text
	}
	letters := []rune(text)
	for len(letters) > 1 && span(string(letters)+"…", s) > room {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// spanHeight is the one height texts are measured at while sizes are tried:
// each size of its own would be drawn letter by letter only to be measured.
const spanHeight = 3.0

// span is the width of a text in mm, a little on the wide side: hinting rounds
// small letters up.
func span(text string, s style) float64 {
	return 1.03 * wide(text, style{s.bold, spanHeight}) * s.height / spanHeight
}
