package shop

import (
	"database/sql"
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/woods"
)

const yardColumns = "id, count, wood, class, thickness, length, width, cost, place, arrives, sheet, defects"

// SetYard makes these lines what can be bought, in place of those before.
func SetYard(tx *Tx, lines []orders.Board) error {
	if _, err := tx.Exec("DELETE FROM yard"); err != nil {
		return err
	}
	for n, b := range lines {
		count := sql.NullInt64{Int64: int64(b.Count), Valid: !b.Unlimited}
		arrives := ""
		if !b.Arrives.IsZero() {
			arrives = b.Arrives.Format(time.DateOnly)
		}
		_, err := tx.Exec("INSERT INTO yard (line, "+yardColumns+") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
			n+1, b.ID, count, woods.Name(b.Wood), b.Class, int64(b.Thickness), int64(b.Length), int64(b.Width), costOf(b),
			b.Place, arrives, b.Sheet, writeDefects(b.Defects))
		if err != nil {
			return err
		}
	}
	return nil
}

// Yard gives what can be bought, in the order of the list it was read from.
func Yard(tx *Tx) (out []orders.Board, err error) {
	err = tx.Each(func(rows *sql.Rows) error {
		b := orders.Board{Origin: orders.FromYard}
		var count, cost sql.NullInt64
		var thickness, length, width int64
		var arrives, defects string
		err := rows.Scan(&b.ID, &count, &b.Wood, &b.Class, &thickness, &length, &width, &cost, &b.Place, &arrives, &b.Sheet, &defects)
		if err != nil {
			return err
		}
		b.Count, b.Unlimited = int(count.Int64), !count.Valid
		b.Thickness, b.Length, b.Width = measure.Length(thickness), measure.Length(length), measure.Length(width)
		b.Cost, b.CostKnown = measure.Money(cost.Int64), cost.Valid
		if arrives != "" {
			if b.Arrives, err = time.Parse(time.DateOnly, arrives); err != nil {
				return err
			}
		}
		b.Defects, err = readDefects(defects)
		out = append(out, b)
		return err
	}, "SELECT "+yardColumns+" FROM yard ORDER BY line")
	return out, err
}
