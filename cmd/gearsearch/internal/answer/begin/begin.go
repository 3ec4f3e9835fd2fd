// Package begin answers catalog new: the files to begin with.
package begin

import (
	"errors"
	"io/fs"
	"os"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Write writes files into a folder, which is made where there is none: all of
// them or none.
func Write(d *ask.Desk, dir string, sources []catalog.Source) (err error) {
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		if _, err := d.Files.Vacant(dir); err != nil {
			return err
		}
		if err := os.Mkdir(dir, 0o777); err != nil {
			return err
		}
		defer func() {
			if err != nil {
				os.Remove(dir)
			}
		}()
	}
	targets := make([]*files.Target, len(sources))
	data := make([][]byte, len(sources))
	for i, f := range sources {
		data[i] = f.Data
		if targets[i], err = d.Files.Vacant(f.Name); err != nil {
			return err
		}
	}
	return d.Files.WriteAll(targets, data)
}

// Text names the files written and the next steps.
func Text(parts, brief string) *layout.Text {
	out := &layout.Text{}
	out.Heading("Wrote " + say.Shown(parts) + " and " + say.Shown(brief))
	out.Paragraph("The parts are invented: put your own in their place, and write into the brief what the board must do. Then take these steps; each names the next:")
	rank, check := ask.NewWords(parts, brief)
	out.Verbatim(check, rank+" --save 1=build.toml", "gearsearch sheet build.toml", "gearsearch parts build.toml")
	out.Paragraph("gearsearch catalog schema --reference explains every key.")
	return out
}
