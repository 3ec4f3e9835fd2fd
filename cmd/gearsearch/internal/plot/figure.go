// Package plot draws builds: thrust against speed, climb, heat on the hill, launch,
// stops, the ride over a route, cruise, stops per km, the sieve of teeth, wheel and drive to scale, what a little more or less of each input does,
// and where a build stands among all that are feasible.
//
// What is drawn comes from package drive at every point of a curve; nothing is
// fitted or smoothed. Axes and text are laid out by gonum.org/v1/plot.
//
// # How it stays readable
//
// Curves differ in their dashes and carry their names, so that nothing hangs on
// a colour; the colours are from a set that the usual kinds of colour-blindness
// tell apart (Okabe and Ito, Color Universal Design, 2008), taken dark or light
// enough to stand at a contrast of 3 to 1 on white paper and on a dark page.
// Everything else is drawn in the colour of the text around it. The background
// is transparent. An SVG is plain elements with attributes, no style sheet and
// no script, so that a page may forbid both; each text states the width that
// the layout reckoned with, so that another font cannot push it out of the
// frame.
package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Figure is a drawing with what it shows in words.
type Figure struct {
	Title   string // what it shows
	Of      string // the build it shows it of
	Summary string // what a person who does not see it is told
	width   vg.Length
	height  vg.Length
	rigid   bool // it is laid out for its size alone
	paint   func(c draw.Canvas)
}

// narrowest is the least width that a figure with axes can be laid out for.
const narrowest = 280

// Within is the figure laid out for a width in CSS pixels, so that its texts
// keep their size on a narrow screen. A table keeps its own width, and so does
// a figure that is not wider; none gets narrower than 280.
func (f *Figure) Within(width float64) *Figure {
	w := vg.Length(math.Max(width, narrowest))
	if f.rigid || w >= f.width {
		return f
	}
	out := *f
	out.width = w
	return &out
}

// Size is the width and height in CSS pixels.
func (f *Figure) Size() (width, height float64) { return f.width.Points(), f.height.Points() }

// titleHeight is the strip that a file has above the drawing for its title. A
// page has the title in its own text.
const titleHeight = 40

// Inline is the drawing as an svg element for a page, without its title.
func (f *Figure) Inline() string {
	c := newSVG(f.width, f.height)
	f.paint(draw.NewCanvas(c, f.width, f.height))
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" %s role="img" aria-label="%s">`+"\n%s</svg>",
		decimal(f.width.Points()), decimal(f.height.Points()), rootStyle, escaped(f.Title+". "+f.Summary), c.body.String())
}

// themes lets a file that is opened by itself follow the reader's choice of a
// light or a dark page; on paper it is always dark on light.
const themes = `<style>:root{color-scheme:light dark;color:#1b1b1b}@media screen and (prefers-color-scheme:dark){:root{color:#ececec}}</style>`

// WriteSVG writes the drawing with its title as a file of its own.
func (f *Figure) WriteSVG(w io.Writer) error {
	c := newSVG(f.width, f.height+titleHeight)
	f.titled(draw.NewCanvas(c, f.width, f.height+titleHeight))
	width, height := decimal(f.width.Points()), decimal(f.height.Points()+titleHeight)
	_, err := fmt.Fprintf(w, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" %s role="img" aria-labelledby="title desc">
<title id="title">%s</title>
<desc id="desc">%s</desc>
%s
%s</svg>
`, width, height, width, height, rootStyle, escaped(strings.TrimSuffix(f.Title+": "+f.Of, ": ")), escaped(f.Summary), themes, c.body.String())
	return err
}

// Undrawn stands for a drawing that there is none of, and says why. Only WriteHTML
// writes it.
func Undrawn(title, why string) *Figure { return &Figure{Title: title, Summary: why} }

// WriteHTML writes the drawing as a fragment of a page: a figure element with the
// title, the drawing as an svg element without one, and what it shows in words.
func (f *Figure) WriteHTML(w io.Writer) error {
	if f.paint == nil {
		_, err := fmt.Fprintf(w, "<p class=\"undrawn\">%s: %s</p>\n", escaped(f.Title), escaped(f.Summary))
		return err
	}
	_, err := fmt.Fprintf(w, "<figure>\n<figcaption>%s</figcaption>\n%s\n<p>%s</p>\n</figure>\n", escaped(f.Title), f.Inline(), escaped(f.Summary))
	return err
}

// pngScale is how many dots of a PNG make a CSS pixel: sharp on fine screens
// and, at the width of a column, in print.
const pngScale = 2.5

// WritePNG writes the drawing with its title as a PNG, dark on transparent.
func (f *Figure) WritePNG(w io.Writer) error {
	c := vgimg.NewWith(
		vgimg.UseWH(f.width, f.height+titleHeight),
		vgimg.UseDPI(int(72*pngScale)), // a point of the layout is a CSS pixel
		vgimg.UseBackgroundColor(transparent),
	)
	f.titled(draw.NewCanvas(c, f.width, f.height+titleHeight))
	return png.Encode(w, c.Image())
}

// titled paints the drawing under its title.
func (f *Figure) titled(c draw.Canvas) {
	style := textStyle(13, draw.XLeft, draw.YTop)
	style.Font.Weight = bold
	c.FillText(style, vg.Point{X: c.Min.X + margin, Y: c.Max.Y - 4}, f.Title)
	style = textStyle(labelSize, draw.XLeft, draw.YTop)
	c.FillText(style, vg.Point{X: c.Min.X + margin, Y: c.Max.Y - 21}, fitted(f.Of, style, c.Size().X-2*margin))
	f.paint(draw.Crop(c, 0, 0, 0, -titleHeight))
}

// fitted is a text cut to a width, with an ellipsis where something is cut.
func fitted(s string, style text.Style, width vg.Length) string {
	if style.Width(s) <= width {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && style.Width(string(runes)+"…") > width {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// escaped is a text for XML content or a quoted attribute.
func escaped(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return "" // writing to a buffer does not fail
	}
	return strings.ReplaceAll(b.String(), "\n", " ")
}
