package workbook

import (
	"fmt"

	"batchwright/jigplan"
	"batchwright/reports"
)

// Batch is the batch workbook: what is carried, in the order it is used. Time is
// for the screen, and of As read only errors and warnings are printed. The same
// plan gives the same bytes.
func Batch(p *jigplan.Plan) ([]byte, error) {
	b, err := planBook(p)
	if err != nil {
		return nil, err
	}
	sheets, err := b.batchSheets(p)
	if err != nil {
		return nil, err
	}
	for _, s := range sheets {
		if err := b.emit(s); err != nil {
			return nil, fmt.Errorf("write the workbook: %w", err)
		}
	}
	return b.bytes()
}

func (b *book) batchSheets(p *jigplan.Plan) ([]*sheet, error) {
	summary, err := b.summary(p)
	if err != nil {
		return nil, err
	}
	boards, err := b.boards(p)
	if err != nil {
		return nil, err
	}
	sheets := []*sheet{summary, b.buy(p), b.parts(p), boards, b.setups(p)}
	for _, card := range reports.Cards(p) {
		s, err := b.card(card, reports.WordsOf(p))
		if err != nil {
			return nil, err
		}
		sheets = append(sheets, s)
	}
	making, err := b.making(p)
	if err != nil {
		return nil, err
	}
	return append(sheets, making, b.time(p), b.cautions(reports.CautionsFor(p.Layout.Boards, p.Order.Settings.Units)), b.asRead(p)), nil
}

func planBook(p *jigplan.Plan) (*book, error) {
	mark := ""
	if p.Partial {
		mark = reports.PartialMark
	}
	return newBook(p.Order.Settings.Units, p.Order.File, mark)
}
