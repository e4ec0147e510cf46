package main

// quoteOrders are what the Larkbeck Box Shop, an invented shop, is asked to
// quote, and what it thinks of making for a fair.
func quoteOrders() []orderBook {
	return []orderBook{quoteOne(), quoteForty(), fairCatalog()}
}

// quoteRates are the shop's rates, as its owner keeps them.
func quoteRates(more ...[]any) orderSheet {
	rows := [][]any{
		{"Setting", "Value", "Unit", "Remark"},
		{"Blade kerf", 0.0955, "in", "measured after sharpening"},
		{"Currency", "USD", nil, nil},
		{"Labor rate", 32, "an hour", nil},
		{"Overhead a year", 9600, nil, "rent, heat, insurance, machines"},
		{"Hours a year", 1200, "h", "at the bench and the saw"},
		{"Glue price", 14, "a kg", nil},
		{"Finish price", 38, "a litre", "oil"},
		{"Abrasive price", 0.9, "a sheet", nil},
		{"Nail price", 2.4, "a hundred", nil},
		{"Hinge price", 3.75, "each", "brass"},
		{"Catch price", 2.2, "each", nil},
		{"Sharpening price", 28, nil, nil},
		{"Cuts per sharpening", 4000, nil, nil},
		{"Shop name", "Larkbeck Box Shop", nil, nil},
		{"Shop address", "The Old Dairy, Larkbeck", nil, nil},
	}
	return orderSheet{name: "Shop", widths: map[string]float64{"A": 24, "B": 18, "D": 34}, rows: append(rows, more...)}
}

// quoteOne is one box for one person, in two woods or with another lid.
func quoteOne() orderBook {
	head := []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Finger", "Bottom", "Lid", "Grain", "Finish", "Customer", "Notes"}
	customer := "Maren Oakhollow"
	return orderBook{file: "quote-one.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"A": 16, "J": 24, "K": 24, "N": 20, "O": 30}, rows: [][]any{
			head,
			{"Letter box", 1, 10, "6-1/2", "3-1/2", "inside", "1/2", "walnut", "1/4", "groove 1/4 birch plywood", "hinged 1/2", "matched", "oil", customer, "for letters folded once"},
			{"Letter box", 1, 10, "6-1/2", "3-1/2", "inside", "1/2", "cherry", "1/4", "groove 1/4 birch plywood", "hinged 1/2", "matched", "oil", customer, nil},
			{"Letter box", 1, 10, "6-1/2", "3-1/2", "inside", "1/2", "cherry", "1/4", "groove 1/4 birch plywood", "lift-off 1/2", "matched", "oil", customer, "no hinges to rust"},
		}},
		demoRack(), demoYard(),
		quoteRates([]any{"Margin", 35, "%", "of the price"}, []any{"Tax", 8, "%", nil}, []any{"Tax name", "Sales tax", nil, nil}, []any{"Card fee", 2.5, "%", nil}),
	}}
}

// quoteForty is forty boxes for a shop that wants to know what fewer and more
// would be, in three ways to make them.
func quoteForty() orderBook {
	head := []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Finger", "Bottom", "Lid", "Finish", "Customer", "Quantities", "Notes"}
	customer := "Harrow Lane Teas"
	breaks := "10; 25; 40; 80"
	return orderBook{file: "quote-forty.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"A": 16, "J": 24, "K": 26, "M": 20, "N": 16, "O": 30}, rows: [][]any{
			{"Harrow Lane Teas: 40 caddies before the winter"},
			head,
			{"Tea caddy", 40, 8, 5, "4-1/4", "outside", "1/2", "maple", "1/4", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", "oil", customer, breaks, "two tins side by side"},
			{"Tea caddy", 40, 8, 5, "4-1/4", "outside", "1/2", "cherry", "1/4", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", "oil", customer, breaks, nil},
			{"Tea caddy", 40, 8, 5, "4-1/4", "outside", "1/2", "maple", "1/2", "nailed 1/4 birch plywood", "lift-off 1/2", "oil", customer, breaks, "coarser fingers, plainer bottom"},
		}},
		demoYard(),
		quoteRates([]any{"Markup", 45, "%", "on the cost"}, []any{"Round prices to", 0.5, nil, nil}, []any{"People", 2, nil, nil}, []any{"Clamps", 32, nil, nil},
			[]any{"Cartons", "18 x 12 x 10; 24 x 18 x 12; 12 x 9 x 6", "in", "what the packer has"}),
	}}
}

// fairCatalog is what could be made for a spring fair from the rack.
func fairCatalog() orderBook {
	head := []any{"Box", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Woods", "Finger", "Bottom", "Lid", "Finish", "Price", "Sells low", "Sells likely", "Sells high", "Made", "Half made", "Notes"}
	ply := "groove 1/4 birch plywood"
	return orderBook{file: "catalog.xlsx", sheets: []orderSheet{
		{name: "Catalog", widths: map[string]float64{"A": 16, "H": 18, "J": 24, "K": 26, "S": 24}, rows: [][]any{
			{"Spring fair at Brook End"},
			head,
			{"Tea box", 12, 8, "3-1/2", "outside", "1/2", "walnut", nil, "1/4", ply, "sliding 1/4 birch plywood", "oil", 96, 1, 3, 6, nil, nil, nil},
			{"Card box", 7, "5-1/4", "3-1/2", "outside", "1/2", "cherry", "cherry; maple", "1/4", ply, "none", "wax", 48, 2, 6, 12, 2, nil, nil},
			{"Pen tray", 10, 4, 2, "outside", "3/8", "maple", "maple; cherry", "1/4", "nailed 1/4 birch plywood", "none", "wax", 34, 2, 5, 10, nil, 3, "three are glued up"},
			{"Pencil box", 9, 4, "2-1/4", "outside", "3/8", "cherry", nil, "1/8", ply, "sliding 1/4 birch plywood", "wax", 38, 3, 8, 15, 1, nil, nil},
			{"Keepsake", 10, 7, "4-1/2", "outside", "1/2", "walnut", "walnut; cherry", "1/4", ply, "hinged 1/2", "oil", 118, 0, 2, 5, nil, nil, nil},
			{"Recipe box", "6-1/2", "4-3/4", "4-1/2", "outside", "1/2", "cherry", "cherry; maple", "1/4", "nailed 1/4 birch plywood", "hinged 1/2", "shellac", 64, 1, 4, 8, nil, nil, nil},
			{"Spice tray", 11, 9, "2-1/4", "outside", "3/8", "maple", nil, "1/4", ply, "none", "wax", 52, 1, 3, 6, nil, nil, nil},
			{"Salt cellar", 5, 5, 3, "outside", "3/8", "maple", nil, "1/4", "nailed 1/4 birch plywood", "none", "wax", 6, 4, 9, 14, nil, nil, "cheap to draw people in"},
		}},
		demoRack(),
		quoteRates([]any{"Fair", "Spring fair at Brook End", nil, nil}, []any{"Fair date", "2027-04-17", nil, "Saturday"}, []any{"Booth fee", 120, nil, nil}, []any{"Travel cost", 45, nil, nil},
			[]any{"Booth hours", 9, "h", nil}, []any{"Booth holds", 40, "boxes", nil}, []any{"Vehicle holds", 400, "litres", nil}, []any{"Card fee", 2.5, "%", nil},
			[]any{"Morning", "closed", nil, "evenings only, before the season"}, []any{"Afternoon", "17:30-21:00", nil, nil},
			[]any{"Unsold worth", 60, "%", "the next fair is in June"}, []any{"Cost of an unsold box", 0.5, "a box", nil}),
	}}
}
