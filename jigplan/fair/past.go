package fair

import (
	"fmt"
	"time"

	"batchwright/jigplan"
	"batchwright/orders"
	"batchwright/orders/woods"
)

// earlier reports whether a note of sales is of a fair before this one.
func (f *fairing) earlier(s *orders.Sale) bool {
	r := &f.set.Rates
	if r.FairDate.IsZero() {
		return orders.NameKey(s.Fair) != orders.NameKey(r.FairName)
	}
	return s.Day.Before(r.FairDate)
}

// learn sharpens the guess of a line by what earlier fairs sold of it.
func (f *fairing) learn(line int, guess Demand) Demand {
	name := orders.NameKey(f.Order.Candidates[line].Name)
	var past []jigplan.Past
	for i := range f.Sales {
		s := &f.Sales[i]
		if !s.Said || s.Brought == 0 || !f.earlier(s) || orders.NameKey(s.Box) != name {
			continue
		}
		last := len(past) - 1
		if last < 0 || past[last].Fair != s.Fair || !past[last].Day.Equal(s.Day) {
			past = append(past, jigplan.Past{Line: line, Fair: s.Fair, Day: s.Day})
			last++
		}
		past[last].Brought += s.Brought
		past[last].Sold += s.Sold
	}
	var seen []Seen
	for _, p := range past {
		seen = append(seen, Seen{Sold: p.Sold, SoldOut: p.Sold == p.Brought})
	}
	f.fair.Past = append(f.fair.Past, past...)
	return guess.Learn(seen, f.set.Rates.GuessWeighs)
}

// leftover is the last note of each box and wood whose sales are known, by key.
func (f *fairing) leftover() map[[2]string]*orders.Sale {
	out := map[[2]string]*orders.Sale{}
	for i := range f.Sales {
		if s := &f.Sales[i]; s.Said && f.earlier(s) {
			out[[2]string{orders.NameKey(s.Box), woods.Key(s.Wood)}] = s
		}
	}
	return out
}

// inHand counts the finished boxes of a line: as the catalog says, else as
// the last fair left them.
func (f *fairing) inHand(line int) {
	c := &f.Order.Candidates[line]
	first := &f.ways[f.lines[line][0]]
	first.InHand = c.Made
	if c.MadeSaid {
		return
	}
	left := f.leftover()
	for _, at := range f.lines[line] {
		w := &f.ways[at]
		s := left[[2]string{orders.NameKey(w.Name), woods.Key(w.Wood)}]
		if s == nil || s.Left() == 0 {
			continue
		}
		w.InHand = s.Left()
		f.problem(orders.Note, c.Source, w.Name, fmt.Sprintf("%d in %s are left over from %s of %s", s.Left(), w.Wood, s.Fair, s.Day.Format(time.DateOnly)), "write Made in the catalog if that has changed")
	}
}

// strays names finished boxes that earlier fairs left and the catalog has no
// row or wood for, and fairs of which nobody said what was sold.
func (f *fairing) strays() {
	offered, lines := map[[2]string]bool{}, map[string]*orders.Candidate{}
	for i := range f.ways {
		w := &f.ways[i]
		offered[[2]string{orders.NameKey(w.Name), woods.Key(w.Wood)}] = true
		lines[orders.NameKey(w.Name)] = &f.Order.Candidates[w.Line]
	}
	left := f.leftover()
	for i := range f.Sales {
		s := &f.Sales[i]
		key := [2]string{orders.NameKey(s.Box), woods.Key(s.Wood)}
		if left[key] != s || s.Left() == 0 || offered[key] {
			continue
		}
		if c := lines[key[0]]; c == nil {
			f.problem(orders.Note, orders.Source{Sheet: "Catalog"}, s.Box, fmt.Sprintf("%d in %s are left over and not in the catalog", s.Left(), s.Wood), "add a row for it to bring them")
		} else if !c.MadeSaid {
			f.problem(orders.Warning, c.Source, s.Box, fmt.Sprintf("%d in %s are left over and %s is not among its woods: not brought", s.Left(), s.Wood, s.Wood), "add the wood to Woods")
		}
	}
	for i := range f.Sales {
		if s := &f.Sales[i]; !s.Said && s.Brought > 0 && f.earlier(s) {
			f.problem(orders.Warning, orders.Source{Sheet: "Catalog"}, s.Fair, "sales of that fair were never logged: its sales and leftovers are not counted", "note it with log sold")
			return
		}
	}
}

// Given is what a fair's mix brings and leaves at home, to be kept until what it
// sold is known. A fair without a name or a date is known by that day.
func Given(f *jigplan.Fair, today time.Time) (out []orders.Sale) {
	r := &f.Order.Settings.Rates
	name, day := r.FairName, r.FairDate
	if name == "" {
		name = "fair"
	}
	if day.IsZero() {
		day = today
	}
	for i := range f.Stalls {
		s := &f.Stalls[i]
		home := s.InHand - s.Made
		if s.Brought() > 0 || home > 0 {
			out = append(out, orders.Sale{Fair: name, Day: day, Box: s.Name, Wood: s.Wood, Price: s.Price, Home: home, Brought: s.Brought()})
		}
	}
	return out
}
