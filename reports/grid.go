package reports

// Grid is a map of short texts: rows against columns, each cell of one of
// three weights that are told apart without colour.
type Grid struct {
	Title   string
	Corner  string // over the row names
	Columns []string
	Rows    []GridRow
	Legend  string
}

// GridRow is one named line of a Grid.
type GridRow struct {
	Name  string
	Cells []GridCell
}

// GridCell is one entry. The zero value is an empty, dead cell.
type GridCell struct {
	Text string
	Mark Mark
}

// Mark is the weight of a grid cell.
type Mark int

// A dead cell is hatched, a usable one plain, the best ones bold in a frame.
const (
	DeadCell Mark = iota
	PlainCell
	BestCell
)
