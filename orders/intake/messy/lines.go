package messy

import (
	"fmt"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Lines writes out all that an order was read as, a line each: boxes, loose
// parts, boards, and the settings that a row gave.
func Lines(o *orders.Order) []string {
	var out []string
	for _, b := range o.Boxes {
		out = append(out, boxLine(b))
	}
	for _, p := range o.Loose {
		out = append(out, with(fmt.Sprintf("part %s: %d of %s x %s x %s %s, grain %s", p.Name, p.Count, show(p.Length), show(p.Width), show(p.Thickness), p.Wood, p.Grain), "note", p.Notes))
	}
	for _, b := range append(append([]orders.Board(nil), o.Rack...), o.Yard...) {
		out = append(out, boardLine(b))
	}
	for _, s := range o.Settings.Used() {
		if !s.Given {
			continue
		}
		value := fmt.Sprint(s.Value)
		if l, ok := s.Value.(measure.Length); ok {
			value = l.DecimalInches()
			if strings.HasPrefix(value, measure.About) {
				value = show(l)
			}
		}
		out = append(out, "set "+s.Name+" = "+value)
	}
	return out
}

func boxLine(b orders.Box) string {
	measured := "outside"
	if b.Inside {
		measured = "inside"
	}
	line := fmt.Sprintf("%s: %d of %s x %s x %s %s, %s %s", b.Name, b.Count, show(b.Length), show(b.Width), show(b.Height), measured, show(b.Thickness), b.Wood)
	if b.Spare > 0 {
		line += fmt.Sprintf("; spare %d", b.Spare)
	}
	if b.EndThickness != b.Thickness {
		line += "; ends " + show(b.EndThickness)
	}
	line = with(line, "finger", length(b.Finger))
	line = with(line, "may vary", length(b.HeightMayVary))
	line = panel(line, "bottom", string(b.Bottom.Kind), b.Bottom.Thickness, b.Bottom.Wood)
	line = panel(line, "lid", string(b.Lid.Kind), b.Lid.Thickness, b.Lid.Wood)
	if b.Dividers.Along > 0 {
		line += fmt.Sprintf("; dividers %d x %d", b.Dividers.Along, b.Dividers.Across)
	}
	if b.Matched {
		line += "; matched"
	}
	line = with(line, "finish", b.Finish)
	line = with(line, "for", b.Customer)
	if !b.Due.IsZero() {
		line += "; due " + b.Due.Format("2006-01-02")
	}
	if b.Price != 0 {
		line += "; price " + b.Price.String()
	}
	if len(b.Quantities) > 0 {
		line += "; quantities " + strings.Trim(fmt.Sprint(b.Quantities), "[]")
	}
	return with(line, "note", strings.ReplaceAll(b.Notes, "\n", `\n`))
}

func boardLine(b orders.Board) string {
	where, count := map[orders.BoardOrigin]string{orders.FromRack: "rack", orders.FromYard: "yard"}[b.Origin], fmt.Sprint(b.Count)
	if b.Unlimited {
		count = "any"
	}
	thickness := strings.TrimSpace(b.Class + " " + length(b.Thickness))
	line := fmt.Sprintf("%s %s: %s of %s %s, %s x %s", where, b.ID, count, b.Wood, thickness, show(b.Length), show(b.Width))
	if b.CostKnown {
		line += "; cost " + b.Cost.String()
	}
	for _, d := range b.Defects {
		line += fmt.Sprintf("; defect %s to %s across %s to %s", show(d.X), show(d.X+d.Length), show(d.Y), show(d.Y+d.Width))
	}
	line = with(line, "place", b.Place)
	if !b.Arrives.IsZero() {
		line += "; arrives " + b.Arrives.Format("2006-01-02")
	}
	return line
}

func with(line, name, value string) string {
	if value == "" {
		return line
	}
	return line + "; " + name + " " + value
}

func panel(line, name, kind string, thickness measure.Length, wood string) string {
	if kind == "none" || kind == "" {
		return line
	}
	return line + "; " + strings.Join(strings.Fields(name+" "+kind+" "+length(thickness)+" "+wood), " ")
}

// show is a length in inches where it is a whole 64th, else in millimetres.
func show(l measure.Length) string {
	if l%(measure.Inch/64) != 0 {
		return l.Ratio().Decimal() + " mm"
	}
	return l.Fraction()
}

// length is a length that may not be given.
func length(l measure.Length) string {
	if l == 0 {
		return ""
	}
	return show(l)
}
