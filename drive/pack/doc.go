// Package pack lays the cells of a pack into a box: cylinders in square or
// staggered rows, upright or lying, in slices one behind the other, and the
// series groups along a way through them. It knows no volts, and draws nothing:
// a Layout is numbers. All lengths are in metres, and products that are added to
// are rounded, as in package drive.
//
// What BestLayout finds is the best of the patterns it tries, not of all there
// are.
package pack
