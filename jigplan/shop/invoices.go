package shop

import (
	"database/sql"
	"fmt"
	"time"

	"batchwright/orders/measure"
)

// Issued is an invoice as it was given to the customer.
type Issued struct {
	Number int
	Quote  string
	Job    int64
	Record []byte // as JSON
}

// Payment is money that came in for a quote; below zero: paid back.
type Payment struct {
	Quote  string
	Job    int64
	Day    time.Time // midnight UTC
	Amount measure.Money
	Note   string
}

// Answer is what a customer said to a revision of a quote.
type Answer struct {
	Quote    string
	Revision int
	Declined bool // false: open again
	Why      string
}

// NextInvoice is the number of the next invoice: the one wanted, or the one
// after the highest ever given.
func NextInvoice(tx *Tx, wanted int) (int, error) {
	var last int
	if err := tx.QueryRow("SELECT coalesce(max(number), 0) FROM invoices").Scan(&last); err != nil {
		return 0, err
	}
	last, err := tx.Last(numbered["invoices"].what, last)
	return max(wanted, last+1), err
}

// KeepInvoice keeps an invoice under its number for good.
func KeepInvoice(tx *Tx, v Issued) error {
	_, err := tx.Exec("INSERT INTO invoices (number, at, quote, job, record) VALUES (?, ?, ?, ?, ?)", v.Number, Time(tx.Now), v.Quote, v.Job, string(v.Record))
	return err
}

// Invoices are those of what one job took of a quote, by number.
func Invoices(tx *Tx, quote string, job int64) ([]Issued, error) {
	return listRows(tx, func(rows *sql.Rows) (v Issued, err error) {
		return v, rows.Scan(&v.Number, &v.Quote, &v.Job, &v.Record)
	}, "SELECT number, quote, job, record FROM invoices WHERE quote = ? AND job = ? ORDER BY number", quote, job)
}

// KeepPayment notes money that came in.
func KeepPayment(tx *Tx, p Payment) error {
	_, err := tx.Exec("INSERT INTO payments (at, quote, job, day, amount, note) VALUES (?, ?, ?, ?, ?, ?)",
		Time(tx.Now), p.Quote, p.Job, dateText(p.Day), int64(p.Amount), p.Note)
	return err
}

// Payments are those for what one job took of a quote, by day.
func Payments(tx *Tx, quote string, job int64) ([]Payment, error) {
	return listRows(tx, func(rows *sql.Rows) (p Payment, err error) {
		var day string
		if err := rows.Scan(&p.Quote, &p.Job, &day, &p.Amount, &p.Note); err != nil {
			return p, err
		}
		if p.Day, err = parseDate(day); err != nil {
			return p, fmt.Errorf("a payment for quote %q cannot be read: %w", quote, err)
		}
		return p, nil
	}, "SELECT quote, job, day, amount, note FROM payments WHERE quote = ? AND job = ? ORDER BY day, id", quote, job)
}

// KeepAnswer notes what the customer said.
func KeepAnswer(tx *Tx, a Answer) error {
	_, err := tx.Exec("INSERT INTO answers (at, quote, revision, declined, why) VALUES (?, ?, ?, ?, ?)", Time(tx.Now), a.Quote, a.Revision, a.Declined, a.Why)
	return err
}

// AnswerTo is the last answer to a revision; the zero value: there is none.
func AnswerTo(tx *Tx, quote string, revision int) (Answer, error) {
	all, err := listRows(tx, func(rows *sql.Rows) (a Answer, err error) {
		return a, rows.Scan(&a.Quote, &a.Revision, &a.Declined, &a.Why)
	}, "SELECT quote, revision, declined, why FROM answers WHERE quote = ? AND revision = ? ORDER BY id DESC LIMIT 1", quote, revision)
	if err != nil || len(all) == 0 {
		return Answer{}, err
	}
	return all[0], nil
}
