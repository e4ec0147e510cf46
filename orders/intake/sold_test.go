package intake

import (
	"slices"
	"strings"
	"testing"

	"batchwright/orders"
)

// A page of sales filled in by hand: Sold, Left or both of each box; what does
// not add up or is no number is named with its cell, all of it at once.
func TestReadSold(t *testing.T) {
	const page = `Sold at the autumn market,,,,,
Box,Wood,Price,Brought,Tally,Sold,Left
Tea box,walnut,96.00,4,|||,3,
Card box,cherry,48.00,2,,,0
Card box,maple,48.00,5,,4,1
Pen tray,maple,34.00,5,,,
Salt box,maple,20.00,3,,0,3
,,,,,,
`
	rows, problems, err := ReadSold("sold.csv", []byte(page))
	if err != nil || len(rows) != 4 {
		t.Fatalf("%d rows, %v, %v", len(rows), problems, err)
	}
	for i, want := range []SoldRow{{Box: "Tea box", Wood: "walnut", Brought: 4, Sold: 3}, {Box: "Card box", Wood: "cherry", Brought: 2, Sold: 2},
		{Box: "Card box", Wood: "maple", Brought: 5, Sold: 4}, {Box: "Salt box", Wood: "maple", Brought: 3}} {
		got := rows[i]
		got.Source = orders.Source{}
		if got != want {
			t.Errorf("row %d is %+v, want %+v", i, got, want)
		}
	}
	if len(problems) != 1 || problems[0].Level != orders.Note || problems[0].Read != "Pen tray" {
		t.Errorf("of the blank row: %+v", problems)
	}

	wrong := strings.NewReplacer(",3,\n", ",six,\n", ",,0\n", ",,7\n", ",4,1\n", ",4,2\n", "34.00,5,,,", "34.00,,,2,").Replace(page)
	_, problems, _ = ReadSold("sold.csv", []byte(wrong))
	var cells []string
	for _, p := range problems {
		if p.Level == orders.Error {
			cells = append(cells, p.Source.Cell+" "+p.Did)
		}
	}
	if want := []string{"F3 not a number of boxes", "D4 2 were brought, and 7 sold or left", "D5 4 sold and 2 left do not make up 5 brought", "D6 the number brought is missing"}; !slices.Equal(cells, want) {
		t.Errorf("faults %q, want %q", cells, want)
	}
	for _, none := range []string{"Box,Count\nTea box,3\n", "nothing\n"} {
		if rows, problems, err := ReadSold("other.csv", []byte(none)); err == nil && (len(rows) > 0 || len(problems) != 1 || problems[0].Level != orders.Error) {
			t.Errorf("%q: %v, %v", none, rows, problems)
		}
	}
}
