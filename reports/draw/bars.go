package draw

import (
	"fmt"
	"time"

	"batchwright/reports"
)

const (
	barsLabel  = 34.0 // the jobs' letters and names
	barsTop    = 9.0  // title
	barsDays   = 16.0 // headings of the days
	barsFoot   = 34.0 // hours, clamps over night, key
	nightShare = 0.22 // of a day's width
)

// Bars draws a week: a row a job, its attended work in patterns that are told
// apart in black and white, its waits as a thin line of their own, dates as
// flags. The nights are narrower than the hours of work.
func Bars(title string, w reports.WeekBars, tall float64) (Picture, error) {
	p := &bars{canvas: newCanvas(wallWide, tall), week: w, day: (wallWide - barsLabel) / float64(max(1, len(w.Days)))}
	p.title(title)
	rows := max(1, len(w.Rows))
	high := min(36, (tall-barsTop-barsDays-barsFoot)/float64(rows))
	bottom := barsTop + barsDays + high*float64(len(w.Rows))
	p.days(bottom)
	for i := range w.Rows {
		p.row(&w.Rows[i], barsTop+barsDays+high*float64(i), high)
	}
	p.across(0, wallWide, bottom, 0.5)
	p.load(bottom)
	p.legend(bottom + 25)
	return p.picture()
}

type bars struct {
	*canvas
	week reports.WeekBars
	day  float64 // width of one
}

// x is where a moment lies; hours of work are wide, nights narrow.
func (p *bars) x(t time.Time) float64 {
	if !t.Before(p.week.To) {
		return wallWide
	}
	k := int(t.Sub(p.week.From).Hours() / 24)
	if k < 0 || k >= len(p.week.Days) {
		return barsLabel
	}
	d := &p.week.Days[k]
	from := barsLabel + p.day*float64(k)
	edge := p.day * nightShare / 2
	switch {
	case t.Before(d.Open):
		return from + edge*share(t, d.Day, d.Open)
	case t.Before(d.Shut):
		return from + edge + (p.day-2*edge)*share(t, d.Open, d.Shut)
	}
	return from + p.day - edge + edge*share(t, d.Shut, d.Day.AddDate(0, 0, 1))
}

func share(t, from, to time.Time) float64 { return float64(t.Sub(from)) / float64(to.Sub(from)) }

// days heads the columns and shades what is closed.
func (p *bars) days(bottom float64) {
	for k, d := range p.week.Days {
		x := barsLabel + p.day*float64(k)
		name := d.Day.Format("Mon")
		size := min(acrossTheShop, (p.day-3)/2.05)
		for size > 2.5 && span(name, style{true, size}) > p.day-1.5 {
			size -= 0.25
		}
		p.text(x+1, barsTop+size+0.6, name, style{true, size})
		note := d.Date
		if d.Closed != "" {
			note += " " + d.Closed
			p.hatch(x, barsTop+barsDays, p.day, bottom-barsTop-barsDays, 3.2, 0.1, true)
		}
		p.text(x+1, barsTop+barsDays-0.8, fitText(note, p.day-1.5, style{false, 2}), style{false, 2})
		p.down(x, barsTop, bottom+22, 0.5)
		for _, h := range d.Work {
			p.down(p.x(h.From), barsTop+barsDays, bottom, 0.08)
			p.down(p.x(h.To.Add(-time.Second)), barsTop+barsDays, bottom, 0.08)
		}
	}
}

// row is one job: its name, its work above, its waits beneath, its flags.
func (p *bars) row(r *reports.BarRow, y, high float64) {
	p.across(0, wallWide, y, 0.3)
	size := min(acrossTheShop, high-5)
	for size > 2.5 && span(r.Code, style{true, size}) > barsLabel-3 {
		size -= 0.25
	}
	p.text(1, y+size+0.9, r.Code, style{true, size})
	note := r.Name
	p.text(1, y+high-1, fitText(note, barsLabel-2, style{false, 2.2}), style{false, 2.2})
	words := min(2.2, high*0.2)
	top, tallBar := y+words+1.6, max(2, (high-words-3)*0.55)
	lane := tallBar / float64(r.Lanes())
	for i := range r.Work {
		b := &r.Work[i]
		x1, x2 := p.x(b.From), max(p.x(b.From)+0.7, p.x(b.To))
		p.work(b.Kind, x1, top+lane*float64(b.Lane), x2-x1, lane)
	}
	p.words(r, y+words+0.9, style{false, words})
	for i := range r.Waits {
		b := &r.Waits[i]
		p.wait(b.Kind, p.x(b.From), top+tallBar+0.8+waitLane(b.Kind)*1.5, p.x(b.To))
	}
	p.flags(r, y, high)
}

// words name the work of a row, as far as there is room; grooves are told by
// their pattern alone.
func (p *bars) words(r *reports.BarRow, y float64, s style) {
	edge := 0.0
	for i := range r.Words {
		b := &r.Words[i]
		word := b.Kind
		if b.Boxes > 0 && b.Kind != "saw" && b.Kind != "grooves" {
			word = fmt.Sprintf("%s %d", b.Kind, b.Boxes)
		}
		x := max(p.x(b.From), edge)
		if b.Kind == "grooves" || wide(word, s) > wallWide-x || x > p.x(b.To)+1 {
			continue
		}
		p.text(x, y, word, s)
		edge = x + wide(word, s) + 0.8
	}
}

