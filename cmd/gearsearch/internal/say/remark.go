package say

import (
	"fmt"
	"math"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints/audit"
)

// Remark is a remark on a catalog as a problem prints: with the place, the line
// and a hint.
func Remark(r audit.Remark) field.Problem {
	row := remarkWords[r.Code]
	return field.ProblemAt(r.At, row.hint, r.Kind+" "+field.Few(r.IDs)+": "+row.says(r.Quantities, r.Kind == "sprocket" || r.Kind == "chain"))
}

// says is what the row says with its quantities, in the words of chains where it is
// about parts of those.
func (r *remarkRow) says(q []audit.Quantity, chained bool) string {
	if r.make != nil {
		return ofChain(r.make(q), chained) // what is put in has no words of belts but those
	}
	return put(ofChain(r.text, chained), q...)
}

// put puts quantities in the places of a text.
func put(text string, quantities ...audit.Quantity) string {
	words := make([]any, len(quantities))
	for i, q := range quantities {
		if words[i], _ = Number(q.Quantity, quantity.Metric); q.Names != nil {
			words[i] = field.Few(q.Names)
		}
	}
	return fmt.Sprintf(text, words...)
}

// noChemistryText says which voltages a cell has, or a cell of a pack: full,
// nominal, cut-off where it is known, and how many are in series.
func noChemistryText(q []audit.Quantity) string {
	text := put("%s V full, %s V nominal", q[0], q[1])
	if !math.IsNaN(q[2].SI) {
		text += put(", %s V empty", q[2])
	}
	if q[3].SI > 1 {
		text += put(" for each of %s cells", q[3])
	}
	return text + ": no chemistry has these voltages"
}

func packLightText(q []audit.Quantity) string {
	count, have := cellsHave(q[1])
	return put("mass_g is %s; its "+count+" alone "+have+" %s", q[0], q[2])
}

func packHeavyText(q []audit.Quantity) string {
	count, have := cellsHave(q[1])
	return put("mass_g is %s, more than twice what its "+count+" "+have+", %s", q[0], q[2])
}

// cellsHave puts a number of cells with its noun and verb.
func cellsHave(n audit.Quantity) (count, have string) {
	if n.SI == 1 {
		return "cell", "has"
	}
	return put("%s cells", n), "have"
}

func nothingOnShaftText(q []audit.Quantity) string {
	text := inNoBuild + "no motor pulley, sprocket or gear drive goes on its shaft"
	if math.IsNaN(q[0].SI) {
		return text
	}
	return text + put(" of %s mm", q[0])
}

func nothingOnHubText(q []audit.Quantity) string {
	if len(q[0].Names) == 0 {
		return inNoBuild + "no wheel pulley, sprocket or gear drive goes on it"
	}
	return inNoBuild + put("no wheel pulley, sprocket or gear drive has its hub, %s", q[0])
}

// noSuchPulleyText names the slot of the pulley that there is not, and the
// profile that it would have to have.
func noSuchPulleyText(q []audit.Quantity) string {
	return inNoBuild + "no " + Change(q[0].Names) + put(" that is left has its profile, %s", q[1])
}

func noBeltForItText(q []audit.Quantity) string {
	return inNoBuild + "no belt holds it and a " + Change(q[0].Names) + " as far apart as a mount does"
}
