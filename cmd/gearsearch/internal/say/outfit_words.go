package say

import (
	"math"
	"strings"

	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// outfitRow is the words of a code: a text with a place for each name and, after
// them, for each quantity.
type outfitRow struct {
	text string
	// make makes the text where it depends on what is put in; nil: it does not.
	make func(s sentence) string
	// What stands between the text and the one before it, or the one behind it;
	// "": a semicolon.
	before, after string
}

// outfitWords are the words of every code.
var outfitWords = map[outfit.Code]outfitRow{
	outfit.BuyBMS: {make: buyBMS},
	outfit.BuySwitch: {make: func(s sentence) string {
		return "a main switch that pre-charges, for at least " + s.currents(1, s.at(0))
	}},
	outfit.BuyFuse:          {make: buyFuse},
	outfit.BuyFuseUnmade:    {make: buyFuseUnmade},
	outfit.BuyPlugs:         {make: buyPlugs},
	outfit.BuyPhasePlugs:    {make: buyPhasePlugs},
	outfit.BuyWire:          {make: buyWire},
	outfit.BuyWireUnknown:   {make: func(s sentence) string { return s.wire() + ", for an unknown current" }},
	outfit.BuyWireThicker:   {make: func(s sentence) string { return s.wire() + ", thicker than 4/0 AWG" }},
	outfit.BuyCharger:       {make: buyCharger},
	outfit.BuyRemote:        {text: "a remote with its receiver, whose motors let go when the signal is lost"},
	outfit.BuyBox:           {make: buyBox},
	outfit.BuyBoxUnknown:    {text: "a box for the pack, of unknown size"},
	outfit.BuyBelts:         {make: buyBelts},
	outfit.BuyBeltsUnknown:  {make: func(s sentence) string { return s.belts() + ", of an unknown number of teeth" }},
	outfit.BuyBeltsOfTwo:    {make: func(s sentence) string { return s.belts() + ": none goes on both " + s.Names[0] + " and " + s.Names[1] }},
	outfit.BuyBeltsNone:     {make: func(s sentence) string { return s.belts() + ": no whole number of teeth suits " + s.apart(3) }},
	outfit.BuyChains:        {make: buyChains},
	outfit.BuyChainsUnknown: {make: func(s sentence) string { return s.chains() + ", of an unknown number of links" }},
	outfit.BuyChainsOfTwo: {make: func(s sentence) string {
		return s.chains() + ": none goes on both " + s.Names[0] + " and " + s.Names[1]
	}},
	outfit.BuyChainsNone: {make: func(s sentence) string { return s.chains() + ": no even number of links suits " + s.apart(3) }},
	outfit.BuyMasterLinks: {make: func(s sentence) string {
		return s.counted(0, "master link", "master links") + " of " + s.Names[0] + ", where none comes with the chain"
	}},
	outfit.BuyKeys:         {make: buyKeys},
	outfit.BuyKeysUnknown:  {make: func(s sentence) string { return s.keys() + ", of a size that goes with the unknown shaft" }},
	outfit.BuyKeysOfMaker:  {make: buyKeysOfMaker},
	outfit.BuyScrews:       {make: func(s sentence) string { return s.screws("") }},
	outfit.BuyScrewsOnFlat: {make: func(s sentence) string { return s.screws(" (one on the flat)") }},
	outfit.BuyScrewsOnKey:  {make: func(s sentence) string { return s.screws(" (one on the key)") }},

	outfit.MadeOfCells: {make: func(s sentence) string {
		return "made of " + s.counted(0, "cell", "cells") + " of the next line; strips, holders, wrap and work are not in the price"
	}},
	outfit.LookInsidePack:    {text: "a ready-made pack may have one inside: look before you buy one"},
	outfit.DischargeOutside:  {text: "the discharge does not go through it: the controllers must stop before the cells are empty"},
	outfit.DischargeThrough:  {text: "the discharge goes through it: when it cuts off, as it does when braking fills the pack, the brakes are gone at that moment"},
	outfit.CutsEarly:         {text: "it stops the discharge at %s a cell, before the cells are empty at %s: set the controllers to stop above it, or the ride ends at once"},
	outfit.CutsLate:          {text: "it lets cells fall to %s, below their cut-off of %s: the controllers must stop first"},
	outfit.EvensOut:          {make: evensOut},
	outfit.EvensNothing:      {text: "it does not balance the cells, and they drift apart: use a charger that balances, and check each cell's volts from time to time (common practice, no published source)"},
	outfit.ShortUnknown:      {text: "the pack's resistance is not known: nor is the current of a short that the fuse must break"},
	outfit.FuseOfLessCurrent: {text: "%s would do with the battery current of each motor set to at most %s"},
	outfit.FuseRunsWarm:      {text: "%s continuous are %s of the fuse's %s, more than three quarters: it runs warm and may open, and then nothing drives or brakes"},
	outfit.FuseBearsSeconds:  {text: "a peak of %s is %s of its %s: it does not hold that for long, and when it opens nothing drives or brakes"},
	outfit.PlugsComeAlong:    {text: "many motors and controllers come with plugs that fit each other: look before you buy any"},
	outfit.FillsPack:         {text: "it fills the empty pack in %s or more: the last part of a charge is slower"},
	outfit.LongWarmsLeads:    {text: "%s continuous warms it by %s and costs %s and %s out and back"},
	outfit.PeakWarmsLeads:    {text: "%s, the peak, warms its copper to at most %s in %s, and costs %s and %s out and back"},
	outfit.LongWarmsPhases:   {text: "%s continuous warms it by %s and costs %s in the three wires of a motor"},
	outfit.PeakWarmsPhases:   {text: "%s, the peak, warms its copper to at most %s in %s, and costs %s in the three wires of a motor"},
	outfit.CellsLie:          {make: cellsLie},
	outfit.ShowsTheCharge:    {text: "it shows what the controllers report, such as the charge left"},
	outfit.ShowsNothing:      {text: "it shows nothing of the charge left: look at the pack's volts before a ride, and on the way"},
	outfit.KeyComesAlong:     {text: "motors with a keyway mostly come with a key"},
	outfit.ChainIsCut:        {text: "a chain is sold longer, or by the metre: cut it to %s links, %s mm; an even number closes with the master link"},
	outfit.ScrewsWorkLoose:   {text: "a screw without thread lock works loose, and what slips wears the shaft: look at it after some hours of riding and again later (common practice, no published source)"},

	outfit.DemandSeries:        {text: "cells in series"},
	outfit.DemandCharge:        {text: "charge current"},
	outfit.DemandStops:         {text: "volts of a cell at which it stops charging"},
	outfit.DemandLong:          {text: "continuous current"},
	outfit.DemandSeconds:       {text: "peak current"},
	outfit.DemandDischarge:     {text: "continuous discharge current"},
	outfit.DemandDischargePeak: {text: "peak discharge current"},
	outfit.DemandLongRMS:       {text: "continuous current, RMS"},
	outfit.DemandSecondsRMS:    {text: "peak current, RMS"},
	outfit.DemandVolts:         {text: "volts"},
	outfit.DemandPrecharge:     {text: "it fills the controllers' capacitors before it closes"},
	outfit.DemandRating:        {text: "rating"},
	outfit.DemandBreakVolts:    {text: "direct volts at which it breaks"},
	outfit.DemandBreaks:        {text: "current that it breaks"},
	outfit.DemandPoles:         {text: "contacts of one plug"},
	outfit.DemandWire:          {text: "largest wire"},
	outfit.DemandChargeEnd:     {text: "volts at the end of the charge"},
	outfit.DemandWarm:          {text: "steady current that it bears"},
	outfit.DemandPeak:          {text: "peak current that it bears"},
	outfit.DemandHot:           {text: "current that it bears as long as the fuse holds"},
	outfit.DemandCup:           {text: "copper"},
	outfit.DemandInsulation:    {text: "volts that the insulation bears"},
	outfit.DemandFailsafe:      {text: "the motors let go when its signal is lost"},
	outfit.DemandRoom:          {text: "the cells fit in"},
	outfit.DemandKey:           {text: "key"},
	outfit.DemandKeyWidth:      {text: "width of the key"},
	outfit.DemandTeeth:         {text: "teeth"},
	outfit.DemandLinks:         {text: "links"},

	outfit.PackHasSeries:     {text: "the pack has %s in series"},
	outfit.PackHasVolts:      {text: "the full pack has %s"},
	outfit.CellHasVolts:      {text: "a full cell has %s; at most %s more"},
	outfit.ChargerGives:      {text: "the charger gives %s"},
	outfit.PackTakes:         {text: "the pack may be charged with %s"},
	outfit.PackChargeLimit:   {text: "the pack's charge limit is %s"},
	outfit.ChargedWithin:     {text: "%s in %s"},
	outfit.AtLeastPeak:       {text: "at least the peak of %s / %s", after: ", "},
	outfit.AtLeastShare:      {text: "at least the continuous %s / %s", after: ", "},
	outfit.AtLeastSteady:     {text: "at least the continuous %s", after: ", "},
	outfit.AtMost:            {text: "at most", after: " "},
	outfit.PackGives:         {text: "the pack's discharge limit of %s"},
	outfit.LeadsBear:         {text: "the %s that warm the leads to %s"},
	outfit.ShortOfPack:       {text: "%s / (%s × %s)"},
	outfit.CopperOfWire:      {text: "the wire's copper"},
	outfit.PlugTakesNoMore:   {text: "the plugs take no more"},
	outfit.ForSeconds:        {text: "for %s, from the warmth of the continuous current on; the copper at most at what its insulation bears, and at %s for plugs and joints", before: ", "},
	outfit.FuseHolds:         {text: "a fuse of %s"},
	outfit.CopperWarms:       {text: "the copper at most %s over %s"},
	outfit.WhileFuseHolds:    {text: "as long as the fuse holds; the copper at most at what its insulation bears, and at %s for plugs and joints", before: ", "},
	outfit.ForShaft:          {text: "shaft of %s mm"},
	outfit.ShaftsApart:       {make: func(s sentence) string { return s.apart(0) }},
	outfit.LowerOfPackPeaks:  {text: "the lower of the controllers' settings, %s × %s, and the pack's discharge limit, %s"},
	outfit.SettingsOnly:      {text: "the controllers' settings, %s × %s; the pack's discharge limit is not known"},
	outfit.PackLimitOnly:     {text: "the pack's discharge limit, %s; the controllers' battery_current_a is not known"},
	outfit.LowerOfMotorPeaks: {text: "the lower of the controller's and the motor's limit, %s"},
	outfit.PeakCounts:        {text: "the peak counts", after: ": "},
	outfit.AbovePeak:         {text: "more than the peak of %s, which counts"},
	outfit.HoldingClimb:      {text: "holding %s up %s", after: " "},
	outfit.HoldingTop:        {text: "holding %s on the flat, the top speed", after: " "},
	outfit.HoldingCruise:     {text: "holding %s on the flat, the cruise speed", after: " "},
	outfit.TakesFromPack:     {text: "takes %s and %s from %s"},
	outfit.TakesInMotor:      {text: "takes %s as set in each motor"},
	outfit.TimesSine:         {text: "× 1/√2", before: ", "},
	outfit.TimesBlocks:       {text: "× √(2/3)", before: ", "},
	outfit.BeforeBraking:     {text: "add the distance before the rider brakes"},
	outfit.RollsOut:          {text: "the pack takes no current, so that the board rolls out"},
	outfit.AtRPM:             {text: "at %s"},
	outfit.AtVolts:           {text: "at %s"},
	outfit.MassesAdded:       {make: func(s sentence) string { return s.counted(0, "part", "parts") }},
	outfit.MassesUnknown:     {make: func(s sentence) string { return "the mass of " + listed(s.Names) + " is not known" }},
	outfit.ChargeShared:      {text: "%s / %s"},
	outfit.AsRated:           {text: "as given for it"},
	outfit.AsBriefed:         {text: "as the brief asks"},
	outfit.AsAssumed:         {text: "an assumption"},
	outfit.CellsInSeries:     {text: "%s × %s"},
	outfit.ChargeLeft:        {text: "the pack's volts without a current at %s of its charge, which the range does not count"},

	outfit.NoResistance:       {text: "the motors' resistance is not known"},
	outfit.NoPackResistance:   {text: "the pack's resistance is not known"},
	outfit.NoCharge:           {text: "the pack's charge_a is not known"},
	outfit.NoChargerNorCharge: {text: "neither a charger nor the pack's charge_a is known"},
	outfit.NoDischarge:        {text: "the pack's discharge_a is not known"},
	outfit.NoCutoff:           {text: "the pack's cutoff_v is not known"},
	outfit.NoCapacity:         {text: "the pack's capacity is not known"},
	outfit.NoPackPeak:         {text: "neither the controllers' battery_current_a nor the pack's discharge_a is known"},
	outfit.NoMotorPeak:        {text: "neither the controller's motor_current_a nor the motor's peak_current_a is known"},
	outfit.NoMotorLimit:       {text: "no limit of the motors' current is known"},
	outfit.NoCeiling:          {text: "neither the brief nor the controllers have a ceiling"},
	outfit.NoMount:            {text: "without a mount the distance of the shafts is not known"},
	outfit.NoShaft:            {text: "the motor's shaft_mm is not known"},
	outfit.NoCellSize:         {text: "the diameter or the length of the pack's cells is not known"},
	outfit.NoKeyLimit:         {text: "no limit of the motor's current is known"},
	outfit.NoHubLength:        {text: "how long the hub is that the key sits in is not known"},
	outfit.NoKeySize:          {text: "the table has no key for a shaft of %s mm"},
	outfit.NoSettings:         {text: "the pack's discharge_a is not known: nor is what the controllers may be set to"},
	outfit.NoHandbookTeeth:    {text: "the handbook's least teeth of %s are not known here"},
	outfit.NoGearTeeth:        {text: "the gears' teeth are not known"},

	outfit.NotGiven:  {make: func(s sentence) string { return listed(s.Names) + " not given" }},
	outfit.IsFalse:   {text: "%s is false"},
	outfit.TooLittle: {text: "%s, less than %s", before: " "},
	outfit.TooMuch:   {text: "%s, more than %s", before: " "},
	outfit.RoomFor:   {make: func(s sentence) string { return "has room for " + s.counted(0, "cell", "cells") + ", not " + s.at(1) }},

	outfit.MotorsGiveNoMore: {text: "the motors give no more"},
	outfit.GripGivesNoMore:  {text: "the driven wheels grip no more"},
	outfit.PackTakesNone:    {text: "the pack takes no current"},
	outfit.PackIsFullAt:     {text: "at %s its volts are those of the full pack"},
	outfit.CellsTake:        {text: "the cells may be charged with %s"},

	outfit.SetToTake:         {text: "the pack is set to take %s at most"},
	outfit.FullVoltsAt:       {text: "at %s a pack with %s of its charge has the volts of a full one"},
	outfit.WheelsHoldBraking: {text: "the driven wheels hold %s when they brake, and slide with more"},
	outfit.NoChargeInFrost:   {text: "at %s or below the pack is not to be charged"},

	outfit.ToolHexKeys:       {text: "hex keys of %[2]s, %[3]s, %[4]s, %[5]s mm for set screws of M%[6]s, M%[7]s, M%[8]s, M%[9]s, whichever %[1]s has"},
	outfit.ToolScrewBears:    {text: "no standard says how tight set screws go; the maker of the part does. Sockets of class 45H bear %s, %s, %s, %s, and no more is to be relied on"},
	outfit.ToolTorque:        {text: "a torque wrench for the screws of %[1]s: of class 8.8 in steel at most %[2]s for M4, %[3]s for M5, %[4]s for M6, which is T = K d F with K = %[6]s and F %[5]s of the proof load"},
	outfit.ToolLess:          {text: "less in the aluminium of a motor, with oil and with thread lock: what its maker says"},
	outfit.ToolLock:          {text: "medium thread lock for screws into metal: the road shakes them loose"},
	outfit.ToolGrease:        {text: "grease for the teeth of %s, unless it is closed and filled"},
	outfit.ToolChainBreaker:  {text: "a chain breaker for %s, which takes a pin out: a chain is cut and repaired with it"},
	outfit.ToolChainOil:      {text: "chain oil for %s: a few drops on the inside before a long ride and after each wet one (common practice, no published source)"},
	outfit.ToolStrips:        {text: "strips between the groups of cells for %s continuous: at least %s of nickel or %s of copper in all, from one group to the next"},
	outfit.ToolStripsUnknown: {text: "strips between the groups of cells, of nickel or copper, for an unknown current"},
	outfit.ToolWelder:        {text: "a spot welder that joins these strips: the heat of soldering harms cells"},
	outfit.ToolRings: {make: func(s sentence) string {
		return s.counted(0, "insulating ring", "insulating rings") + " for the plus poles, where the can around is minus"
	}},
	outfit.ToolPaper: {text: "insulating paper between groups that lie side by side and over the ends, and shrink sleeve around the pack"},
	outfit.ToolShrink: {make: func(s sentence) string {
		use := "the pack's leads"
		if s.Names[0] == "phase" {
			use = "the phases"
		}
		return "heat shrink for the joints of " + use + ", from more than " + s.at(0) + " to at most " + s.at(1) + " mm"
	}},
	outfit.ToolIron:  {text: "a soldering iron that heats plugs with copper of %s, or a crimper where the plugs are crimped"},
	outfit.ToolMeter: {text: "a multimeter for direct current of at least %s: for poles, groups of cells and fuse before anything is plugged in"},
	outfit.ToolSensorLeads: {make: func(s sentence) string {
		return s.counted(0, "sensor cable", "sensor cables") + " from " + s.Names[0] + " to the controllers, where none comes along"
	}},
	outfit.ToolStartsSmooth: {text: "%s commutates in six steps: without sensors it starts roughly"},

	outfit.SetBatteryCurrent: {make: setBatteryCurrent},
	outfit.KeyIsWeakest:      {text: "the key is the weakest part of the drive: clamp the pulley as well, or set the motor current lower"},
	outfit.BendsSharply:      {text: "a pulley of %[2]s teeth bends the %[1]s belt more sharply than the handbook's %[3]s at %[4]s: the belt wears out sooner"},
	outfit.PulleysShare:      {text: "pulleys of " + teethShare},
	outfit.SprocketsShare:    {text: "sprockets of " + teethShare},
	outfit.GearsShare:        {text: "gears of " + teethShare},

	outfit.SteepestSlope:          {text: "the steepest slope down which the motors hold %s"},
	outfit.FullPackCannotBrake:    {text: "a full pack cannot brake downhill: start a long descent with room in the pack, and carry a brake that needs no pack"},
	outfit.CeilingLetsGo:          {text: "above %s, downhill too, the electrical rpm passes the controllers' ceiling, and they may cut out"},
	outfit.BackEMFCharges:         {text: "above %s downhill the motors charge even a full pack, and no setting stops them"},
	outfit.OpenTakesBrake:         {text: "when a fuse or a protection board opens, the motors brake no more"},
	outfit.BoardSeesNoBraking:     {text: "a protection board that only the charger goes through does not see the braking current"},
	outfit.TwoBrakes:              {text: "some places ask for two brakes that do not depend on each other: check your local law"},
	outfit.CellsNeverWithoutVolts: {text: "building a pack: cells are always live, and one wrong strip or torn wrap starts a fire; leave it to trained people"},
	outfit.FuseAtPole:             {text: "put the fuse at the pack's positive pole, before anything else: nothing protects the wire between pole and fuse"},
	outfit.PrintedGives:           {text: "printed teeth wear and printed parts give way in heat, which no check here knows: look at them after every ride (common practice, no published source)"},
	outfit.WatchTheCharge:         {text: "stay by while it charges, on ground that cannot burn, with a charger made for this pack; never charge a hot, wet or damaged pack"},

	outfit.WiresRun:         {text: "wires run %s from the pack to the controllers and %s from a controller to its motor"},
	outfit.WiresLie:         {text: "wires lie alone in still air of %s, twice as thick as their copper; the copper may warm by %s continuously and reach %s at the end of a peak of %s, and as long as the fuse holds"},
	outfit.VoltsOnLines:     {text: "a pack's open-circuit volts go with its charge as those of cells of its kind do"},
	outfit.BrakesAsItDrives: {text: "the motors brake with no more current than they drive with"},
	outfit.RoomRoundCells:   {text: "cells have a sleeve of %s, %s between them, %s at each end and %s to the walls of the box"},
	outfit.KeyBears:         {text: "a key with round ends bears %s over at most %s shaft diameters, in a hub as long as the belt is wide that its pulley takes"},
}

const teethShare = "%[1]s and %[2]s teeth share the divisor %[3]s: each tooth meets only one in %[3]s of the other, where a flaw of it wears sooner"

func buyBMS(s sentence) string {
	return "a protection board (bms) for " + s.at(0) + " cells in series of " + s.at(1) + " when full, charged with " + s.borne(2) +
		"; if the discharge goes through it too, for " + s.currents(3)
}

// evensOut says how cells are evened out, as far as it is known.
func evensOut(s sentence) string {
	how := strings.TrimSuffix(s.Names[0]+", ", ", ")
	if s.known(0) {
		how = strings.TrimPrefix(how+", "+s.at(0), ", ")
	}
	text := "it evens the cells out (" + how + ")"
	if s.known(1) {
		text += ": a difference of 1 % of the pack's charge takes it " + s.at(1)
	}
	return text
}

func buyFuse(s sentence) string { return "a fuse of " + s.ratings() + s.breaks() }

func buyFuseUnmade(s sentence) string {
	most := ""
	if s.known(1) {
		most = " and at most " + s.at(1)
	}
	return "a fuse of at least " + s.at(0) + most + ", in which none is made, so set the battery current lower" + s.breaks()
}

// breaks says at what volts a fuse breaks what current.
func (s sentence) breaks() string {
	text := ", for at least " + s.at(2) + " of direct current"
	if s.known(3) {
		text += ", that breaks " + s.at(3)
	}
	return text
}

// ratings are those that a fuse may have.
func (s sentence) ratings() string {
	switch {
	case !s.known(0):
		return "an unknown rating"
	case !s.known(1):
		return "at least " + s.at(0) + " and no more than cells and wire bear"
	case s.at(0) == s.at(1):
		return s.at(0)
	}
	return s.together(" to ", 0, 1)
}

func buyPlugs(s sentence) string {
	text := "a pair of plugs for at least " + s.currents(1, s.at(0))
	if s.known(3) {
		text += ", that takes wire of " + s.at(3)
	}
	return text
}

func buyPhasePlugs(s sentence) string {
	text := s.counted(0, "pair", "pairs") + " of single-pole plugs for the phases, each for " + s.borne(1) + " peak and " + s.borne(2) + " continuous"
	if s.known(3) {
		text += ", that take wire of " + s.at(3)
	}
	return text
}

// wire is the start of what says what wire to buy.
func (s sentence) wire() string {
	use := "the pack's leads"
	if s.Names[0] == "phase" {
		use = "the phases"
	}
	return s.at(0) + " of wire for " + use
}

func buyWire(s sentence) string {
	text := s.wire() + ", " + gauge(int(s.Quantities[1].SI)) + " AWG (" + s.at(2) + ") or thicker"
	if s.known(5) {
		text += " up to the " + s.at(5) + " that the plugs take"
	}
	return text + ", insulated for at least " + s.at(3) + " and " + s.at(4)
}

func buyCharger(s sentence) string {
	text := "a charger that ends at " + s.at(0) + ", of "
	if !s.known(1) {
		return text + "no more current than the cells' maker allows"
	}
	text += "at most " + s.at(1)
	if s.known(2) {
		text += " and at least " + s.at(2)
	}
	return text
}

func buyBox(s sentence) string {
	return "a box in which " + s.counted(0, "cell", "cells") + " of " + s.at(1) + " × " + s.at(2) + " mm fit: inside " + s.together(" × ", 3, 4, 5) +
		" for upright cells in a block of " + s.at(6) + " by " + s.at(7)
}

// belts is the start of what says what belts to buy.
func (s sentence) belts() string {
	return s.counted(0, "belt", "belts") + " for pulleys of " + s.at(1) + " and " + s.at(2) + " teeth"
}

func buyBelts(s sentence) string {
	teeth := s.at(3)
	if s.at(4) != teeth {
		teeth += " to " + s.at(4)
	}
	text := s.belts() + ", of " + s.Names[0] + " with " + teeth + " teeth"
	if s.known(5) {
		text += ", at most " + s.at(5) + " mm wide"
	}
	return text
}

// chains is the start of what says what chains to buy.
func (s sentence) chains() string {
	return s.counted(0, "chain", "chains") + " for sprockets of " + s.at(1) + " and " + s.at(2) + " teeth"
}

func buyChains(s sentence) string {
	links := s.at(3)
	if s.at(4) != links {
		links += " to " + s.at(4)
	}
	return s.chains() + ", of " + s.Names[0] + " with " + links + " links, an even number"
}

// apart says how far apart shafts are, from one distance to the next.
func (s sentence) apart(i int) string { return "shafts " + s.together(" to ", i, i+1) + " apart" }

func (s sentence) keys() string { return s.counted(0, "parallel key", "parallel keys") }

func buyKeys(s sentence) string {
	return s.keys() + " of " + s.at(1) + " × " + s.at(2) + " mm, as long as the hub, for a shaft of " + s.at(3) + " mm"
}

func buyKeysOfMaker(s sentence) string {
	return s.counted(0, "key", "keys") + " as the maker of the motor says: the table has none for a shaft of " + s.at(1) + " mm"
}

// screws says which screws to look for, and where one of them sits.
func (s sentence) screws(where string) string {
	turns := strings.ReplaceAll(s.Names[0], "_", " ")
	return "set screws" + where + " and medium thread lock for " + s.counted(0, turns, turns+"s") + ", where they do not come with it"
}

func cellsLie(s sentence) string {
	return lie(s.Names[0], s.Names[1], int(s.Quantities[0].SI)) + "; it has places for " + s.counted(1, "cell", "cells") +
		" and leaves a block of " + s.together(" × ", 2, 3, 4) + " for what else goes in"
}

// lie says how cells lie: along what, in what rows and in how many layers.
func lie(axis, rows string, layers int) string {
	how := map[string]string{"upright": "upright", "length": "lying along the length", "width": "lying along the width"}[axis]
	return how + ", " + rows + " rows, " + numbered(layers, "one layer", "layers")
}

func setBatteryCurrent(s sentence) string {
	if s.Quantities[2].SI == 1 {
		return "set the battery current to at most " + s.at(0) + ", which the pack bears"
	}
	return "set the battery current of each motor to at most " + s.at(0) + ": the pack bears " + s.at(1) + " for " + s.at(2) + " of them"
}

// factWords are the words of each fact, with places for its quantities.
var factWords = map[string]string{
	"pack_peak_a":        "peak current out of the pack",
	"pack_steady_a":      "continuous current out of the pack",
	"phase_peak_a":       "peak current in a phase wire, RMS",
	"phase_steady_a":     "continuous current in a phase wire, RMS",
	"descent_full_pct":   descent,
	"descent_90_pct":     descent,
	"descent_half_pct":   descent,
	"stop_full_m":        stop,
	"stop_m":             stop,
	"stop_half_m":        stop,
	"ceiling_speed_kmh":  "speed at which the electrical rpm passes the ceiling, downhill too",
	"around_mass_kg":     "mass of the parts around the drivetrain: count it in the brief's board.mass_kg",
	"back_emf_speed_kmh": "speed above which the motors charge even a full pack",
}

const stop = "stopping distance by the motors alone on the flat, from %s with the pack at %s of its charge"

const rollOut = "rolling out on the flat without electric braking, from %s with the pack at %s of its charge, where it takes nothing"

const descent = "steepest slope down which the motors hold %s with the pack at %s of its charge"

// known reports whether a quantity is.
func (s sentence) known(i int) bool { return !math.IsNaN(s.Quantities[i].SI) }

// at is a quantity with its unit.
func (s sentence) at(i int) string { return Quantity(s.Quantities[i], s.system) }

// borne is a current that something must bear.
func (s sentence) borne(i int) string {
	if !s.known(i) {
		return "an unknown current"
	}
	return s.at(i)
}

// currents are the peak and the continuous current that something must bear, each
// with the words before it.
func (s sentence) currents(i int, before ...string) string {
	peak, steady := s.borne(i), s.borne(i+1)
	if peak == steady {
		return listed(append(before, peak))
	}
	return listed(append(before, peak+" peak", steady+" continuous"))
}

// counted is a whole number of things.
func (s sentence) counted(i int, one, more string) string {
	return numbered(int(s.Quantities[i].SI), "1 "+one, more)
}

// together writes quantities with their unit once, such as "60 to 80 mm".
func (s sentence) together(between string, at ...int) string {
	var out []string
	unit := ""
	for _, i := range at {
		var number string
		number, unit = Number(s.Quantities[i], s.system)
		out = append(out, number)
	}
	return strings.Join(out, between) + " " + unit
}

// quantities are the words for several quantities.
func quantities(list []constraints.Quantity, s sentence) []any {
	var out []any
	for _, q := range list {
		out = append(out, Quantity(q, s.system))
	}
	return out
}
