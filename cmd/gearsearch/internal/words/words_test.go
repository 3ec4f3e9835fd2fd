package words

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

func TestEveryGroupBeginsWithAFigure(t *testing.T) {
	for name := range figureGroups {
		if _, ok := constraints.FigureNamed(name); !ok {
			t.Errorf("a group begins with %s, which is no figure", name)
		}
	}
	if _, ok := FigureGroup(constraints.Figures()[0].Name); !ok {
		t.Error("the first figure is in no group")
	}
}
