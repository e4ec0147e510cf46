package measure

// Size is length, width and height of a box or a carton.
type Size struct {
	Length Length `json:"length_mm"`
	Width  Length `json:"width_mm"`
	Height Length `json:"height_mm"`
}
