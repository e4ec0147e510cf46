package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// The columns of the mix.
const (
	mixBox = iota
	mixWood
	mixPrice
	mixNew
	mixHalf
	mixMade
	mixBring
	mixSold
	mixFor
	mixSpentNew
	mixSpentHalf
	mixSpentMade
	mixHome
	mixSoldBring
	mixBrings
	mixColumns
)

// fairMix is the mix with figures to change: counts and prices in frames, and
// what follows from them. Woods of one box share its demand in step with how
// many of each are brought.
func (b *book) fairMix(f *jigplan.Fair, demand *demandSheet) *sheet {
	s := &sheet{name: "Mix", landscape: true, fit: true, widths: []float64{17, 12, 9, 7, 9, 8, 7, 8, 10, 9, 9, 9, 9, 10, 11}}
	r := &f.Order.Settings.Rates
	b.title(s, "The mix, to change and see")
	s.paragraph("Outlined cells may be changed; the rest follows. To check that a changed mix can be made, change the catalog and run fair again.")
	s.head([]string{"Box", "Wood", "Price", "Make", "Finish half-made", "From stock", "Bring", "Sold", "For", "Spent on a new one", "on a half-made one", "on one from stock", "Worth carried home", "Sold ones bring", "Brings"}, ones(mixColumns), numbersFrom(mixPrice, mixColumns)...)
	first := s.next()
	for from := 0; from < len(f.Stalls); {
		to := from
		for to < len(f.Stalls) && f.Stalls[to].Line == f.Stalls[from].Line {
			to++
		}
		b.mixLine(s, f, demand, from, to)
		from = to
	}
	last := s.next() - 1
	s.gap(2)
	column := func(col int) string { return fmt.Sprintf("SUM(%s:%s)", ref(col, first), ref(col, last)) }
	figures := style{rim: thin, across: right, single: true, format: "#,##0.0"}
	whole := style{rim: thin, across: right, single: true, format: "0"}
	total := func(name string, value any, st style) string {
		at := ref(mixBrings, s.next())
		s.add(cell{mixFor, mixBrings - mixFor, name, style{rim: thin, bold: true, across: right}}, cell{mixBrings, 1, value, st})
		return at
	}
	sums := mixSums(f, demand)
	total("Boxes brought", formula{column(mixBring), float64(sums.brought)}, whole)
	sold := total("Sold on average", formula{column(mixSold), sums.sold}, figures)
	total("For", formula{column(mixFor), sums.revenue}, moneyStyle)
	soldBring := total("Sold ones bring", formula{column(mixSoldBring), sums.soldBring}, moneyStyle)
	brings := total("All of them earn", formula{column(mixBrings), sums.brings}, moneyStyle)
	together := total("Saved by nesting together", money(f.Together), input("#,##0.00"))
	fixed := []float64{money(r.StallCost), money(r.TravelCost), money(r.Labour.At(measure.Exact(r.StandHours)))}
	stall := total("Stall", fixed[0], input("#,##0.00"))
	travel := total("Travel", fixed[1], input("#,##0.00"))
	stand := total("Booth hours, paid", fixed[2], input("#,##0.00"))
	costs := fmt.Sprintf("(%s+%s+%s)", stall, travel, stand)
	total("Expected profit", formula{brings + "+" + together + "-" + costs, sums.brings + money(f.Together) - fixed[0] - fixed[1] - fixed[2]}, style{rim: thick, across: right, single: true, bold: true, format: "#,##0.00"})
	total("Boxes to sell until the fair is paid", formula{fmt.Sprintf("IF(%[1]s<=0,0,ROUNDUP(%[2]s/(%[1]s/%[3]s)-0.000000001,0))", soldBring, costs, sold), float64(f.Even)}, whole)
	return s
}

