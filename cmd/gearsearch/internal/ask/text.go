package ask

import (
	"io"

	"github.com/urfave/cli/v2"
)

// WriteText writes a text that has one form only to the target of -o.
func (d *Desk) WriteText(c *cli.Context, text []byte) error {
	a, err := d.answerTo(c, FormatTable)
	if err != nil {
		return err
	}
	return a.Write(func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}
