package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// svgCanvas draws to SVG elements with presentation attributes: the SVG canvas
// of the plot library writes style attributes, which a page that forbids styles
// ignores, and fixed colours. Coordinates are transformed here, so that every
// element stands by itself in the frame, whose origin is its upper left corner.
type svgCanvas struct {
	body  strings.Builder
	state state
	stack []state
	size  vg.Point
}

// state is what Push keeps.
type state struct {
	colour color.Color
	width  vg.Length
	dash   []vg.Length
	offset vg.Length
	to     matrix // from the canvas's coordinates to the frame's
}

// matrix is an affine map: x′ = a x + c y + e, y′ = b x + d y + f.
type matrix struct{ a, b, c, d, e, f float64 }

// times is m after o.
func (m matrix) times(o matrix) matrix {
	return matrix{
		m.a*o.a + m.c*o.b, m.b*o.a + m.d*o.b,
		m.a*o.c + m.c*o.d, m.b*o.c + m.d*o.d,
		m.a*o.e + m.c*o.f + m.e, m.b*o.e + m.d*o.f + m.f,
	}
}

func (m matrix) apply(p vg.Point) (x, y float64) {
	px, py := p.X.Points(), p.Y.Points()
	return m.a*px + m.c*py + m.e, m.b*px + m.d*py + m.f
}

func newSVG(width, height vg.Length) *svgCanvas {
	c := &svgCanvas{size: vg.Point{X: width, Y: height}}
	c.state.to = matrix{a: 1, d: -1, f: height.Points()} // up is down
	vg.Initialize(c)
	c.SetColor(ink)
	return c
}

func (c *svgCanvas) SetLineWidth(w vg.Length)               { c.state.width = w }
func (c *svgCanvas) SetLineDash(d []vg.Length, o vg.Length) { c.state.dash, c.state.offset = d, o }
func (c *svgCanvas) SetColor(colour color.Color)            { c.state.colour = colour }
func (c *svgCanvas) Push()                                  { c.stack = append(c.stack, c.state) }

func (c *svgCanvas) Pop() {
	c.state, c.stack = c.stack[len(c.stack)-1], c.stack[:len(c.stack)-1]
}

func (c *svgCanvas) Rotate(radians float64) {
	sin, cos := math.Sincos(radians)
	c.state.to = c.state.to.times(matrix{cos, sin, -sin, cos, 0, 0})
}

func (c *svgCanvas) Translate(p vg.Point) {
	c.state.to = c.state.to.times(matrix{1, 0, 0, 1, p.X.Points(), p.Y.Points()})
}

func (c *svgCanvas) Scale(x, y float64) {
	c.state.to = c.state.to.times(matrix{x, 0, 0, y, 0, 0})
}

func (c *svgCanvas) Stroke(path vg.Path) {
	if c.state.width <= 0 || len(path) == 0 {
		return
	}
	fmt.Fprintf(&c.body, `<path d="%s" fill="none" stroke="%s"`, c.data(path), c.paint())
	c.opacity("stroke-opacity")
	fmt.Fprintf(&c.body, ` stroke-width="%s"`, decimal(c.state.width.Points()))
	if len(c.state.dash) > 0 {
		var lengths []string
		for _, d := range c.state.dash {
			lengths = append(lengths, decimal(d.Points()))
		}
		fmt.Fprintf(&c.body, ` stroke-dasharray="%s"`, strings.Join(lengths, " "))
		if c.state.offset != 0 {
			fmt.Fprintf(&c.body, ` stroke-dashoffset="%s"`, decimal(c.state.offset.Points()))
		}
	}
	c.body.WriteString("/>\n")
}

func (c *svgCanvas) Fill(path vg.Path) {
	if len(path) == 0 {
		return
	}
	fmt.Fprintf(&c.body, `<path d="%s" fill="%s"`, c.data(path), c.paint())
	c.opacity("fill-opacity")
	c.body.WriteString("/>\n")
}

