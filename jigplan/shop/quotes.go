package shop

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"batchwright/orders/measure"
)

// Quote is one revision of a quote, as it was given to the customer.
type Quote struct {
	Number   string // unlike another in more than its case
	Revision int    // from 1
	At       time.Time
	Customer string
	Valid    time.Time // the last day
	File     string    // the order's
	SHA256   string
}

// QuotePapers are what belongs to a quote. The order is kept as it was read.
type QuotePapers struct {
	Order  []byte
	Record []byte // as JSON
	Offer  []byte // the customer's workbook; empty: nothing had a price
	Costs  []byte // the shop's own

	Plans map[string][]byte // the frozen plan behind each price, by what takes it; Keep takes them, QuotedPlan gives one
}

// TakenQuote is what was taken of a quote, and for how much.
type TakenQuote struct {
	Job      int64
	Number   int // the job's revision
	Quote    string
	Revision int      // the quote's
	Takes    []string // "Tea box A=25"
	Net, Tax measure.Money
	Total    measure.Money
	Deposit  measure.Money
}

// ErrOvertaken is said when somebody else kept a revision meanwhile.
var ErrOvertaken = errors.New("another revision of this quote was kept meanwhile: quote again")

// KeepQuote adds a revision of a quote; it comes right after the latest.
func KeepQuote(tx *Tx, q Quote, p QuotePapers) error {
	latest, err := LatestQuote(tx, q.Number)
	if err != nil {
		return err
	}
	last, err := tx.Last(RevisionOfQuote(q.Number), latest.Revision)
	if err != nil {
		return err
	}
	if q.Revision != last+1 {
		return fmt.Errorf("%q, revision %d: %w", q.Number, q.Revision, ErrOvertaken)
	}
	_, err = tx.Exec("INSERT INTO quotes (number, revision, at, customer, valid, file, sha256, orders, record, offer, costs) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
		q.Number, q.Revision, Time(tx.Now), q.Customer, dateText(q.Valid), q.File, q.SHA256, p.Order, p.Record, append([]byte{}, p.Offer...), p.Costs)
	if err != nil {
		return err
	}
	for _, take := range slices.Sorted(maps.Keys(p.Plans)) {
		if _, err := tx.Exec("INSERT INTO quoted_plans (quote, revision, take, plan) VALUES (?, ?, ?, ?)", q.Number, q.Revision, take, p.Plans[take]); err != nil {
			return err
		}
	}
	return nil
}

// QuotedPlan is the frozen plan behind one price of a quote; nil: none was kept.
func QuotedPlan(tx *Tx, number string, revision int, take string) (plan []byte, err error) {
	err = tx.QueryRow("SELECT plan FROM quoted_plans WHERE quote = ? AND revision = ? AND take = ?", number, revision, take).Scan(&plan)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	return plan, err
}

// Quotes lists the kept quotes, every revision, oldest first.
func Quotes(tx *Tx) ([]Quote, error) { return quotes(tx, "ORDER BY at, number, revision") }

// LatestQuote is the last revision of a quote; the zero value: there is none.
func LatestQuote(tx *Tx, number string) (Quote, error) {
	return firstQuote(quotes(tx, "WHERE number = ? ORDER BY revision DESC LIMIT 1", number))
}

// QuoteOfOrder is the last quote made of an order file; the zero value: there
// is none.
func QuoteOfOrder(tx *Tx, sha256 string) (Quote, error) {
	return firstQuote(quotes(tx, "WHERE sha256 = ? ORDER BY at DESC, revision DESC LIMIT 1", sha256))
}

func firstQuote(found []Quote, err error) (Quote, error) {
	if err != nil || len(found) == 0 {
		return Quote{}, err
	}
	return found[0], nil
}

func quotes(tx *Tx, where string, args ...any) ([]Quote, error) {
	return listRows(tx, scanQuote, "SELECT number, revision, at, customer, valid, file, sha256 FROM quotes "+where, args...)
}

func scanQuote(rows *sql.Rows) (q Quote, err error) {
	var at, valid string
	if err := rows.Scan(&q.Number, &q.Revision, &at, &q.Customer, &valid, &q.File, &q.SHA256); err != nil {
		return q, err
	}
	var faults [2]error
	q.At, faults[0] = ParseTime(at)
	q.Valid, faults[1] = parseDate(valid)
	if err := errors.Join(faults[:]...); err != nil {
		return q, fmt.Errorf("revision %d of quote %q cannot be read: %w", q.Revision, q.Number, err)
	}
	return q, nil
}

// ReadQuote gives the papers of one revision, each as it was put in.
func ReadQuote(tx *Tx, number string, revision int) (p QuotePapers, err error) {
	err = tx.QueryRow("SELECT orders, record, offer, costs FROM quotes WHERE number = ? AND revision = ?", number, revision).Scan(&p.Order, &p.Record, &p.Offer, &p.Costs)
	if errors.Is(err, sql.ErrNoRows) {
		err = fmt.Errorf("there is no revision %d of a quote %q: see quote list", revision, number)
	}
	return p, err
}

// TakeQuote keeps what a job's latest revision took of a quote.
func TakeQuote(tx *Tx, t TakenQuote) error {
	takes, err := json.Marshal(append([]string{}, t.Takes...))
	if err != nil {
		return err
	}
	_, err = tx.Exec("INSERT INTO taken (job, number, quote, revision, takes, net, tax, total, deposit) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		t.Job, t.Number, t.Quote, t.Revision, string(takes), int64(t.Net), int64(t.Tax), int64(t.Total), int64(t.Deposit))
	return err
}

// TakenBy lists what a job took, its first revision first.
func TakenBy(tx *Tx, job int64) ([]TakenQuote, error) { return takenQuotes(tx, "WHERE job = ?", job) }

// TakenOf lists what was taken of a quote, whatever revision, by jobs that were
// not cancelled and did not lapse; the first taken first.
func TakenOf(tx *Tx, quote string) ([]TakenQuote, error) {
	return takenQuotes(tx, "WHERE quote = ? AND job IN (SELECT id FROM jobs WHERE state IN ('open', 'finished'))", quote)
}

func takenQuotes(tx *Tx, where string, args ...any) ([]TakenQuote, error) {
	return listRows(tx, scanTaken, "SELECT job, number, quote, revision, takes, net, tax, total, deposit FROM taken "+where+" ORDER BY job, number", args...)
}

func scanTaken(rows *sql.Rows) (t TakenQuote, err error) {
	var takes string
	if err := rows.Scan(&t.Job, &t.Number, &t.Quote, &t.Revision, &takes, &t.Net, &t.Tax, &t.Total, &t.Deposit); err != nil {
		return t, err
	}
	if err := json.Unmarshal([]byte(takes), &t.Takes); err != nil {
		return t, fmt.Errorf("what job %d took cannot be read: %w", t.Job, err)
	}
	return t, nil
}
