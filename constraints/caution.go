package constraints

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// evenTeeth is how many teeth a sprocket has at least that a chain runs evenly on: common
// practice, no published source.
const evenTeeth = 11

// fullMesh is how many whole teeth in mesh carry a belt's full handbook pull.
const fullMesh = 6

// briskSpeed is the road speed in m/s from which a fall deserves more than the
// helmet that the general cautions ask for on every board: 30 km/h, common practice, no published
// source.
const briskSpeed = 30 / kmh

// Marks that cautions go by.
const (
	touchVolts = 60    // V from which direct current is not safe to touch: IEC 60364-4-41, in the dry
	smallWheel = 0.120 // m below which a hard wheel is small for loose ground: an assumption
	fullRoom   = 0.98  // share of the controller's volts above which a full pack leaves none for braking: an assumption
	lawBraking = 3.5   // m/s² that the German eKFV, section 4, asks of a vehicle's brakes together
)

// CautionCode is what a caution says.
type CautionCode string

// The cautions. The quantities of each are in its order.
const (
	DemotedFails       CautionCode = "demoted-fails"     // a check
	DemotedUndecided   CautionCode = "demoted-undecided" // a check
	NoBeltChosen       CautionCode = "no-belt-chosen"
	BeltNotAround      CautionCode = "belt-not-around"
	BeltOffProfile     CautionCode = "belt-off-profile"
	NoChainChosen      CautionCode = "no-chain-chosen"
	ChainNotAround     CautionCode = "chain-not-around"
	ChainOffProfile    CautionCode = "chain-off-profile"
	ChainNotClosed     CautionCode = "chain-not-closed"      // links
	FewOnSprocket      CautionCode = "few-on-sprocket"       // whole teeth in mesh
	FewOnSprocketIdler CautionCode = "few-on-sprocket-idler" // the same, the idler's wrap left out
	ChainUneven        CautionCode = "chain-uneven"          // teeth of the small sprocket, share by which the chain slows down between two of them
	ChainAsks          CautionCode = "chain-asks"
	FewInMesh          CautionCode = "few-in-mesh"        // whole teeth in mesh, those of the full pull
	FewInMeshIdler     CautionCode = "few-in-mesh-idler"  // the same, the idler's wrap left out
	ChargedAboveFull   CautionCode = "charged-above-full" // the brief's volts, the full pack's
	SlipsOnFlat        CautionCode = "slips-on-flat"
	SlipsOnGrade       CautionCode = "slips-on-grade"
	LiftsOnFlat        CautionCode = "lifts-on-flat"
	LiftsOnGrade       CautionCode = "lifts-on-grade"
	PackBrakesLittle   CautionCode = "pack-brakes-little" // mean deceleration of the stop, what the wheels hold
	SmallHardWheels    CautionCode = "small-hard-wheels"  // diameter
	WetGround          CautionCode = "wet-ground"
	NoRoomForBraking   CautionCode = "no-room-for-braking" // volts of the full pack, of the controller
	NotSafeToTouch     CautionCode = "not-safe-to-touch"   // volts of the full pack
	Brisk              CautionCode = "brisk"               // top speed

	// Of an answer.
	RearBrakes CautionCode = "rear-brakes" // the most deceleration, what the law asks

	// Of every board.
	OnlyComputed CautionCode = "only-computed"
	PacksBurn    CautionCode = "packs-burn"
	FullPack     CautionCode = "full-pack"
	ColdPack     CautionCode = "cold-pack" // temperature
	WearHelmet   CautionCode = "wear-helmet"
)

// Harm is what may come of a caution that nobody heeds.
type Harm uint8

// The harms, the gravest first.
const (
	Burns    Harm = iota + 1 // a fire, or a shock
	NoBrakes                 // the board does not stop, or not in time
	Throws                   // the rider falls
	Misleads                 // a number or a limit is not what it seems
	Costs                    // wear, money
)