// mixLine writes the rows of one box: one a wood.
func (b *book) mixLine(s *sheet, f *jigplan.Fair, demand *demandSheet, from, to int) {
	top := s.next()
	all := fmt.Sprintf("SUM(%s:%s)", ref(mixBring, top), ref(mixBring, top+to-from-1))
	r := &f.Order.Settings.Rates
	fee := figureText(r.FeeOfPrice())
	for i := from; i < to; i++ {
		st, row := &f.Stalls[i], s.next()
		m := mixFigures(f, demand, from, to, i)
		at := func(col int) string { return ref(col, row) }
		takings := at(mixPrice)
		if r.TaxInside() {
			takings = fmt.Sprintf("(%s-%s)", takings, taxInside(takings, r))
		}
		net := fmt.Sprintf("(%s-%s)", takings, toCents(at(mixPrice)+"*"+fee))
		spent := fmt.Sprintf("(%s*%s+%s*%s+%s*%s)", at(mixNew), at(mixSpentNew), at(mixHalf), at(mixSpentHalf), at(mixMade), at(mixSpentMade))
		text, whole := style{rim: thin}, input("0")
		s.add(cell{mixBox, 1, st.Name, style{rim: thin, bold: true}}, cell{mixWood, 1, st.Wood, text}, cell{mixPrice, 1, money(st.Price), input("#,##0.00")},
			cell{mixNew, 1, st.New, whole}, cell{mixHalf, 1, st.Half, whole}, cell{mixMade, 1, st.Made, whole},
			cell{mixBring, 1, formula{at(mixNew) + "+" + at(mixHalf) + "+" + at(mixMade), float64(st.Brought())}, style{rim: thin, across: right, single: true, format: "0"}},
			cell{mixSold, 1, formula{fmt.Sprintf("IF(%[1]s=0,0,%[2]s*%[3]s/%[1]s)", all, demand.sold(st.Line, all), at(mixBring)), m.sold}, style{rim: thin, across: right, single: true, format: "0.00"}},
			cell{mixFor, 1, formula{at(mixSold) + "*" + takings, m.revenue}, moneyStyle},
			cell{mixSpentNew, 1, money(st.Material), moneyStyle}, cell{mixSpentHalf, 1, money(max(st.Keep, st.Finishing)), moneyStyle},
			cell{mixSpentMade, 1, money(st.Keep), moneyStyle}, cell{mixHome, 1, money(st.Home), moneyStyle},
			cell{mixSoldBring, 1, formula{fmt.Sprintf("IF(%[1]s=0,0,%[2]s*(%[3]s-%[4]s/%[1]s))", at(mixBring), at(mixSold), net, spent), m.soldBring}, moneyStyle},
			cell{mixBrings, 1, formula{fmt.Sprintf("%s*%s+(%s-%s)*%s-%s", at(mixSold), net, at(mixBring), at(mixSold), at(mixHome), spent), m.brings}, moneyStyle})
	}
}

// mixed is what a row, or all of them, come to; money in whole units.
type mixed struct {
	brought                          int
	sold, revenue, soldBring, brings float64
}

// mixFigures is row i of the box whose rows are from to to.
func mixFigures(f *jigplan.Fair, demand *demandSheet, from, to, i int) mixed {
	all := 0
	for k := from; k < to; k++ {
		all += f.Stalls[k].Brought()
	}
	st := &f.Stalls[i]
	m := mixed{brought: st.Brought()}
	if m.brought == 0 {
		return m
	}
	r := &f.Order.Settings.Rates
	tax, left := r.Takings(st.Price)
	net := money(left)
	spent := float64(st.New)*money(st.Material) + float64(st.Half)*money(max(st.Keep, st.Finishing)) + float64(st.Made)*money(st.Keep)
	m.sold = demand.soldOf(st.Line, all) * float64(m.brought) / float64(all)
	m.revenue = m.sold * money(st.Price-tax)
	m.soldBring = m.sold * (net - spent/float64(m.brought))
	m.brings = m.sold*net + (float64(m.brought)-m.sold)*money(st.Home) - spent
	return m
}

func mixSums(f *jigplan.Fair, demand *demandSheet) (sum mixed) {
	for from := 0; from < len(f.Stalls); {
		to := from
		for to < len(f.Stalls) && f.Stalls[to].Line == f.Stalls[from].Line {
			to++
		}
		for i := from; i < to; i++ {
			m := mixFigures(f, demand, from, to, i)
			sum.brought += m.brought
			sum.sold, sum.revenue, sum.soldBring, sum.brings = sum.sold+m.sold, sum.revenue+m.revenue, sum.soldBring+m.soldBring, sum.brings+m.brings
		}
		from = to
	}
	return sum
}

// tagsAcross is how many price tags stand side by side.
const tagsAcross = 2

// priceTags are cards to cut out and fold, one for every box brought.
func (b *book) priceTags(f *jigplan.Fair) *sheet {
	s := &sheet{name: "Price tags", widths: []float64{36, 4, 36}}
	w := reports.Words{Unit: f.Order.Settings.Units}
	var tags []*jigplan.Stall
	for i := range f.Stalls {
		for range f.Stalls[i].Brought() {
			tags = append(tags, &f.Stalls[i])
		}
	}
	shop := joined(" · ", f.Order.Settings.Rates.ShopName, f.Order.Settings.Rates.TaxNote(w.Unit))
	for i := 0; i < len(tags); i += tagsAcross {
		pair := tags[i:min(i+tagsAcross, len(tags))]
		s.together(func() {
			rows := [4][]cell{}
			for k, t := range pair {
				col := 2 * k
				rows[0] = append(rows[0], cell{col, 1, t.Name, style{bold: true, size: 14, across: centre, shrink: true, rim: thin}})
				rows[1] = append(rows[1], cell{col, 1, reports.TagText(t, w), style{size: 9, across: centre, rim: thin, middle: true}})
				rows[2] = append(rows[2], cell{col, 1, reports.Money(&f.Order.Settings, t.Price), style{bold: true, size: 24, across: centre, single: true, rim: thin, middle: true}})
				rows[3] = append(rows[3], cell{col, 1, shop, style{size: 9, across: centre, single: true, rim: thin, middle: true}})
			}
			s.addTall(24, rows[0]...)
			s.addTall(30, rows[1]...)
			s.addTall(42, rows[2]...)
			if shop != "" {
				s.addTall(16, rows[3]...)
			}
			s.addTall(14)
		})
	}
	return s
}
