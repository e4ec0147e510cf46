package measure

// Size is length, width and height of a box or a carton.
type Size struct{ Length, Width, Height Length }
