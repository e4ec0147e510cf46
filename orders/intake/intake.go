// Package intake reads an order workbook into an orders.Order and cites every
// problem by sheet and cell; it also writes the blank order workbook. It opens
// no file and plans nothing: it leaves sizes to parts and wood to cutting.
package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path/filepath"
	"strings"

	"batchwright/orders"
	"batchwright/orders/settings"
)

// MaxRows bounds the lines of one order. More is refused with the number.
const MaxRows = 50_000

// Refusal is a file that cannot be read as an order at all.
type Refusal struct {
	File string
	What string // what the file is: "a password-protected workbook"
	Fix  string // the next step
}

func (e *Refusal) Error() string { return fmt.Sprintf("%q is %s: %s", e.File, e.What, e.Fix) }

// Read understands one order file. The error is always a *Refusal; everything
// wrong inside a readable order stands in its Findings instead. base is what
// holds where the order says nothing. only names the sheet of boxes or parts to
// read where there are several; none: all that have a known name, else the only one.
func Read(name string, data []byte, base settings.Shop, only ...string) (order *orders.Order, err error) {
	return read(name, data, base, func(*book) {}, only...)
}

// read is Read with a change made to the file before it is understood.
func read(name string, data []byte, base settings.Shop, change func(*book), only ...string) (order *orders.Order, err error) {
	file := filepath.Base(name)
	defer func() {
		if r := recover(); r != nil {
			order, err = nil, &Refusal{file, "damaged in a way that stopped the reading", fmt.Sprintf("save it again as .xlsx (%v)", r)}
		}
	}()
	b, err := open(file, data)
	if err != nil {
		return nil, err
	}
	if b.isBatch() {
		return nil, &Refusal{file, "a batch workbook, which this program wrote, not an order", "name the order that it was made from"}
	}
	change(b)
	order = &orders.Order{File: file, SHA256: sum(data), Settings: base.Clone()}
	r := &reader{order: order, book: b, only: strings.Join(only, "")}
	r.readAll()
	return order, nil
}

// Order is an order whose only problem is the refusal, for those who list
// problems and do not stop at them.
func (e *Refusal) Order(data []byte) *orders.Order {
	return &orders.Order{File: e.File, SHA256: sum(data), Settings: settings.Default(),
		Findings: []orders.Finding{{Level: orders.Error, Read: e.File, Did: "not read: it is " + e.What, Fix: e.Fix}}}
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}
