package reports

import (
	"fmt"

	"batchwright/orders"
	"batchwright/orders/measure"
)

// Sales is what fairs sold and left, as it was noted.
func Sales(sales []orders.Sale, unit measure.Unit) Table {
	t := Table{Title: "What fairs sold", Head: []string{"Day", "Fair", "Box", "Wood", "Price", "Brought", "Sold", "Left, with those at home"}, Numbers: []int{4, 5, 6, 7}}
	brought, sold, open := 0, 0, false
	var money measure.Money
	for i := range sales {
		s := &sales[i]
		if s.Brought == 0 && s.Home == 0 {
			continue
		}
		n, left := "not said", ""
		if s.Said {
			n, left = fmt.Sprint(s.Sold), fmt.Sprint(s.Left())
			brought, sold, money = brought+s.Brought, sold+s.Sold, money+s.Price*measure.Money(s.Sold)
		}
		open = open || !s.Said
		price := ""
		if s.Price > 0 {
			price = s.Price.In(unit)
		}
		t.Add(unit.Date(s.Day), s.Fair, s.Box, s.Wood, price, s.Brought, n, left)
	}
	if brought > 0 {
		t.Note(fmt.Sprintf("Sold %d of %d, for %s at the prices known.", sold, brought, money.In(unit)))
	}
	if open {
		t.Note("Not logged: use log sold or log left; until then these sales are not used and leftovers are not counted.")
	}
	return t
}
