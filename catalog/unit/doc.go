// Package unit is the table of the units that quantities are written in: on a
// command line, in a catalog and in a brief. It knows which units are of one
// kind, and turns a text such as "25mph" or "0.033 ohm" into a number of any of
// them.
//
// Conversions are exact: a decimal number times a ratio of whole numbers,
// rounded once, to the nearest float64. So 8in are what 203.2mm are, to the
// bit. Slopes in degrees are the exception.
//
// Units by definition: the inch, the foot and the mile are international ones
// and, with the pound, exact by the agreement of 1959; the pound-force takes the
// standard acceleration of gravity (3rd CGPM, 1901). Sources: BIPM, The
// International System of Units, 9th edition; NIST SP 811, appendix B.
package unit
