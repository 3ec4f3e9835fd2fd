package plot

// MostPoints is up to how many feasible builds all of them are looked at once
// more, to draw them: a few seconds.
const MostPoints = 2_000_000
