// Package convert answers catalog convert.
package convert

import (
	"fmt"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Text names the file or folder written and the next steps.
func Text(c *catalog.Catalog, file string, files []string) *layout.Text {
	out := &layout.Text{}
	n := 0
	for _, k := range c.Count() {
		n += k.N
	}
	text := fmt.Sprintf("Wrote %s with %s", say.Shown(file), say.Counted(uint64(n), "part", "parts"))
	if len(files) > 0 {
		text += " in " + say.Counted(uint64(len(files)), "file", "files")
	}
	out.Heading(text)
	out.Paragraph("Comments are not kept, and lists become single parts; ranges stay ranges.")
	if len(files) > 0 || !ask.IsTOML(file) {
		out.Paragraph("A spreadsheet may save with decimal commas, semicolons or tabs: all are read.")
	}
	out.Heading("Next")
	out.Verbatim("gearsearch catalog check "+say.Typed(file), ask.RankWords([]string{file}, c.Files))
	return out
}
