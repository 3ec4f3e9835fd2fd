package say

import "gearsearch/constraints"

// ERPMRule says when electrical rpm is held against a ceiling under a brief;
// target names the speed that is asked for.
func ERPMRule(b *constraints.Brief, target string) string {
	switch b.Limit.ERPMRule {
	case constraints.AtSpeed:
		return "at " + target
	case constraints.AtTop:
		return "at its own top speed with a full pack"
	}
	return "free-spinning with a full pack"
}