func waitLane(kind string) float64 {
	switch kind {
	case "cure":
		return 1
	case "dry":
		return 2
	}
	return 0
}

// work fills a bar with the pattern of its kind.
func (p *bars) work(kind string, x, y, w, h float64) {
	p.fill(x, y, w, h, white)
	switch kind {
	case "mill":
		p.hatch(x, y, w, h, 1.6, 0.3, true)
		p.hatch(x, y, w, h, 1.6, 0.3, false)
	case "saw":
		p.fill(x, y, w, h, black)
	case "grooves":
		for at := y + 0.6; at < y+h; at += 1.1 {
			p.across(x, x+w, at, 0.4)
		}
	case "glue":
		p.hatch(x, y, w, h, 1.2, 0.4, true)
	case "sand":
		p.hatch(x, y, w, h, 2.2, 0.25, false)
	}
	p.box(x, y, w, h, 0.3)
}

// wait is a thin line: solid for wood at rest, double for a cure, dashed for
// a coat.
func (p *bars) wait(kind string, x1, y, x2 float64) {
	switch kind {
	case "rest":
		p.across(x1, x2, y, 0.5)
	case "cure":
		p.across(x1, x2, y-0.35, 0.2)
		p.across(x1, x2, y+0.35, 0.2)
	default:
		for x := x1; x < x2; x += 2 {
			p.across(x, min(x+1.2, x2), y, 0.5)
		}
	}
}

// flags mark when a job is due and when it is done.
func (p *bars) flags(r *reports.BarRow, y, high float64) {
	mark := func(x, up float64, text string, left bool) {
		p.down(x, y+0.3, y+high-0.3, 0.9)
		w := wide(text, style{true, 2.4}) + 1.6
		at := x
		if left || x+w > wallWide {
			at = x - w
		}
		p.fill(at, y+high-up-3.9, w, 3.6, white)
		p.box(at, y+high-up-3.9, w, 3.6, 0.35)
		p.text(at+0.8, y+high-up-0.9, text, style{true, 2.4})
	}
	if !r.Done.IsZero() && r.Done.Before(p.week.To) {
		mark(p.x(r.Done), 3.8, "done", true)
	}
	switch end := r.Due.AddDate(0, 0, 1); {
	case r.Due.IsZero():
	case r.Due.Before(p.week.From):
		mark(barsLabel+0.5, 0, "WAS DUE "+r.DueDate, false)
	case end.After(p.week.To):
		p.text(wallWide-wide("due "+r.DueDate, style{true, 2.2})-0.5, y+3, "due "+r.DueDate, style{true, 2.2})
	case r.Late:
		mark(p.x(end.Add(-time.Second)), 0, "DUE, LATE", true)
	default:
		mark(p.x(end.Add(-time.Second)), 0, "DUE", true)
	}
}

// load is the hours and the clamps under each day.
func (p *bars) load(bottom float64) {
	p.text(0, bottom+5.5, "Hours planned", style{true, 2.4})
	p.text(0, bottom+9, "of those there", style{false, 2})
	p.text(0, bottom+16.5, "Clamps at work", style{true, 2.4})
	p.text(0, bottom+20, fmt.Sprintf("over night, of %d", p.week.Clamps), style{false, 2})
	for k, d := range p.week.Days {
		x := barsLabel + p.day*float64(k)
		for _, h := range d.Work {
			from, to := p.x(h.From), p.x(h.To.Add(-time.Second))
			all := h.Planned + h.Free
			if all == 0 {
				continue
			}
			text := fmt.Sprintf("%.1f of %.1f", float64(h.Planned)/60, float64(all)/60)
			p.text(from, bottom+4, fitText(text, to-from+1, style{false, 2}), style{false, 2})
			p.box(from, bottom+5.5, to-from, 3.5, 0.25)
			p.fill(from, bottom+5.5, (to-from)*float64(h.Planned)/float64(all), 3.5, black)
		}
		if d.Closed == "" || d.OverNight > 0 {
			text := fmt.Sprint(d.OverNight)
			p.text(x+p.day-wide(text, style{true, 5})-1, bottom+19, text, style{true, 5})
			if p.week.Clamps > 0 {
				p.box(x+1, bottom+15, p.day*0.6, 3.5, 0.25)
				p.fill(x+1, bottom+15, p.day*0.6*float64(d.OverNight)/float64(p.week.Clamps), 3.5, black)
			}
		}
	}
	p.across(0, wallWide, bottom+11.5, 0.2)
	p.across(0, wallWide, bottom+22, 0.5)
}

// legend shows the patterns.
func (p *bars) legend(y float64) {
	x := 0.0
	for _, kind := range []string{"mill", "saw", "grooves", "glue", "sand", "coat"} {
		p.work(kind, x, y, 10, 4)
		p.text(x+11.5, y+3.2, kind, style{false, 2.6})
		x += 15 + wide(kind, style{false, 2.6})
	}
	for _, w := range [][2]string{{"rest", "wood rests"}, {"cure", "glue cures"}, {"dry", "finish dries"}} {
		p.wait(w[0], x, y+2, x+9)
		p.text(x+10.5, y+3.2, w[1], style{false, 2.6})
		x += 14 + wide(w[1], style{false, 2.6})
	}
}
