package drive

// CommonDivisor returns the greatest number that divides the teeth of both
// wheels of a pair, each above 0. Each tooth of one meets only one in so many of
// the other; with 1 it meets all of them in turn, and the pair is said to have a
// hunting tooth (Dudley's Handbook of Practical Gear Design, from memory).
func CommonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
