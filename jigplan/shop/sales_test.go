package shop_test

import (
	"context"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"batchwright/jigplan/shop"
	"batchwright/orders"
)

// The latest note of a fair's box in a wood holds, whatever its case; other
// woods and other fairs stay as they are, and the earliest fair comes first.
func TestTheLatestNoteOfASaleHolds(t *testing.T) {
	s, err := shop.Open(context.Background(), filepath.Join(t.TempDir(), "shop.db"), shop.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	day := func(m time.Month) time.Time { return time.Date(2027, m, 3, 0, 0, 0, 0, time.UTC) }
	first := []orders.Sale{
		{Fair: "June fair", Day: day(6), Box: "Tea box", Wood: "cherry", Price: 9600, Home: 1, Brought: 5},
		{Fair: "June fair", Day: day(6), Box: "Tea box", Wood: "walnut", Price: 9600, Brought: 2},
		{Fair: "April fair", Day: day(4), Box: "Tea box", Wood: "cherry", Brought: 4, Sold: 0, Said: true},
	}
	again := orders.Sale{Fair: "june  FAIR", Day: day(6), Box: "tea box", Wood: "Cherry", Price: 9600, Home: 1, Brought: 5, Sold: 3, Said: true}
	var got []orders.Sale
	for _, sales := range [][]orders.Sale{first, {again}} {
		if err := s.Update(context.Background(), "test", func(tx *shop.Tx) (string, error) { return "sold", shop.AddSales(tx, sales) }); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.View(context.Background(), func(tx *shop.Tx) (err error) { got, err = shop.Sales(tx); return err }); err != nil {
		t.Fatal(err)
	}
	if want := []orders.Sale{first[2], again, first[1]}; !slices.Equal(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if got[0].Left() != 4 || got[1].Left() != 3 {
		t.Errorf("left %d and %d, want 4 (sold none) and 3 (one at home, two of five unsold)", got[0].Left(), got[1].Left())
	}
	// More sold than brought is refused by the file itself.
	wrong := orders.Sale{Fair: "June fair", Day: day(6), Box: "Tray", Brought: 1, Sold: 2, Said: true}
	if err := s.Update(context.Background(), "test", func(tx *shop.Tx) (string, error) { return "sold", shop.AddSales(tx, []orders.Sale{wrong}) }); err == nil {
		t.Error("two sold of one brought were kept")
	}
}
