package orders

import (
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// MaxLeaves is the most leaves one board is sawn into.
const MaxLeaves = 4

// Leaves is what a board gives when it is flattened and sawn on edge into n
// leaves of one thickness: how thick each comes off the saw, and the thickest
// finished part it gives once both faces are cleaned up. From the rule of the
// trade (common practice)
//
//	n x finished + (n-1) x kerf + 2n x clean-up + cup <= rough
//
// with the settings' defaults a 4/4 board gives two at 5/16 in, an 8/4 board
// two at 13/16 in or four at 5/16 in. ok is false where the shop's band saw
// does not take the board, or nothing is left of the leaves.
func (b Board) Leaves(n int, s *settings.Shop) (thick, finished measure.Length, ok bool) {
	if n < 2 || b.Sheet || max(b.WideEnd, b.Width) > s.ResawUpTo {
		return 0, 0, false
	}
	thick = (b.Rough() - s.ResawCup - measure.Length(n-1)*s.ResawKerf) / measure.Length(n)
	finished = thick - 2*s.ResawCleanUp
	return thick, finished, finished > 0
}
