package orders

import (
	"strings"
	"time"

	"batchwright/orders/measure"
)

// Sale is what became of one box in one wood at one fair.
type Sale struct {
	Fair    string
	Day     time.Time // the fair's first day, midnight UTC
	Box     string
	Wood    string
	Price   measure.Money
	Home    int // finished ones that stayed at home
	Brought int
	Sold    int
	Said    bool // how many were sold is known
}

// Left is how many finished ones there are after the fair, at home and
// carried home.
func (s *Sale) Left() int { return s.Home + s.Brought - s.Sold }

// NameKey is a fair's or a box's name without its case and spare spaces: two
// spellings of one name have one key.
func NameKey(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(name), " "))
}
