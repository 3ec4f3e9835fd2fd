package plot

import (
	"image/color"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// ink is the colour of text and axes. In an SVG it is the colour of the text
// around the drawing.
var ink = color.NRGBA{R: 0x1b, G: 0x1b, B: 0x1b, A: 0xff}

var transparent = color.NRGBA{}

// hues are the colours of curves, in the order in which they are given out:
// blue, vermilion, green and purple, each dark enough for white paper and light
// enough for a dark page.
var hues = []color.NRGBA{
	{R: 0x00, G: 0x72, B: 0xb2, A: 0xff},
	{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff},
	{R: 0x00, G: 0x92, B: 0x6a, A: 0xff},
	{R: 0xb8, G: 0x5c, B: 0x93, A: 0xff},
}

// faint is the ink with a share of its weight.
func faint(share float64) color.NRGBA {
	c := ink
	c.A = uint8(255 * share)
	return c
}

// dashes are the patterns of curves, by the same order as hues.
var dashes = [][]vg.Length{nil, {7, 3}, {2, 2.5}, {8, 2.5, 2, 2.5}}

// stroke is how one curve is drawn.
type stroke struct {
	colour color.NRGBA
	dash   []vg.Length
	width  vg.Length
}

// strokeOf is the stroke of the curve with a number from 0.
func strokeOf(n int) stroke {
	return stroke{hues[n%len(hues)], dashes[n%len(dashes)], 1.8}
}

func (s stroke) line() draw.LineStyle {
	return draw.LineStyle{Color: s.colour, Width: s.width, Dashes: s.dash}
}

// Sizes of text.
const (
	tickSize  = 10
	labelSize = 10.5
	smallSize = 9
)

const bold = xfont.WeightBold

// textStyle is sans-serif text in ink.
func textStyle(size vg.Length, x draw.XAlignment, y draw.YAlignment) text.Style {
	return text.Style{
		Color:   ink,
		Font:    font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign:  x,
		YAlign:  y,
		Handler: plot.DefaultTextHandler,
	}
}
