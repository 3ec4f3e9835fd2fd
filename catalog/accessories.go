package catalog

// The kinds of parts that a board needs around its drivetrain. NaN is not
// given, as everywhere.

// BMS is one battery protection board.
type BMS struct {
	Part
	Series         float64 // whole: cells in series of the pack it is for
	Charge         float64 // A, the charge current it bears
	Discharge      float64 // A, for long; NaN: the discharge does not go through it
	PeakDischarge  float64 // A, for seconds
	CellFull       float64 // V, of one cell: it stops the charge there
	CellCutoff     float64 // V, of one cell: it stops the discharge there
	Balance        string  // "passive", "active", "none", "" not given
	BalanceCurrent float64 // A
}

// Switch is one main switch for the pack.
type Switch struct {
	Part
	MaxVolts   float64 // V, DC
	Continuous float64 // A, for long
	Peak       float64 // A, for seconds
	Precharge  *bool   // it fills the controllers' capacitors before it closes; nil not given
}

// Fuse is one fuse for the pack's main lead.
type Fuse struct {
	Part
	Rated      float64 // A
	MaxVoltsDC float64 // V, the direct voltage at which it still breaks
	Breaking   float64 // A, the most it breaks at that voltage
}

// Connector is one pair of mating plugs.
type Connector struct {
	Part
	Poles      float64 // whole: contacts of one plug; NaN not given
	Continuous float64 // A, for long
	Peak       float64 // A, for seconds
	MaxVolts   float64 // V, DC
	WireMaxAWG float64 // whole; NaN where the area or nothing is given
	WireMax    float64 // m², the largest wire it takes, given or that of WireMaxAWG
}

// Wire is one metre of one copper conductor.
type Wire struct {
	Part
	AWG        float64 // whole, 0 is 1/0 and -1 is 2/0; NaN where the area is given
	Area       float64 // m², of the copper, given or that of AWG
	Insulation float64 // °C, the temperature that the insulation bears
	MaxVolts   float64 // V, that the insulation bears
}

// Charger is one charger.
type Charger struct {
	Part
	Full    float64 // V, at the end of the charge
	Current float64 // A
}

// Remote is one hand-held remote with its receiver.
type Remote struct {
	Part
	Telemetry *bool // it shows what the controllers report; nil not given
	Failsafe  *bool // the motors let go when its signal is lost; nil not given
}

// Box is one box for the pack. Its dimensions are those of the inside.
type Box struct {
	Part
	Length, Width, Height float64 // m
}
