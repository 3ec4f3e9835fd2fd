// Package constraints holds what a board must do, the brief, against what its
// parts are, the catalog.
//
// A Brief is read, a Problem puts it to a catalog: the parts in play, each
// prepared once. A Build is one choice for each slot and computes its figures
// when they are asked for. A Check is one named rule that a build passes,
// fails, or that cannot be decided for lack of data; the registry of checks
// and that of figures are the only places that know them one by one, and
// tables, data out, explanations and documentation read them.
//
// # Units
//
// Everything is in SI units except electrical rpm, rpm/V, A·h and °C. Keys,
// figures and checks carry the unit in which they are shown, and how many of
// it make an SI unit. NaN stands for what is not known; it never leaves the
// program.
//
// # What is not known
//
// A missing mass counts 0 in the physics, a missing resistance of a pack
// likewise, and both are listed as assumptions. Everything else that is
// missing makes the figures that need it null and the checks that need it
// undecided. A build with an undecided check is feasible and says so.
package constraints
