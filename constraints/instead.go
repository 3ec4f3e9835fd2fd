package constraints

import "gearsearch/catalog"

// Stand is what is taken in place of a key that a part does not give.
type Stand uint8

// The stands. NothingStands is the zero value: nothing is taken in its place.
const (
	NothingStands     Stand = iota
	NumberStands            // Instead.Number
	WordStands              // Instead.Word
	MassRangeStands         // a range by the mass of the part, or that of its can; see MotorSpans
	ChargeRangeStands       // a range by the ampere-hours; see PackSpan
	HalfVoltsStand          // half the volts: a pack gives its greatest power there
	ControllerStands        // the controller's limit
	MotorStands             // the motor's limit
	MotorPeakStands         // the motor's peak
	PackStands              // the pack's limit
	BriefStands             // what the brief says, where it does, else no limit
	NoLimitStands           // the part is taken to bear all
	AnyBeltStands           // any belt is taken to fit
	PartIsPassedOver        // the part is not chosen where the key must be known
)

// Instead says what stands in place of a key.
type Instead struct {
	Kind, Key string
	Of        func(s *Stock, p *catalog.Part) bool // for which parts, as in Need

	Stand
	Number float64 // in the key's unit
	Word   string
}

// What the assumptions of a problem name too.
var (
	polePairsInstead = Instead{Kind: "motor", Key: "pole_pairs", Stand: NumberStands, Number: catalog.AssumedPolePairs}
	cutoffInstead    = Instead{Kind: "battery", Key: "cutoff_v", Stand: HalfVoltsStand, Of: WithoutCell}
	tyreInstead      = Instead{Kind: "wheel", Key: "tyre", Stand: WordStands, Word: catalog.AssumedTyre.String()}
)

// Insteads lists the keys for which a value is assumed where parts lack them. Keys
// that seldom differ and have a default in the catalog format, such as a controller's
// max_duty, are not among them.
func Insteads() []Instead {
	out := []Instead{
		polePairsInstead,
		{Kind: "motor", Key: "resistance_mohm", Stand: MassRangeStands},
		{Kind: "motor", Key: "no_load_current_a", Stand: MassRangeStands},
		{Kind: "motor", Key: "peak_current_a", Stand: ControllerStands},
		{Kind: "motor", Key: "max_volts", Stand: ControllerStands},
		{Kind: "controller", Key: "erpm_ceiling", Stand: BriefStands},
		{Kind: "controller", Key: "max_volts", Stand: MotorStands},
		{Kind: "controller", Key: "motor_current_a", Stand: MotorPeakStands},
		{Kind: "controller", Key: "battery_current_a", Stand: PackStands},
		{Kind: "controller", Key: "continuous_current_a", Stand: NoLimitStands},
		{Kind: "cell", Key: "resistance_mohm", Stand: ChargeRangeStands, Of: GoesByCell(func(b *catalog.Battery) float64 { return b.Resistance })},
		{Kind: "battery", Key: "resistance_mohm", Stand: ChargeRangeStands, Of: WithoutCell},
		cutoffInstead,
		{Kind: "pulley", Key: "width_mm", Stand: AnyBeltStands},
		tyreInstead,
	}
	for _, n := range massNeeds() {
		out = append(out, Instead{Kind: n.Kind, Key: n.Key, Of: n.Of, Stand: NumberStands, Number: 0})
	}
	return out
}
