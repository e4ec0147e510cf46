package settings

// Source is where a thing was read: a sheet and a cell such as "B7".
type Source struct {
	Sheet string `json:"sheet"`
	Cell  string `json:"cell"`
}

// ShopFileSheet is the Sheet of a setting that the shop file holds.
const ShopFileSheet = "shop file"

// String is "Boxes!B7", or empty when the thing was not read from a cell.
func (s Source) String() string {
	if s.Cell == "" {
		return s.Sheet
	}
	return s.Sheet + "!" + s.Cell
}
