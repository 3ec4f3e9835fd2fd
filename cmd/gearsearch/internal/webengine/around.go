package webengine

import (
	"math"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// around is what a build needs around its drivetrain, and what all of it costs.
type around struct {
	Needs   []need   `json:"needs"`
	Total   string   `json:"total"` // of the build and its needs, as far as prices are known
	AtLeast bool     `json:"atLeast"`
	Care    []string `json:"care"` // in building and riding it

	Invented bool `json:"invented,omitempty"` // parts that the total is of are
}

// need is one line of it: a part of the catalog, or in words what it must be.
type need struct {
	For    string `json:"for"`
	Pieces string `json:"pieces"`
	ID     string `json:"id,omitempty"`
	Name   string `json:"name"`
	Note   string `json:"note,omitempty"`
	Link   string `json:"link,omitempty"` // as the catalog has it: any text
	Price  string `json:"price"`          // "" where nothing is chosen, "?" for unknown
	Owned  bool   `json:"owned,omitempty"`

	Invented bool `json:"invented,omitempty"` // of the demo
}

// newAround completes a build.
func newAround(b *constraints.Build, system quantity.System) *around {
	o := outfit.Complete(b, outfit.DefaultWishes())
	currency := b.Problem.Catalog.Currency
	out := &around{
		Needs: []need{}, Total: say.Money(cents(o.Total.Known)) + " " + currency, AtLeast: o.Total.Missing, Care: some(say.OutfitCare(o, system)),
		Invented: say.InventedIn(b),
	}
	for _, n := range o.Needs {
		l := n.Line()
		x := need{
			For: strings.ReplaceAll(l.Slot, "_", " "), Pieces: strconv.Itoa(l.Pieces) + " ×", ID: l.ID, Name: l.Name, Note: say.Statement(l.Note, system),
			Link: l.Link, Owned: l.Owned, Invented: l.Invented,
		}
		if n.Kind == "wire" {
			x.Pieces = strconv.Itoa(l.Pieces) + " m"
		}
		switch {
		case n.Part == nil:
			x.Name, x.Note = say.Statement(n.Buy, system), strings.Join(say.Notes(n.Notes, system), "; ")
		case math.IsNaN(l.Total):
			x.Price = "?"
		default:
			x.Price = say.Money(cents(l.Total)) + " " + currency
		}
		out.Needs = append(out.Needs, x)
		out.Invented = out.Invented || x.Invented
	}
	return out
}

// cents is an amount without the dust of sums.
func cents(x float64) float64 { return math.Round(100*x) / 100 }
