package document

import (
	"encoding/json"

	"batchwright/orders"
)

// Sales is what fairs sold, version 1.
type Sales struct {
	Version int    `json:"version"`
	Sales   []Sale `json:"sales"`
}

// Sale is one box in one wood at one fair.
type Sale struct {
	Fair    string      `json:"fair"`
	Date    string      `json:"date"`
	Box     string      `json:"box"`
	Wood    string      `json:"wood"`
	Price   json.Number `json:"price"`
	Brought int         `json:"brought"`
	Said    bool        `json:"said"` // sold and left are known
	Sold    int         `json:"sold"`
	Left    int         `json:"left"` // with those that stayed at home; 0 where it is not known
}

// OfSales is what fairs sold as a document.
func OfSales(sales []orders.Sale) Sales {
	return Sales{1, each(sales, func(s *orders.Sale) Sale {
		left := 0
		if s.Said {
			left = s.Left()
		}
		return Sale{s.Fair, date(s.Day), s.Box, s.Wood, money(s.Price), s.Brought, s.Said, s.Sold, left}
	})}
}
