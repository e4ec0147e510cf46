package week

// FirstRun is the first of n free units in a row at or after from.
func FirstRun(open []bool, from, n int) int {
	b := newBitset(len(open))
	for u, is := range open {
		if is {
			b.set(u)
		}
	}
	return b.run(from, n)
}
