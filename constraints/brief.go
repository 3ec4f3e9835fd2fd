package constraints

import "gearsearch/constraints/route"

// Brief says what the board must do. All numbers are in SI units; NaN means
// "not set" and is allowed only where a comment says so. DefaultBrief gives
// the defaults, ReadBrief reads one from a file.
type Brief struct {
	Rider   Rider
	Board   Board
	Ground  Ground
	Target  Target
	Limit   Limits
	Ride    Journey
	Weights Weights
	Vary    Tolerance
	Keep    [slotCount][]string // only these ids; nil: all
	Avoid   [slotCount][]string // none of these ids

	// Way is the way that Ride.Route names, read by whoever has the file; nil: none.
	Way *route.Route

	places places // where each key was written, for messages
}

// Rider is the person and how they stand in the wind.
type Rider struct {
	Mass     float64 // kg
	Posture  string  // a key of postures
	DragArea float64 // m², drag coefficient times frontal area; NaN: by posture
	Fitted   *bool   // DragArea is the rider's own, from a fit; nil: no
}

// Board is what no catalog part weighs, the room there is, and how the rider
// stands on it.
type Board struct {
	Mass      float64   // kg: deck, trucks, box
	Motors    []float64 // counts to try, of 1, 2 and 4, in any order
	RearShare float64   // of the weight on the rear axle at rest
	Lean      float64   // of the weight, that the rider moves to either axle
	AxleMin   float64   // of the weight, that each axle keeps
	Wheelbase float64   // m
	Centre    float64   // m, of the centre of mass above the ground
	Hanger    float64   // m between the wheels for motors side by side; NaN: no check
	Sensored  *bool     // motors with position sensors are wanted; nil: not asked for
}

// Ground is what the wheels roll on and the air around.
type Ground struct {
	Surface           string  // a key of surfaces
	RollingResistance float64 // NaN: the wheel's, or by tyre and surface
	AirDensity        float64 // kg/m³; NaN: from altitude and temperature
	Altitude          float64 // m; NaN: 0
	Temperature       float64 // °C; NaN: standard atmosphere
	Grip              float64 // μ; NaN: by surface
	Fitted            *bool   // RollingResistance is the rider's own, from a fit; nil: no
	Wet               *bool   // halves the grip of the surface; nil: dry
}

// Target is what the board must reach. NaN: not asked for.
type Target struct {
	TopSpeed    float64 // m/s, at least
	TopSpeedMax float64 // m/s, at most
	ClimbGrade  float64 // rise over run, 0.15 for 15 %
	ClimbSpeed  float64 // m/s, always set
	ClimbLength float64 // m of that hill, along the road
	Stop        float64 // m, by the motors alone
	StopFrom    float64 // m/s, always set
	HillTorque  float64 // N·m, sum over the wheels, at the climb speed
	LaunchSpeed float64 // m/s
	LaunchTime  float64 // s
	Range       float64 // m
	Cruise      float64 // m/s, always set
	Charge      Charge
}

// Charge is the state of charge at which speed and climb are asked for.
type Charge struct {
	Word  string  // "full", "nominal", or "" for Volts
	Volts float64 // V per cell, NaN when Word is given
}

// Limits are what a build may not pass.
type Limits struct {
	ERPMCeiling     float64 // electrical rpm; NaN: the controllers' own only
	ERPMHeadroom    float64 // share, 0.05 for 5 %
	ERPMRule        string  // FreeSpin, AtSpeed or AtTop
	Price           float64 // NaN: none
	PriceCurrency   string  // that the price was written in; "": the catalog's
	Mass            float64 // kg, without the rider; NaN: none
	MeshTeeth       float64 // whole teeth in mesh on the small pulley
	GroundClearance float64 // m
	HeatFactor      float64 // of the continuous current
	Winding         float64 // °C
	WindingMax      float64 // °C, at the end of a hill with a length
	Usable          float64 // share of the pack's energy
	Reserve         float64 // share of the usable charge, left at the end of a route
	RideFactor      float64 // of the ride's energy, for what else it takes
	Derate          float64 // of the no-load speed, where losses are unknown
	Demote          []string
}

// Journey is what a ride takes beside cruising in still air.
type Journey struct {
	Stops  float64 // per m
	Ascent float64 // m climbed per m, on slopes that the board is braked down
	Wind   float64 // m/s, out and back
	Regen  float64 // share of the energy of stops and descents that comes back
	Start  float64 // share of a full pack at the start of a route
	Route  string  // the file with the way to ride, as it was given; "": none
}

// The rules by which the electrical rpm is held against the ceiling.
const (
	FreeSpin = "free-spin" // wheels off the ground at full charge
	AtSpeed  = "at-speed"  // at the target top speed
	AtTop    = "at-top"    // at the board's own top speed on a full pack, which no ceiling cuts
)

// Weights are the weights of the score's criteria, 0 or more.
type Weights struct {
	Speed, Climb, Headroom, Range, Launch, Cool, Price, Mass, Mesh float64
}

// Tolerance is how far parts, riders, grip and wind stray from what the catalog and the
// brief say, to either side. 0 means not at all.
type Tolerance struct {
	KV             float64 // share of the motor's kv
	Mass           float64 // kg of the rider and what they carry
	Rolling        float64 // share of the rolling-resistance coefficient
	Drag           float64 // share of the drag area
	PackResistance float64 // share of the pack's resistance
	Efficiency     float64 // of the drive, absolute: 0.02 for 2 points
	Wheel          float64 // share of the wheel's diameter
	Stance         float64 // of the weight on the rear axle at rest, absolute
	Grip           float64 // share of the friction coefficient
	Wind           float64 // m/s, of the wind along the way
}

// DefaultBrief is the brief in which nothing is asked for: every key as its row
// has it unless it is given.
func DefaultBrief() *Brief {
	b := new(Brief)
	for _, s := range briefSections {
		s.table.Clear(b)
	}
	return b
}
