package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/reports"
)

// Batch is the batch workbook: Summary, Parts, Boards, Buy, Setups, Stacks, a
// count card a program, Time, Cautions, As read. The same plan gives the same
// bytes.
func Batch(p *jigplan.Plan) ([]byte, error) {
	b, err := planBook(p)
	if err != nil {
		return nil, err
	}
	boards, err := b.boards(p)
	if err != nil {
		return nil, err
	}
	parts, err := b.parts(p)
	if err != nil {
		return nil, err
	}
	sheets := []*sheet{b.summary(p), parts, boards, b.buy(p), b.setups(p), b.stacks(p)}
	for _, card := range reports.Cards(p) {
		s, err := b.card(card, reports.WordsOf(p))
		if err != nil {
			return nil, err
		}
		sheets = append(sheets, s)
	}
	sheets = append(sheets, b.time(p), b.cautions(reports.CautionsFor(p.Layout.Boards)), b.asRead(p.Order, reports.Problems(p)))
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the workbook: %w", err)
		}
	}
	return b.bytes()
}

func planBook(p *jigplan.Plan) (*book, error) {
	mark := ""
	if p.Partial {
		mark = reports.PartialMark
	}
	return newBook(p.Order.Settings.Units, p.Order.File, mark)
}