// FillString writes a text and the width that its layout reckoned with.
func (c *svgCanvas) FillString(face font.Face, at vg.Point, text string) {
	if face.Font.Size == 0 || strings.TrimSpace(text) == "" {
		return
	}
	x, y := c.state.to.apply(at)
	fmt.Fprintf(&c.body, `<text x="%s" y="%s"`, decimal(x), decimal(y))
	if turn := math.Atan2(-c.state.to.b, c.state.to.a) * 180 / math.Pi; math.Abs(turn) > 1e-9 {
		fmt.Fprintf(&c.body, ` transform="rotate(%s %s %s)"`, decimal(-turn), decimal(x), decimal(y))
	}
	fmt.Fprintf(&c.body, ` font-size="%s"`, decimal(face.Font.Size.Points()))
	if face.Font.Weight == xfont.WeightBold {
		c.body.WriteString(` font-weight="bold"`)
	}
	fmt.Fprintf(&c.body, ` textLength="%s"`, decimal(face.Width(text).Points()))
	if paint := c.paint(); paint != rootPaint {
		fmt.Fprintf(&c.body, ` fill="%s"`, paint)
	}
	c.opacity("fill-opacity")
	fmt.Fprintf(&c.body, ">%s</text>\n", escaped(text))
}

// What the root element sets for all text: fonts, first those that have the
// widths of the font that lays out, and the colour of the text around.
const (
	fontFamily = "Liberation Sans, Arial, Helvetica, sans-serif"
	rootPaint  = "currentColor"
	rootStyle  = `font-family="` + fontFamily + `" fill="` + rootPaint + `"`
)

// DrawImage is part of the interface; nothing here draws images.
func (c *svgCanvas) DrawImage(vg.Rectangle, image.Image) {}

// paint is the colour as an attribute: the ink is the colour of the text
// around the drawing.
func (c *svgCanvas) paint() string {
	rgb := c.rgb()
	if rgb.R == ink.R && rgb.G == ink.G && rgb.B == ink.B {
		return rootPaint
	}
	return fmt.Sprintf("#%02x%02x%02x", rgb.R, rgb.G, rgb.B)
}

func (c *svgCanvas) rgb() color.NRGBA {
	if c.state.colour == nil {
		return ink
	}
	rgb, _ := color.NRGBAModel.Convert(c.state.colour).(color.NRGBA)
	return rgb
}

func (c *svgCanvas) opacity(name string) {
	if a := c.rgb().A; a != 0xff {
		fmt.Fprintf(&c.body, ` %s="%s"`, name, decimal(float64(a)/255))
	}
}

// data is a path in the frame's coordinates.
func (c *svgCanvas) data(path vg.Path) string {
	var b strings.Builder
	point := func(letter string, p vg.Point) {
		x, y := c.state.to.apply(p)
		b.WriteString(letter + decimal(x) + " " + decimal(y))
	}
	for _, comp := range path {
		switch comp.Type {
		case vg.MoveComp:
			point("M", comp.Pos)
		case vg.LineComp:
			point("L", comp.Pos)
		case vg.CurveComp:
			letter := [...]string{"L", "Q", "C"}[len(comp.Control)]
			for _, p := range comp.Control {
				point(letter, p)
				letter = " "
			}
			point(letter, comp.Pos)
		case vg.ArcComp:
			c.arc(&b, comp)
		case vg.CloseComp:
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// arc writes an arc as two, since one cannot end where it begins.
func (c *svgCanvas) arc(b *strings.Builder, comp vg.PathComp) {
	at := func(share float64) vg.Point {
		sin, cos := math.Sincos(comp.Start + share*comp.Angle)
		return comp.Pos.Add(vg.Point{X: comp.Radius * vg.Length(cos), Y: comp.Radius * vg.Length(sin)})
	}
	x, y := c.state.to.apply(at(0))
	if b.Len() == 0 {
		fmt.Fprintf(b, "M%s %s", decimal(x), decimal(y))
	} else {
		fmt.Fprintf(b, "L%s %s", decimal(x), decimal(y))
	}
	r, sweep := decimal(comp.Radius.Points()), 0 // counter-clockwise, with y down
	if comp.Angle < 0 {
		sweep = 1
	}
	for _, share := range []float64{0.5, 1} {
		x, y := c.state.to.apply(at(share))
		fmt.Fprintf(b, "A%s %s 0 0 %d %s %s", r, r, sweep, decimal(x), decimal(y))
	}
}

// decimal is a coordinate with two decimals at most, far finer than a screen
// or a printer shows.
func decimal(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
