package say

import "gearsearch/catalog"

// PlannedBy says how a column of a sheet got its key.
func PlannedBy(by catalog.PlannedBy) string {
	switch by {
	case catalog.ByKey:
		return "it is the key"
	case catalog.ByMemory:
		return "the sheet remembers it"
	case catalog.ByTold:
		return "you say so"
	case catalog.ByWords:
		return "it is called so"
	case catalog.ByNobody:
		return "it is empty"
	}
	return ""
}
