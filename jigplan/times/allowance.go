package times

import "batchwright/orders/settings"

// Standard is normal time with the allowance put on it. The two conventions
// differ and both are in use, so the shop names its own: a share A of the
// work time adds to normal x (1 + A), a share of the shift is normal / (1 - A)
// (S. Konz, chapter on time standards). A must be below 1 for a shift.
func Standard(normal float64, t settings.Times) float64 {
	a := t.AllowancePercent / 100
	if t.AllowanceOf == "shift" {
		return normal / (1 - a)
	}
	return normal * (1 + a)
}
