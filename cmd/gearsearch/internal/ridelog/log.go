package ridelog

import (
	"gearsearch/search/fit"
)

// Kind is what a log is of.
type Kind uint8

// The kinds.
const (
	Unsaid Kind = iota // as the data has it
	Coast
	Ride
)

// Options say how a log is to be read.
type Options struct {
	Kind      Kind
	Direction fit.Direction // of all its runs, unless a column has it
	Columns   []ColumnNamed
}

// ColumnNamed names the column of a quantity.
type ColumnNamed struct {
	Of   Quantity
	Name string
	Unit string // "" for the heading's own
}

// Column is a column that is read.
type Column struct {
	Of      Quantity
	Heading string
	Named   bool // by the options
	Assumed bool // its heading tells no unit
}

// Log is what a file holds.
type Log struct {
	Name    string
	Kind    Kind // Coast or Ride
	Forced  bool // as the reader said
	Rows    int
	Columns []Column
	// Headings are the first headings of all columns, quoted.
	Headings []string
	Runs     []fit.Run // of coast-downs
	Ride     fit.Ride  // of a ride
	Travel   Travel
	Notes    []Note
}

// Travel is what a ride is summed up from.
type Travel struct {
	Metres  float64
	Seconds float64 // moving
	Joules  float64 // net
	Stops   int
	Spread  float64 // standard deviation of the speed while it moves, m/s
	ByMeter bool    // the energy is a counter's; else volts times amperes, or watts
	Heights bool    // heights are there
}

// Note is something that the log was read in spite of.
type Note struct {
	Code   Code
	Count  int     // of rows, gaps, resets or stretches
	Line   int     // of the first, from 1; 0: none
	Amount float64 // SI, as the code says
	Text   string  // a heading
}

// Code says what a note is about.
type Code uint8

// The codes.
const (
	AboveHeader  Code = iota // lines stand above the headings
	TextRows                 // rows without a time or without any number are left out
	EmptyCells               // cells hold no number
	DoubledRows              // rows of a time that was there already are left out
	LateRows                 // rows were put where their time belongs
	LostRows                 // rows came too late to be put anywhere
	ClockReset               // the clock began anew
	CounterReset             // a counter of distance or energy began anew
	Gaps                     // nothing was recorded for Amount seconds in all
	BareUnit                 // Text tells no unit: its quantity's first is assumed
	Unread                   // Text tells no unit, and is done without
	SecondColumn             // Text could be the same as a column that is read, and is not
	ShortRuns                // stretches of falling speed are too short
	BrakedRuns               // runs end where the board is braked
	ThinnedRuns              // of runs every second sample is kept, or every fourth …
	MixedSpeed               // the speed of the ride varies: Amount, a share of its mean
	codes
)
