package catalog

import "gearsearch/drive"

// Part is what every kind has.
type Part struct {
	ID     string
	Family string // the id of the table that it is a member of, with other parts; "" for a part of its own
	Name   string
	Price  float64 // per SoldIn pieces, in the catalog's currency; NaN unknown
	SoldIn int     // pieces per price, ≥ 1; wheels 4 unless given
	Priced string  // the day of the price, 2026-05-01; "" unknown
	Source string  // where price and values are from; "" not told
	Mass   float64 // kg, per piece; NaN unknown
	Owned  bool    // costs nothing
	Made   string  // how it is made, where it is not bought: one of Makings; "" bought
	Note   string
	Link   string
	Pos    Position // where it is defined

	currency string // that the price was written in, until the catalog's is known
	copied   bool   // from the demo catalog into a file of the user's
	table    *table // the table with ranges that it is a member of; nil: none
	member   int    // … and which of its members
}

// Common is what the part has in common with every other kind.
func (p *Part) Common() *Part { return p }

// Position is a place in a catalog file. Line and Column count from 1.
type Position struct {
	File   string
	Line   int
	Column int
}

// ShaftKey is what a shaft carries, or what a pulley or gear drive needs.
type ShaftKey uint8

// The shaft keys. KeyUnknown: not given.
const (
	KeyUnknown ShaftKey = iota
	KeyPlain
	KeyFlat
	KeyKeyway
)

// Chemistry is what a cell is made of. ChemistryUnknown: not given.
type Chemistry uint8

// The chemistries.
const (
	ChemistryUnknown Chemistry = iota
	LiIon                      // lithium-ion with a metal oxide: nickel-manganese-cobalt, and the like
	LiPo                       // the same in a pouch, made for high currents
	LFP                        // lithium iron phosphate
)

// Tyre is a wheel's tyre. TyreUnknown: not given.
type Tyre uint8

// The tyres.
const (
	TyreUnknown Tyre = iota
	TyreUrethane
	TyreRubber
	TyrePneumatic
)

// Side is the shaft a pulley sits on.
type Side uint8

// The sides of a belt or chain drive.
const (
	MotorSide Side = iota
	WheelSide
)

// Motor is one motor.
type Motor struct {
	Part
	KV                float64 // rpm/V
	PolePairs         float64 // whole; NaN not given
	Resistance        float64 // Ω, phase to phase, 20 °C
	NoLoadCurrent     float64 // A
	PeakCurrent       float64 // A
	ContinuousCurrent float64 // A
	MaxPower          float64 // W
	MaxVolts          float64 // V
	Shaft             float64 // m
	ShaftKey          ShaftKey
	CanDiameter       float64 // m
	CanLength         float64 // m
	Sensored          *bool   // nil not given
}

// Controller is one speed controller of Channels channels, 1 when not given.
type Controller struct {
	Part
	ERPMCeiling       float64 // rpm, electrical
	MaxVolts          float64 // V
	MotorCurrent      float64 // A, per channel, as are the next two
	BatteryCurrent    float64 // A
	ContinuousCurrent float64 // A
	Channels          float64 // whole, NaN not given
	MaxDuty           float64
	Efficiency        float64
	Commutation       string // "foc", "six-step", "" not given
}

// Cell is one cell.
type Cell struct {
	Part
	Nominal, Full, Cutoff float64 // V
	Capacity              float64 // A·h
	Resistance            float64 // Ω
	Discharge, Charge     float64 // A
	Chemistry             Chemistry
	Diameter, Length      float64 // m
}

// Battery is one pack. Cell is nil for a pack without one, and then Nominal and
// Full are given; with a cell the three voltages are NaN here. The methods give
// the values of the whole pack, its own or those of its cells.
type Battery struct {
	Part
	Series, Parallel      float64 // whole; Parallel NaN when not given
	Cell                  *Cell
	Nominal, Full, Cutoff float64   // V, whole pack
	Capacity              float64   // A·h
	Resistance            float64   // Ω, without wiring
	Discharge, Charge     float64   // A
	Wiring                float64   // Ω
	Overhead              float64   // share of the cells' mass, 0.12 for 12 %; NaN when not given
	Chemistry             Chemistry // of a pack without a cell
}

// Pulley is one toothed pulley or, where its profile is a chain's, one sprocket.
type Pulley struct {
	Part
	Side     Side
	Profile  *Profile
	Teeth    int
	Width    float64 // m; NaN of a sprocket
	Bore     float64 // m
	ShaftKey ShaftKey
	Hubs     []string
}

// Belt is one synchronous belt or, where its profile is a chain's, one chain.
type Belt struct {
	Part
	Profile  *Profile
	Teeth    int     // of a chain its links
	Width    float64 // m; NaN of a chain
	Breaking float64 // N, of a chain; NaN not given, and of a belt
}

// Mount is one motor mount.
type Mount struct {
	Part
	CentreMin, CentreMax float64 // m
	Idler                bool
	Angle                float64 // rad, of the line from axle to motor shaft above the level; NaN not given
}

// GearDrive is one fixed-ratio drive.
type GearDrive struct {
	Part
	Ratio      float64 // given, or Driven / Driver
	Driver     float64 // teeth on the motor's side; NaN where the ratio is given
	Driven     float64 // teeth on the wheel's side, likewise
	Efficiency float64 // NaN when not given
	InWheel    bool
	Bore       float64 // m
	ShaftKey   ShaftKey
	Hubs       []string
	MaxTorque  float64  // N·m at the wheel, each
	Outside    float64  // m, diameter
	Centre     float64  // m, from axle to motor shaft
	Angle      float64  // rad, as a mount's
	FitsMotors []string // ids
	FitsWheels []string // ids
}

// Wheel is one wheel; a board has four.
type Wheel struct {
	Part
	Diameter          float64 // m
	Width             float64 // m
	Hubs              []string
	Tyre              Tyre
	RollingResistance float64
	RollingRatio      float64 // rolling radius over free radius; NaN when not given
}

// Profile is a tooth profile. It is known by its id, which is also the name in
// drive.Profile; Part.Name is the name to show, as of any part.
type Profile struct {
	Part
	drive.Profile
	BuiltIn bool
}

// Catalog is all parts of one or more files, each kind sorted by id, with
// references resolved. No id stands twice in it, not even in two kinds.
//
// The kinds up to Profiles make a drivetrain. Those below are accessories: what
// a board needs around it, and no part of the builds that are ranked.
type Catalog struct {
	Title       string   // of the first file that has one
	Currency    string   // "EUR" where the first file names none
	Files       []string // as they were named, directories as the files in them
	Uses        []Used   // lists of standards, in the order in which they are named
	Changes     []Change // in the order in which they were made
	Rates       []Rate   // into Currency, of the others that files name
	Motors      []*Motor
	Controllers []*Controller
	Cells       []*Cell
	Batteries   []*Battery
	Pulleys     []*Pulley
	Belts       []*Belt
	Sprockets   []*Pulley
	Chains      []*Belt
	Mounts      []*Mount
	GearDrives  []*GearDrive
	Wheels      []*Wheel
	Profiles    []*Profile // the catalog's own; Profile finds the built-in ones too

	BMSs       []*BMS
	Switches   []*Switch
	Fuses      []*Fuse
	Connectors []*Connector
	Wires      []*Wire
	Chargers   []*Charger
	Remotes    []*Remote
	Boxes      []*Box

	builtIn []*Profile
	sources []Source // what it was read from, for Places
}
