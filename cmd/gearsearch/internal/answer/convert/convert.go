// Package convert answers catalog convert.
package convert

import (
	"fmt"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Page says what was written and what to do with it.
func Page(c *catalog.Catalog, out string, files []string) *layout.Page {
	p := &layout.Page{}
	n := 0
	for _, k := range c.Count() {
		n += k.N
	}
	text := fmt.Sprintf("Wrote %s with %s", say.Shown(out), say.Counted(uint64(n), "part", "parts"))
	if len(files) > 0 {
		text += " in " + say.Counted(uint64(len(files)), "file", "files")
	}
	p.Heading(text)
	p.Text("Comments are not kept, and families are written out part by part.")
	if len(files) > 0 {
		p.Text("A spreadsheet may save with decimal commas, semicolons or tabs: all are read.")
	}
	p.Heading("Next")
	p.Verbatim("gearsearch catalog check "+say.Typed(out), ask.RankWords([]string{out}, c.Files))
	return p
}
