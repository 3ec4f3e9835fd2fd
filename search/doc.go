// Package search answers questions about the builds of a catalog: which builds
// do what a brief asks, in which order, why the others do not, what each wish
// costs, which concession, part or swap makes more builds feasible, and how
// firmly a build stands.
//
// A question is a function of a problem and Options. It hands visitors to the
// engine, package walk, whose comment says why what it counts is exact, and
// makes an answer of what they saw.
//
// The plain search in the tests, every combination and every check, finds what
// every answer must equal: counts, order and bits.
package search
