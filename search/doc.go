// Package search finds every build of a catalog that does what a brief asks,
// counts why the others do not, and ranks those that do.
//
// # Why the count is exact
//
// A combination is one battery, controller, motor, number of motors, drive
// and wheel. It is rejected under the first check, in the order of the
// registry, that it fails. Each check says which of the six choices it reads.
// So the first failure of a combination is the lowest of four:
//
//	fit     checks on motor, number of motors and drive
//	hub     checks on drive and wheel
//	volts   checks on battery, controller, motor and number of motors
//	joint   everything else
//
// The first three are tested once for each choice they read, not once for
// each combination. Motors (with their number) for which every drive fits
// alike form a class; a class has one histogram of the lowest of fit and hub
// over all drives and wheels, and one list of the pairs of drive and wheel
// that survive. A group of battery, controller, motor and number that fails
// volts adds its class's histogram to the counts; one that passes adds the
// same and walks the survivors through the joint checks. Every combination is
// counted exactly once, and the joint checks run on exactly those that need
// them.
package search
