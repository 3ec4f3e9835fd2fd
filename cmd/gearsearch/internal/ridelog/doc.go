// Package ridelog reads what people record of their rides: tables of time and speed,
// energy, volts and current, height. It gives the coast-downs and the metered rides
// that package fit goes by.
//
// # What is read
//
// Comma-, semicolon- or tab-separated text with a row of headings, which may have lines
// of other text above it. A heading is recognised by what its column holds and in which
// unit, in brackets or at its end: "Speed [km/h]", "speed_kmh", "time (ms)". Whatever
// is called otherwise is named by Options.Columns. Numbers may have a decimal comma.
//
// # What is coped with
//
// Rows of text, empty cells, doubled rows, gaps, late rows, clocks and counters that
// begin anew: each is counted, and said as a Note of the log. A file is read once, in a
// stream, and its memory does not grow with its length.
package ridelog
