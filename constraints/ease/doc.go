// Package ease knows what of a brief a build does not meet can give way: on which
// keys, and how far for a build to pass. A Concession is a key with another value,
// a Wish one that is dropped. Both go by the checks' own rows (Check.Eased), and
// look at a build alone: which concession serves best, over all builds, is for
// package search to say.
package ease
