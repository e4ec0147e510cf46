package intake

import "slices"

// helpLine is a line of the help page.
// metric: how it is put to a metric shop, with decimal points; empty: the same.
type helpLine struct{ what, how, metric string }

// workedLine is a line that shows how one is written; sizes go by the unit.
type workedLine struct{ words, inches, metric map[string]string }

var orderLine = workedLine{
	words: map[string]string{"Box": "Tea box", "Count": "6+1 spare", "Measured": "outside", "Wood": "cherry", "Lid": "lift-off",
		"Grain": "any", "Finish": "oil", "Notes": "example: replace this row"},
	inches: map[string]string{"Length": "12", "Width": "8", "Height": "3-3/8", "Thickness": "1/2", "Bottom": "groove 1/4 birch ply"},
	metric: map[string]string{"Length": "300", "Width": "200", "Height": "86", "Thickness": "12.5", "Bottom": "groove 6.5 mm birch ply"},
}

// blankCatalog has the columns a maker fills in; all that a catalog may have
// are in the help.
var blankCatalog = newLayout("Catalog", "", picked(catalogColumns, "Box", "Price", "Sells low", "Sells likely", "Sells high", "Woods", "Made", "Half made",
	"Length", "Width", "Height", "Measured", "Thickness", "Finger", "Bottom", "Lid", "Dividers", "Grain", "Finish", "Notes"))

func picked(columns []column, names ...string) (out []column) {
	for _, name := range names {
		out = append(out, columns[slices.IndexFunc(columns, func(c column) bool { return c.name == name })])
	}
	return out
}

var catalogLines = []workedLine{{
	words: map[string]string{"Box": "Tea box", "Price": "88", "Sells low": "2", "Sells likely": "4", "Sells high": "8", "Woods": "cherry; walnut",
		"Measured": "outside", "Lid": "lift-off", "Grain": "any", "Finish": "oil", "Notes": "examples: replace these rows"},
	inches: orderLine.inches, metric: orderLine.metric,
}, {
	words: map[string]string{"Box": "Pencil box", "Price": "36", "Sells likely": "6", "Woods": "maple", "Made": "1", "Half made": "2",
		"Measured": "outside", "Finish": "wax", "Notes": "one is finished, two are glued up and wait to be sanded"},
	inches: map[string]string{"Length": "9", "Width": "4", "Height": "2-1/4", "Thickness": "3/8", "Bottom": "nailed 1/4 birch ply"},
	metric: map[string]string{"Length": "230", "Width": "100", "Height": "58", "Thickness": "10", "Bottom": "nailed 6.5 mm birch ply"},
}}

var orderHelp = append([]helpLine{
	{"Boxes", "One row is a box size. Box, Count, Length, Width, Height, Measured, Thickness and Wood are required; the others may stay blank.", ""},
	{"Count", "12, 1 doz, 2 pr, or 6+1 spare.", ""},
	{"Grain", "Boxes: matched: the grain runs around three corners; four corners: around all four, from resawn boards. Parts: length: the grain runs along the length; either: the part may be turned.", ""},
	{"Due", "Write dates as 2026-12-05.", ""},
	{"Quantities", "For a quote: 10; 25; 50.", ""},
	{"Parts", "One row is a loose part without a joint.", ""},
	{"Check", "batchwright check lists every problem with its sheet and cell before anything is planned.", ""},
}, anyHelp...)

var catalogHelp = append([]helpLine{
	{"Catalog", "One row is a box that may be made for the fair. Box, Price, one of the Sells columns, Length, Width, Height, Measured, Thickness and Woods are required.", ""},
	{"Price", "What the box is sold for, without tax.", ""},
	{"Sells", "How many you might sell if you brought enough: Sells low, Sells likely and Sells high (rarely more); or Sells likely alone. If you know the average and its standard deviation, use Sells mean and Sells spread instead.", ""},
	{"Woods", "All woods the box may be made of: cherry; walnut. Each wood and each mix of two is tried.", ""},
	{"Made", "Finished boxes on hand. Blank: what the last fair left over, from log left.", ""},
	{"Half made", "Boxes glued up but not sanded and finished yet.", ""},
	{"For the fair", "On the sheet Shop, or with batchwright shop set: Fair, Fair date, Booth fee, Travel cost, Booth hours, Booth holds, Vehicle holds, Labor rate, Hours to the fair, Cost of an unsold box, Unsold worth.", ""},
	{"Choose", "batchwright fair FILE.xlsx says how many of each to make and what limits; with --give-out it keeps the mix; after the fair, log left or log sold notes the result.", ""},
}, anyHelp...)

// anyHelp holds for every workbook that is read.
var anyHelp = []helpLine{
	{"Measured", "inside or outside: what the sizes mean. It has no default, because a wrong guess spoils every board.", ""},
	{"Lengths", "Write them as you would say them: 3-1/2, 3 1/2\", 3½, 3.5, 1' 4 3/8\", 89 mm, 8.9 cm. A number alone takes the unit in the heading. Nothing is rounded: a size that cannot be stored exactly is refused, with the nearest two that can.", "Write them as you would say them: 87.5, 8.9 cm, 1.2 m. A number alone takes the unit in the heading. Nothing is rounded: a size that cannot be stored exactly is refused, with the nearest two that can."},
	{"Same again", "ditto, \" or same as above repeats the cell above.", ""},
	{"Finger", "A width, or a pattern: key 3/4; rising 1/4 to 3/4; mirrored 1/4 to 3/4; repeat 1/4 1/2; a list of widths. Blank: the program chooses.", "A width, or a pattern: key 20; rising 6 to 20; mirrored 6 to 20; repeat 6 12; a list of widths. Blank: the program chooses."},
	{"Bottom", "groove, rabbet, nailed or none; then thickness and wood: groove 1/4 birch ply.", "groove, rabbet, nailed or none; then thickness and wood: groove 6.5 birch ply."},
	{"Lid", "none, lift-off, sliding, sawn-off or hinged; then thickness and wood.", ""},
	{"Dividers", "2 x 3 is two compartments along the length by three across the width.", ""},
	{"Rack", "One row is a size of board on hand. Class (4/4, 5/4, ...) or true thickness, length, and width at the narrow end. A sheet without rows is ignored.", "One row is a size of board on hand. Class (27, 34, ...) or true thickness, length, and width at the narrow end. A sheet without rows is ignored."},
	{"Defects", "From the marked end, and across from the marked edge: 18 to 22 (whole width); 40 to 43 across 0 to 1 1/2. Separate them with semicolons.", "From the marked end, and across from the marked edge: 450 to 520 (whole width); 1000 to 1080 across 0 to 40. Separate them with semicolons."},
	{"Yard", "One row is a size of board that can be bought. Price is for one board; otherwise write the heading Price per board foot, Price per m2 or Price per m3. Count blank: as many as wanted.", "One row is a size of board that can be bought. Price is for one board; otherwise write the heading Price per m3 or Price per m2. Count blank: as many as wanted."},
	{"Shop", "One row is a setting that differs from its default. The settings are listed below. A row overrides that one setting for this order; all others stay as in the shop file.", ""},
	{"Safety", "Follow your machine's manual, local rules and, for electrics and dust, licensed trades. Set up with the blade stopped and isolated; wear eye, ear and dust protection.", ""},
}
