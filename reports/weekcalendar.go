package reports

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"batchwright/jigplan"
)

// WeekCalendar is the week as an iCalendar file (RFC 5545): all work of the
// printed days, what cures, dries and rests meanwhile, what to order, and every
// due date. Times have no zone: they are by the clock on the shop's wall. The
// same week gives the same bytes, and an event keeps its UID when the week is
// planned again, so that a calendar replaces it.
func WeekCalendar(w *jigplan.Week) []byte {
	c := &icalendar{stamp: w.From.UTC()}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//Batchwright//Week//EN")
	c.line("CALSCALE", "GREGORIAN")
	names := map[string]string{}
	for i := range w.Jobs {
		names[w.Jobs[i].ID] = w.Jobs[i].Name
	}
	for _, g := range gangs(w) {
		c.gang(g, names[g.list[0].Job])
	}
	for _, o := range pooled(w) {
		text := "For " + o.forJobs() + ". Needed " + momentText(o.needed, w.Settings.Units) + "."
		c.day("order-"+o.id(), o.by, "Order: "+joined(" ", o.quantity(), o.What)+ofSize(o.Size), text)
	}
	for _, p := range promises(w) {
		if p.Finish.Due.IsZero() {
			continue
		}
		text := "Planned to be done " + momentText(p.Done, w.Settings.Units) + "."
		if p.Done.IsZero() {
			text = "Some of its work does not fit in."
		}
		c.day(fmt.Sprintf("due-%s-%d", p.ID, p.At), p.Finish.Due, "Due: "+p.Name, text)
	}
	c.line("END", "VCALENDAR")
	return []byte(c.text.String())
}

// icalendar writes content lines.
type icalendar struct {
	stamp time.Time
	text  strings.Builder
}

const (
	icalTime = "20060102T150405"
	icalDate = "20060102"
)

func (c *icalendar) gang(g *gang, job string) {
	b := &g.list[0]
	id, _, _ := strings.Cut(g.tasks(), ", ")
	c.event("work-"+id, b.Start, g.end, job+": "+g.what(), strings.TrimSpace("Tasks: "+g.tasks()+". "+sentence(g.then())), "OPAQUE")
	if b.Wait == 0 {
		return
	}
	boxes, ready := 0, b.Ready
	for _, one := range g.list {
		boxes, ready = boxes+one.Boxes, later(ready, one.Ready)
	}
	verb := map[jigplan.Place]string{jigplan.AtSaw: "rest", jigplan.AtClamps: "cure", jigplan.AtFinish: "dry"}[b.Place]
	what := job + ": " + Counted(boxes, "box", "boxes") + " " + verb
	if boxes == 1 {
		what = job + ": 1 box " + map[string]string{"rest": "rests", "cure": "cures", "dry": "dries"}[verb]
	} else if b.Place == jigplan.AtSaw {
		what = job + ": milled wood rests"
	}
	c.event("wait-"+id, g.end, ready, what, "Ready "+momentText(ready, g.unit)+". "+sentence(g.then()), "TRANSPARENT")
}

func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

func (c *icalendar) event(id string, from, to time.Time, summary, description, busy string) {
	c.begin(id)
	c.line("DTSTART", from.Format(icalTime))
	c.line("DTEND", to.Format(icalTime))
	c.end(summary, description, busy)
}

// day is an event of a whole day.
func (c *icalendar) day(id string, day time.Time, summary, description string) {
	c.begin(id)
	c.line("DTSTART;VALUE=DATE", day.Format(icalDate))
	c.line("DTEND;VALUE=DATE", day.AddDate(0, 0, 1).Format(icalDate))
	c.end(summary, description, "TRANSPARENT")
}

func (c *icalendar) begin(id string) {
	c.line("BEGIN", "VEVENT")
	c.line("UID", escaped(id)+"@batchwright")
	c.line("DTSTAMP", c.stamp.Format(icalTime)+"Z")
}

func (c *icalendar) end(summary, description, busy string) {
	c.line("SUMMARY", escaped(summary))
	c.line("DESCRIPTION", escaped(description))
	c.line("TRANSP", busy)
	c.line("END", "VEVENT")
}

// line folds a content line so that none is longer than 75 octets, never
// within a character (RFC 5545, section 3.1).
func (c *icalendar) line(name, value string) {
	const limit = 75
	text, room := name+":"+value, limit
	for len(text) > room {
		cut := room
		for !utf8.RuneStart(text[cut]) {
			cut--
		}
		c.text.WriteString(text[:cut] + "\r\n ")
		text, room = text[cut:], limit-1
	}
	c.text.WriteString(text + "\r\n")
}

// escaped is a text as a property value (RFC 5545, section 3.3.11). Control
// characters are not allowed in one.
func escaped(text string) string {
	text = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(text)
}
