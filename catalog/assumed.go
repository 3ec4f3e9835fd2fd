package catalog

// What stands for a key that a part does not give. The rows of the kinds say
// so, and whoever computes with a part takes it from here.
const (
	AssumedPolePairs            = 7            // most outrunners of these sizes have 14 magnets: common practice, no published source
	AssumedMaxDuty              = 0.95         // common practice, no published source
	AssumedControllerEfficiency = 0.97         // common practice, no published source
	AssumedGearEfficiency       = 0.97         // one spur or helical mesh is 0.95 to 0.99: Hamrock, Fundamentals of Machine Elements
	AssumedOverhead             = 0.12         // of the cells' mass, for strips, wires, wrap and a protection board: an assumption
	AssumedPneumaticRatio       = 0.97         // rolling radius over free radius of a pneumatic tyre, which flattens under the load: an assumption
	AssumedChemistry            = LiIon        // of a cell: nearly all round cells are, common practice, no published source
	AssumedTyre                 = TyreUrethane // common practice, no published source
)
