package main

// weekOrders are three orders for one week of the Larkbeck Box Shop, an
// invented shop of two people: with commission.xlsx and market.csv they are
// five jobs, a fair on Saturday 13 March 2027 and a holiday on the Wednesday
// before it.
func weekOrders() []orderBook {
	return []orderBook{weekTea(), weekFair(), weekSchool()}
}

func weekHeadings() []any {
	return []any{"Box", "Count", "Length", "Width", "Height", "Measured", "Thickness", "Wood", "Finger", "Bottom", "Lid", "Finish", "Customer", "Due", "Notes"}
}

func weekTea() orderBook {
	return orderBook{file: "week-tea.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"J": 24, "K": 26, "M": 20, "O": 24}, rows: [][]any{
			weekHeadings(),
			{"Tea box", 4, 12, 8, "3-1/2", "outside", "1/2", "walnut", "1/4", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", "oil", "Harrow Lane Teas", dueOn(2027, 3, 15), "the shop opens on the 16th"},
		}},
		{name: "Shop", widths: map[string]float64{"A": 22, "D": 40}, rows: [][]any{
			{"Setting", "Value", "Unit", "Remark"},
			{"Blade kerf", 0.0955, "in", nil},
			{"People", 2, nil, "Mondays to Fridays"},
			{"Benches", 2, nil, nil},
			{"Clamps", 24, nil, nil},
			{"Holidays", "2027-03-10", nil, "midweek holiday of the town"},
			{"Coats", 2, nil, nil},
		}},
	}}
}

func weekFair() orderBook {
	due := dueOn(2027, 3, 12)
	return orderBook{file: "week-fair.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"J": 24, "K": 26, "M": 20, "O": 36}, rows: [][]any{
			{"For the fair on Saturday 13 March: packed on Friday"},
			weekHeadings(),
			{"Card box", 6, 7, "5-1/4", "3-1/2", "outside", "1/2", "cherry", "1/4", "groove 1/4 birch plywood", "none", "wax", "spring fair", due, nil},
			{"Pen tray", 4, 10, 4, "2", "outside", "3/8", "maple", "1/4", "nailed 1/4 birch plywood", "none", "wax", "spring fair", due, "dividers are put in at the stand"},
		}},
		{name: "Shop", rows: [][]any{{"Setting", "Value", "Unit"}, {"Blade kerf", 0.0955, "in"}, {"People", 2}, {"Benches", 2}, {"Clamps", 24}, {"Holidays", "2027-03-10"}, {"Coats", 2}}},
	}}
}

func weekSchool() orderBook {
	due := dueOn(2027, 3, 19)
	return orderBook{file: "week-school.xlsx", sheets: []orderSheet{
		{name: "Boxes", widths: map[string]float64{"J": 24, "K": 26, "M": 20, "O": 24}, rows: [][]any{
			weekHeadings(),
			{"Pencil box", 12, 9, 4, "2-1/4", "outside", "3/8", "cherry", "1/8", "groove 1/4 birch plywood", "sliding 1/4 birch plywood", "wax", "Brook End School", due, "names are engraved later"},
		}},
		{name: "Shop", rows: [][]any{{"Setting", "Value", "Unit"}, {"Blade kerf", 0.0955, "in"}, {"People", 2}, {"Benches", 2}, {"Clamps", 24}, {"Holidays", "2027-03-10"}, {"Coats", 2}}},
	}}
}