// cautionRows has a row for every caution: those of a build and, after them, of an
// answer and of every board, in the order in which they are given.
var cautionRows = []struct {
	code CautionCode
	harm Harm
}{
	{DemotedFails, Misleads},
	{DemotedUndecided, Misleads},
	{NoBeltChosen, Costs},
	{BeltNotAround, Misleads},
	{BeltOffProfile, Misleads},
	{NoChainChosen, Costs},
	{ChainNotAround, Misleads},
	{ChainOffProfile, Misleads},
	{ChainNotClosed, Misleads},
	{FewOnSprocket, Costs},
	{FewOnSprocketIdler, Costs},
	{ChainUneven, Costs},
	{ChainAsks, Throws},
	{FewInMesh, Costs},
	{FewInMeshIdler, Costs},
	{ChargedAboveFull, Burns},
	{SlipsOnFlat, Throws},
	{SlipsOnGrade, Throws},
	{LiftsOnFlat, Throws},
	{LiftsOnGrade, Throws},
	{PackBrakesLittle, NoBrakes},
	{SmallHardWheels, Throws},
	{WetGround, NoBrakes},
	{NoRoomForBraking, NoBrakes},
	{NotSafeToTouch, Burns},
	{Brisk, Throws},

	{RearBrakes, NoBrakes},
	{OnlyComputed, Misleads},
	{PacksBurn, Burns},
	{FullPack, NoBrakes},
	{ColdPack, Burns},
	{WearHelmet, Throws},
}

// CautionCodes lists every code of a build's cautions and, after them, of those
// of an answer and of every board, in the order in which they are given.
func CautionCodes() []CautionCode {
	var out []CautionCode
	for _, row := range cautionRows {
		out = append(out, row.code)
	}
	return out
}

// Harm is what may come of a caution; 0 for a code that has no row.
func (c CautionCode) Harm() Harm {
	for _, row := range cautionRows {
		if row.code == c {
			return row.harm
		}
	}
	return 0
}

// Caution is what a builder should know beyond verdicts, without its words.
// Cautions that are equal say the same.
type Caution struct {
	Code       CautionCode
	Check      string      // that it is about, by name; "" for none
	Quantities [2]Quantity // as many as the code has, the others zero
}

// caution is a caution with its quantities.
func caution(code CautionCode, quantities ...Quantity) Caution {
	c := Caution{Code: code}
	copy(c.Quantities[:], quantities)
	return c
}

// Cautions are what a builder should know of this build beyond its verdicts,
// in a fixed order.
func (b *Build) Cautions() []Caution { return b.AppendCautions(nil) }

// AppendCautions appends the cautions of this build.
func (b *Build) AppendCautions(to []Caution) []Caution {
	for _, r := range b.demotedResults() {
		switch r.Verdict {
		case Fail:
			to = append(to, Caution{Code: DemotedFails, Check: r.Name})
		case Undecided:
			to = append(to, Caution{Code: DemotedUndecided, Check: r.Name})
		}
	}
	to = b.Drive.appendCautions(to)
	if p := b.Battery.Pack; p.Full > 0 && p.Volts > p.Full && !equal(p.Volts, p.Full) {
		to = append(to, caution(ChargedAboveFull, volts(p.Volts), volts(p.Full)))
	}
	if code, ok := b.held(); ok {
		to = append(to, Caution{Code: code})
	}
	to = b.appendBraking(to)
	to = b.appendVolts(to)
	if v, _ := b.TopSpeed(); drive.AtLeast(v, briskSpeed) {
		to = append(to, caution(Brisk, Quantity{SI: v, PerSI: kmh, Unit: "km/h", Digits: OneDecimal}))
	}
	return to
}

// appendBraking appends those about braking and the ground.
func (b *Build) appendBraking(to []Caution) []Caution {
	stop, from := b.stopAt(stopCharge), b.Problem.Brief.Target.StopFrom
	mean, most := from*from/(2*stop.Long), b.braking()
	if stop.By == drive.BatteryCurrent && mean < most/2 && !math.IsInf(most, 1) {
		to = append(to, caution(PackBrakesLittle, acceleration(mean), acceleration(most)))
	}
	if b.Wheel.hardAndSmall() && b.Problem.Brief.Ground.loose() {
		to = append(to, caution(SmallHardWheels, Quantity{SI: b.Wheel.Diameter, PerSI: 1000, Unit: "mm", Digits: ThreeDigits}))
	}
	if isSet(b.Problem.Brief.Ground.Wet) {
		to = append(to, Caution{Code: WetGround})
	}
	return to
}

// appendVolts appends those about the volts of the full pack.
func (b *Build) appendVolts(to []Caution) []Caution {
	full, most := b.Battery.Pack.Full, b.Controller.MaxVolts
	if drive.AtMost(full, most) && full > fullRoom*most {
		to = append(to, caution(NoRoomForBraking, volts(full), volts(most)))
	}
	if drive.AtLeast(full, touchVolts) {
		to = append(to, caution(NotSafeToTouch, volts(full)))
	}
	return to
}

