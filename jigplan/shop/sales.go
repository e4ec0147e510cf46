package shop

import (
	"database/sql"
	"fmt"
	"strings"
	"time"

	"batchwright/orders"
	"batchwright/orders/woods"
)

// AddSales notes what was brought to a fair, or what was sold of it. A later
// note of the same fair, box and wood goes before an earlier one.
func AddSales(tx *Tx, sales []orders.Sale) error {
	for i := range sales {
		s := &sales[i]
		sold := sql.NullInt64{Int64: int64(s.Sold), Valid: s.Said}
		if _, err := tx.Exec("INSERT INTO sales (at, fair, day, box, wood, price, home, brought, sold) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
			Time(tx.Now), s.Fair, s.Day.Format(time.DateOnly), s.Box, s.Wood, int64(s.Price), s.Home, s.Brought, sold); err != nil {
			return fmt.Errorf("note what was sold of %q: %w", s.Box, err)
		}
	}
	return nil
}

// Sales is what holds of every fair's boxes, the earliest fair first, its boxes
// as they were first noted.
func Sales(tx *Tx) ([]orders.Sale, error) {
	noted, err := listRows(tx, scanSale, "SELECT fair, day, box, wood, price, home, brought, sold FROM sales ORDER BY day, id")
	var out []orders.Sale
	at := map[string]int{}
	for _, s := range noted {
		key := strings.Join([]string{dateText(s.Day), orders.NameKey(s.Fair), orders.NameKey(s.Box), woods.Key(s.Wood)}, "\x00")
		if k, known := at[key]; known {
			out[k] = s
			continue
		}
		at[key] = len(out)
		out = append(out, s)
	}
	return out, err
}

func scanSale(rows *sql.Rows) (s orders.Sale, err error) {
	var day string
	var sold sql.NullInt64
	if err := rows.Scan(&s.Fair, &day, &s.Box, &s.Wood, &s.Price, &s.Home, &s.Brought, &sold); err != nil {
		return s, err
	}
	if s.Day, err = time.Parse(time.DateOnly, day); err != nil {
		return s, fmt.Errorf("read what was sold of %q: %w", s.Box, err)
	}
	s.Sold, s.Said = int(sold.Int64), sold.Valid
	return s, nil
}
