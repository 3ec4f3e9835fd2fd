package say

import (
	"testing"

	"gearsearch/constraints"
)

func TestEveryLimitHasAMeaning(t *testing.T) {
	for _, word := range constraints.LimitWords() {
		if LimitMeaning(Limit(word)) == "" {
			t.Errorf("what %s means is not said", word)
		}
	}
}