// hardAndSmall reports a small wheel without air in it.
func (w *Wheel) hardAndSmall() bool {
	return tyreOf(w.Wheel) != catalog.TyrePneumatic && !drive.AtLeast(w.Diameter, smallWheel)
}

// loose reports ground that a small hard wheel may sink into or stop at.
func (g *Ground) loose() bool { return g.Surface == "gravel" || g.Surface == "grass" }

// braking is the most in m/s² by the motors, rolling resistance with it: what
// the driven wheels hold.
func (b *Build) braking() float64 { return (b.board.Hold.Brake + b.board.Crr) * drive.Gravity }

// held says what the driven wheels do where they hold the thrust of the climb.
func (b *Build) held() (code CautionCode, ok bool) {
	flat, grade := SlipsOnFlat, SlipsOnGrade
	switch b.board.ThrustLimit(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta) {
	case drive.Grip:
	case drive.Lift:
		flat, grade = LiftsOnFlat, LiftsOnGrade
	default:
		return "", false
	}
	if b.Problem.Climbs() {
		return grade, true
	}
	return flat, true
}

// appendCautions appends those about the belt or chain.
func (d *Drive) appendCautions(to []Caution) []Caution {
	switch {
	case d.Gear != nil:
		return to
	case d.Chained():
		return d.appendChainCautions(to)
	}
	switch {
	case d.Belt == nil:
		to = append(to, Caution{Code: NoBeltChosen})
	case d.Belt.Profile.ID != d.MotorPulley.Profile.ID || d.Belt.Profile.ID != d.WheelPulley.Profile.ID:
		to = append(to, Caution{Code: BeltOffProfile})
	case math.IsNaN(d.Centre):
		to = append(to, Caution{Code: BeltNotAround})
	}
	if d.Mesh >= 0 && d.Mesh < fullMesh {
		code := FewInMesh
		if d.idler() {
			code = FewInMeshIdler
		}
		to = append(to, caution(code, count(d.Mesh), count(fullMesh)))
	}
	return to
}

// appendChainCautions appends those about the chain.
func (d *Drive) appendChainCautions(to []Caution) []Caution {
	switch {
	case d.Belt == nil:
		to = append(to, Caution{Code: NoChainChosen})
	case d.Belt.Profile.ID != d.MotorPulley.Profile.ID || d.Belt.Profile.ID != d.WheelPulley.Profile.ID:
		to = append(to, Caution{Code: ChainOffProfile})
	case math.IsNaN(d.Centre):
		to = append(to, Caution{Code: ChainNotAround})
	case !d.Belt.Closes():
		to = append(to, caution(ChainNotClosed, count(d.Belt.Teeth)))
	}
	if d.Mesh >= 0 && d.Mesh < fullMesh {
		code := FewOnSprocket
		if d.idler() {
			code = FewOnSprocketIdler
		}
		to = append(to, caution(code, count(d.Mesh)))
	}
	if least := min(d.MotorPulley.Teeth, d.WheelPulley.Teeth); least < evenTeeth {
		to = append(to, caution(ChainUneven, count(least), Quantity{SI: drive.Unevenness(least), PerSI: percent, Unit: "%", Digits: OneDecimal}))
	}
	return append(to, Caution{Code: ChainAsks})
}

// EveryBoard are the cautions of every board.
func EveryBoard() []Caution {
	return []Caution{{Code: OnlyComputed}, {Code: PacksBurn}, {Code: FullPack}, caution(ColdPack, Quantity{PerSI: 1, Unit: "°C"}), {Code: WearHelmet}}
}

// GeneralCautions are the cautions given once for all builds of a problem: those of
// every board, and the most that motors on the rear wheels alone can brake with.
func (p *Problem) GeneralCautions() []Caution {
	most := math.Inf(-1)
	for i, motors := range p.Counts {
		for _, w := range p.Wheels {
			if motors <= rearMotors {
				most = max(most, (p.hold(i, w.Crr).Brake+w.Crr)*drive.Gravity)
			}
		}
	}
	return generalCautions(most)
}

// GeneralCautions are the general cautions of an answer about one build.
func (b *Build) GeneralCautions() []Caution {
	if b.Motors() > rearMotors {
		return generalCautions(math.Inf(-1))
	}
	return generalCautions(b.braking())
}

// rearMotors is how many motors there are at most where the rear wheels alone are
// driven.
const rearMotors = 2

func generalCautions(rear float64) []Caution {
	if math.IsInf(rear, 0) {
		return EveryBoard()
	}
	return append([]Caution{caution(RearBrakes, acceleration(rear), acceleration(lawBraking))}, EveryBoard()...)
}
