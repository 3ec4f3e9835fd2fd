// Package report writes a ranking as one HTML file to look at, on a screen or on
// paper: the document of package leaf, with drawings.
//
// The file needs nothing but itself: no address outside is ever asked, and a
// content security policy in it forbids that, and any script or style but its
// own. It says everything without JavaScript, which only adds order: sorting,
// filtering, other weights, builds side by side.
package report

import (
	"crypto/sha256"
	"encoding/base64"
	"io"

	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Input is what a page is made of.
type Input struct {
	leaf.Input
	Field *leaf.Field // every feasible build as a point; may be nil
}

// New makes the document of a ranking. Of an interrupted search nothing is
// drawn: most of a page's time goes there.
func New(in Input) *leaf.Document {
	d := leaf.New(in.Input)
	r := in.Result
	artist := &artist{in.System, in.Strict}
	var first []search.Scored
	for s := range r.Builds() {
		if len(first) == len(d.Cards) {
			break
		}
		first = append(first, s)
	}
	if r.Complete {
		for i, s := range first {
			artist.draw(d.Cards[i], s.Build)
		}
		if in.Near != nil {
			artist.draw(d.Nearest, in.Near.Build)
		}
	}
	var list []*constraints.Build
	for s := range r.Builds() {
		list = append(list, s.Build)
	}
	d.Data.Charts = append(d.Data.Charts, leaf.Rides(list, in.System)...)
	d.Field = in.Field.Node()
	return d
}

// Write writes the document as an HTML file.
func Write(w io.Writer, d *leaf.Document) error { return leaf.Write(w, d, policy()) }

// policy is the content security policy: this style and this script, and nothing
// from anywhere. The empty icon keeps browsers from asking for one.
func policy() string {
	hash := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return "default-src 'none'; img-src data:; style-src " + hash(leaf.Style) + "; script-src " + hash(leaf.PageScript()) + "; base-uri 'none'; form-action 'none'"
}
