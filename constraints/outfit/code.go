package outfit

// Code is what a statement says. Its names and quantities are those of the
// code, in order.
type Code string

// The codes. The words of each stand where people are spoken to.
const (
	// What to buy. Each has the numbers that it must bear, not known where they
	// are not asked or not known.
	BuyBMS           Code = "buy-bms"          // cells in series, volts of a full cell, charge, discharge for seconds, for long
	BuySwitch        Code = "buy-switch"       // volts, current for seconds, for long
	BuyFuse          Code = "buy-fuse"         // least and most rating that is made, volts, current of a short
	BuyFuseUnmade    Code = "buy-fuse-unmade"  // least and most rating, volts, current of a short
	BuyPlugs         Code = "buy-plugs"        // volts, current for seconds, for long, wire
	BuyPhasePlugs    Code = "buy-phase-plugs"  // pairs, current for seconds, for long, wire
	BuyWire          Code = "buy-wire"         // use; metres, gauge, area, hottest, volts, area that the plugs take
	BuyWireUnknown   Code = "buy-wire-unknown" // use; metres
	BuyWireThicker   Code = "buy-wire-thicker" // use; metres
	BuyCharger       Code = "buy-charger"      // volts, most and least current
	BuyRemote        Code = "buy-remote"
	BuyBox           Code = "buy-box" // cells, diameter, length, length, width and height of a block, cells along and across it
	BuyBoxUnknown    Code = "buy-box-unknown"
	BuyBelts         Code = "buy-belts"          // profile; belts, teeth of either pulley, fewest and most teeth, width
	BuyBeltsUnknown  Code = "buy-belts-unknown"  // belts, teeth of either pulley
	BuyBeltsOfTwo    Code = "buy-belts-of-two"   // profiles; belts, teeth of either pulley
	BuyBeltsNone     Code = "buy-belts-none"     // belts, teeth of either pulley, least and greatest distance
	BuyChains        Code = "buy-chains"         // as of belts, with links for teeth, without width
	BuyChainsUnknown Code = "buy-chains-unknown" // as of belts
	BuyChainsOfTwo   Code = "buy-chains-of-two"  // as of belts
	BuyChainsNone    Code = "buy-chains-none"    // as of belts
	BuyMasterLinks   Code = "buy-master-links"   // profile; how many
	BuyKeys          Code = "buy-keys"           // keys, width, height, shaft
	BuyKeysUnknown   Code = "buy-keys-unknown"   // keys
	BuyKeysOfMaker   Code = "buy-keys-of-maker"  // keys, shaft
	BuyScrews        Code = "buy-screws"         // what turns; how many
	BuyScrewsOnFlat  Code = "buy-screws-on-flat" // the same
	BuyScrewsOnKey   Code = "buy-screws-on-key"  // the same

	// What is worth knowing beside it.
	MadeOfCells       Code = "made-of-cells" // cells
	LookInsidePack    Code = "look-inside-pack"
	DischargeOutside  Code = "discharge-outside"
	DischargeThrough  Code = "discharge-through"
	CutsEarly         Code = "cuts-early" // volts of a cell at which it stops the discharge, at which the cell is empty
	CutsLate          Code = "cuts-late"  // the same
	EvensOut          Code = "evens-out"  // how; current, hours for one part in a hundred
	EvensNothing      Code = "evens-nothing"
	ShortUnknown      Code = "short-unknown"
	FuseOfLessCurrent Code = "fuse-of-less-current" // fuse; current of each motor
	FuseRunsWarm      Code = "fuse-runs-warm"       // current, share of the rating, rating
	FuseBearsSeconds  Code = "fuse-bears-seconds"   // the same
	PlugsComeAlong    Code = "plugs-come-along"
	FillsPack         Code = "fills-pack"        // hours
	LongWarmsLeads    Code = "long-warms-leads"  // current, kelvins, volts, watts
	PeakWarmsLeads    Code = "peak-warms-leads"  // current, °C, seconds, volts, watts
	LongWarmsPhases   Code = "long-warms-phases" // current, kelvins, watts
	PeakWarmsPhases   Code = "peak-warms-phases" // current, °C, seconds, watts
	CellsLie          Code = "cells-lie"         // how, rows; layers, places, length, width and height of what is left
	ShowsTheCharge    Code = "shows-the-charge"
	ShowsNothing      Code = "shows-nothing"
	KeyComesAlong     Code = "key-comes-along"
	ChainIsCut        Code = "chain-is-cut" // links, length
	ScrewsWorkLoose   Code = "screws-work-loose"

	// Demands.
	DemandSeries        Code = "demand-series"
	DemandCharge        Code = "demand-charge"
	DemandStops         Code = "demand-stops"
	DemandLong          Code = "demand-long"
	DemandSeconds       Code = "demand-seconds"
	DemandDischarge     Code = "demand-discharge"
	DemandDischargePeak Code = "demand-discharge-peak"
	DemandLongRMS       Code = "demand-long-rms"
	DemandSecondsRMS    Code = "demand-seconds-rms"
	DemandVolts         Code = "demand-volts"
	DemandPrecharge     Code = "demand-precharge"
	DemandRating        Code = "demand-rating"
	DemandBreakVolts    Code = "demand-break-volts"
	DemandBreaks        Code = "demand-breaks"
	DemandPoles         Code = "demand-poles"
	DemandWire          Code = "demand-wire"
	DemandChargeEnd     Code = "demand-charge-end"
	DemandWarm          Code = "demand-warm"
	DemandPeak          Code = "demand-peak"
	DemandHot           Code = "demand-hot"
	DemandCup           Code = "demand-cup"
	DemandInsulation    Code = "demand-insulation"
	DemandFailsafe      Code = "demand-failsafe"
	DemandRoom          Code = "demand-room"
	DemandKey           Code = "demand-key"
	DemandKeyWidth      Code = "demand-key-width"
	DemandTeeth         Code = "demand-teeth"
	DemandLinks         Code = "demand-links"

	// How a bound comes about.
	PackHasSeries     Code = "pack-has-series"   // cells
	PackHasVolts      Code = "pack-has-volts"    // volts
	CellHasVolts      Code = "cell-has-volts"    // volts, volts more
	ChargerGives      Code = "charger-gives"     // current
	PackTakes         Code = "pack-takes"        // current
	PackChargeLimit   Code = "pack-charge-limit" // current
	ChargedWithin     Code = "charged-within"    // charge, hours
	AtLeastPeak       Code = "at-least-peak"     // current, times of the rating; and how it comes about
	AtLeastShare      Code = "at-least-share"    // the same
	AtLeastSteady     Code = "at-least-steady"   // current; and how it comes about
	AtMost            Code = "at-most"           // and what
	PackGives         Code = "pack-gives"        // current
	LeadsBear         Code = "leads-bear"        // current, °C
	ShortOfPack       Code = "short-of-pack"     // volts, share of the resistance, resistance
	CopperOfWire      Code = "copper-of-wire"
	PlugTakesNoMore   Code = "plug-takes-no-more"
	ForSeconds        Code = "for-seconds"          // seconds, °C
	FuseHolds         Code = "fuse-holds"           // current
	CopperWarms       Code = "copper-warms"         // kelvins, °C
	WhileFuseHolds    Code = "while-fuse-holds"     // °C
	ForShaft          Code = "for-shaft"            // diameter
	ShaftsApart       Code = "shafts-apart"         // from, to
	LowerOfPackPeaks  Code = "lower-of-pack-peaks"  // motors, each one's setting, the pack's limit
	SettingsOnly      Code = "settings-only"        // motors, each one's setting
	PackLimitOnly     Code = "pack-limit-only"      // current
	LowerOfMotorPeaks Code = "lower-of-motor-peaks" // current
	PeakCounts        Code = "peak-counts"          // and how it comes about
	AbovePeak         Code = "above-peak"           // current
	HoldingClimb      Code = "holding-climb"        // speed, grade; and what that takes
	HoldingTop        Code = "holding-top"          // speed; the same
	HoldingCruise     Code = "holding-cruise"       // speed; the same
	TakesFromPack     Code = "takes-from-pack"      // force, current, volts
	TakesInMotor      Code = "takes-in-motor"       // current
	TimesSine         Code = "times-sine"
	TimesBlocks       Code = "times-blocks"
	BeforeBraking     Code = "before-braking"
	RollsOut          Code = "rolls-out"
	AtRPM             Code = "at-rpm"         // rpm
	AtVolts           Code = "at-volts"       // volts
	ChargeShared      Code = "charge-shared"  // current, motors
	MassesAdded       Code = "masses-added"   // parts
	MassesUnknown     Code = "masses-unknown" // ids
	AsRated           Code = "as-rated"
	AsBriefed         Code = "as-briefed"
	AsAssumed         Code = "as-assumed"
	CellsInSeries     Code = "cells-in-series" // cells, volts
	ChargeLeft        Code = "charge-left"     // share of the charge

	// What is missing to tell.
	NoResistance       Code = "no-resistance"
	NoPackResistance   Code = "no-pack-resistance"
	NoCharge           Code = "no-charge"
	NoChargerNorCharge Code = "no-charger-nor-charge"
	NoDischarge        Code = "no-discharge"
	NoCapacity         Code = "no-capacity"
	NoCutoff           Code = "no-cutoff"
	NoPackPeak         Code = "no-pack-peak"
	NoMotorPeak        Code = "no-motor-peak"
	NoMotorLimit       Code = "no-motor-limit"
	NoCeiling          Code = "no-ceiling"
	NoMount            Code = "no-mount"
	NoShaft            Code = "no-shaft"
	NoCellSize         Code = "no-cell-size"
	NoKeyLimit         Code = "no-key-limit"
	NoHubLength        Code = "no-hub-length"
	NoKeySize          Code = "no-key-size" // shaft
	NoSettings         Code = "no-settings"
	NoHandbookTeeth    Code = "no-handbook-teeth" // profile
	NoGearTeeth        Code = "no-gear-teeth"

	// Why a part is turned away.
	NotGiven  Code = "not-given"  // keys
	IsFalse   Code = "is-false"   // key
	TooLittle Code = "too-little" // of the demand before it: value, limit
	TooMuch   Code = "too-much"   // the same
	RoomFor   Code = "room-for"   // cells, cells of the pack

	// What sets a slope.
	MotorsGiveNoMore  Code = "motors-give-no-more"
	GripGivesNoMore   Code = "grip-gives-no-more"
	PackTakesNone     Code = "pack-takes-none"
	PackIsFullAt      Code = "pack-is-full-at"     // current
	CellsTake         Code = "cells-take"          // current
	SetToTake         Code = "set-to-take"         // current
	FullVoltsAt       Code = "full-volts-at"       // current, share of the charge
	WheelsHoldBraking Code = "wheels-hold-braking" // force
	NoChargeInFrost   Code = "no-charge-in-frost"  // temperature

	// What checks find.
	SetBatteryCurrent Code = "set-battery-current" // current of each motor, of the pack, motors
	KeyIsWeakest      Code = "key-is-weakest"
	BendsSharply      Code = "bends-sharply"   // profile; teeth, handbook's teeth, rpm
	PulleysShare      Code = "pulleys-share"   // teeth, teeth, divisor
	SprocketsShare    Code = "sprockets-share" // the same
	GearsShare        Code = "gears-share"     // the same

	// Tools and small parts.
	ToolHexKeys       Code = "tool-hex-keys"    // what turns; keys of four sizes, threads of four sizes
	ToolScrewBears    Code = "tool-screw-bears" // torque of four sizes
	ToolTorque        Code = "tool-torque"      // mount; torque for three sizes, share of the proof load, K
	ToolLess          Code = "tool-less"
	ToolLock          Code = "tool-lock"
	ToolGrease        Code = "tool-grease"        // gear drive
	ToolChainOil      Code = "tool-chain-oil"     // profile
	ToolChainBreaker  Code = "tool-chain-breaker" // profile
	ToolStrips        Code = "tool-strips"        // current, area of nickel, area of copper
	ToolStripsUnknown Code = "tool-strips-unknown"
	ToolWelder        Code = "tool-welder"
	ToolRings         Code = "tool-rings" // cells
	ToolPaper         Code = "tool-paper"
	ToolShrink        Code = "tool-shrink"        // use; over, down to
	ToolIron          Code = "tool-iron"          // area
	ToolMeter         Code = "tool-meter"         // volts
	ToolSensorLeads   Code = "tool-sensor-leads"  // motor; how many
	ToolStartsSmooth  Code = "tool-starts-smooth" // controller

	// What else to be cautious of.
	SteepestSlope          Code = "steepest-slope" // speed; and the slopes
	FullPackCannotBrake    Code = "full-pack-cannot-brake"
	CeilingLetsGo          Code = "ceiling-lets-go"  // speed
	BackEMFCharges         Code = "back-emf-charges" // speed
	TwoBrakes              Code = "two-brakes"
	BoardSeesNoBraking     Code = "board-sees-no-braking"
	OpenTakesBrake         Code = "open-takes-brake"
	CellsNeverWithoutVolts Code = "cells-never-without-volts"
	FuseAtPole             Code = "fuse-at-pole"
	PrintedGives           Code = "printed-gives"
	WatchTheCharge         Code = "watch-the-charge"

	// What is assumed.
	WiresRun         Code = "wires-run" // to the controllers, to a motor
	WiresLie         Code = "wires-lie" // air, rise, hottest
	VoltsOnLines     Code = "volts-on-lines"
	BrakesAsItDrives Code = "brakes-as-it-drives"
	RoomRoundCells   Code = "room-round-cells" // sleeve, gap, end, wall
	KeyBears         Code = "key-bears"        // pressure, shaft diameters
)
