package plot

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
)

// drawing is an SVG read back.
type drawing struct {
	width, height float64
	title, desc   string
	texts         []textElement
	paths         []pathElement
	attributes    map[string]bool // every attribute name that occurs
	elements      map[string]bool
}

type textElement struct {
	text         string
	x, y         float64
	size, length float64
	turned       bool
	bold         bool
}

type pathElement struct {
	stroke, fill, dash, opacity, data string
	points                            [][2]float64
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		t.Fatalf("%q is no number", s)
	}
	return x
}

var coordinate = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// read parses an SVG.
func read(t testing.TB, svg string) *drawing {
	t.Helper()
	d := &drawing{attributes: map[string]bool{}, elements: map[string]bool{}}
	decoder := xml.NewDecoder(strings.NewReader(svg))
	var into *string
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return d
		}
		if err != nil {
			t.Fatalf("no XML: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			d.elements[e.Name.Local] = true
			for _, a := range e.Attr {
				d.attributes[a.Name.Local] = true
			}
			into = d.element(t, e)
		case xml.CharData:
			if into != nil {
				*into += string(e)
			}
		case xml.EndElement:
			into = nil
		}
	}
}

// element takes an element and returns where its text goes.
func (d *drawing) element(t testing.TB, e xml.StartElement) *string {
	t.Helper()
	switch e.Name.Local {
	case "svg":
		box := strings.Fields(attribute(e, "viewBox"))
		if len(box) != 4 {
			t.Fatalf("viewBox %q", box)
		}
		d.width, d.height = number(t, box[2]), number(t, box[3])
		d.title = attribute(e, "aria-label")
	case "title":
		return &d.title
	case "desc":
		return &d.desc
	case "text":
		d.texts = append(d.texts, textElement{
			x: number(t, attribute(e, "x")), y: number(t, attribute(e, "y")),
			size: number(t, attribute(e, "font-size")), length: number(t, attribute(e, "textLength")),
			turned: attribute(e, "transform") != "", bold: attribute(e, "font-weight") == "bold",
		})
		return &d.texts[len(d.texts)-1].text
	case "path":
		p := pathElement{stroke: attribute(e, "stroke"), fill: attribute(e, "fill"), dash: attribute(e, "stroke-dasharray"), opacity: attribute(e, "stroke-opacity"), data: attribute(e, "d")}
		data := p.data
		if strings.ContainsAny(data, "NI") { // NaN, Inf
			t.Fatalf("path %s", data)
		}
		if !strings.Contains(data, "A") {
			for pair := range pairs(coordinate.FindAllString(data, -1)) {
				p.points = append(p.points, [2]float64{number(t, pair[0]), number(t, pair[1])})
			}
		}
		d.paths = append(d.paths, p)
	}
	return nil
}

func pairs(list []string) func(func([2]string) bool) {
	return func(yield func([2]string) bool) {
		for i := 0; i+1 < len(list); i += 2 {
			if !yield([2]string{list[i], list[i+1]}) {
				return
			}
		}
	}
}

// has reports whether some text contains s.
func (d *drawing) has(s string) bool {
	for _, e := range d.texts {
		if strings.Contains(e.text, s) {
			return true
		}
	}
	return false
}

// box is the box of a text: from an ascender above its line to a descender
// below it.
func (e textElement) box() (left, top, right, bottom float64) {
	return e.x, e.y - 0.75*e.size, e.x + e.length, e.y + 0.22*e.size
}

// TestCanvas draws one of everything with every transform.
func TestCanvas(t *testing.T) {
	c := newSVG(100, 50)
	var path vg.Path
	path.Move(vg.Point{X: 10, Y: 10})
	path.Line(vg.Point{X: 20, Y: 10})
	path.QuadTo(vg.Point{X: 25, Y: 15}, vg.Point{X: 30, Y: 10})
	path.CubeTo(vg.Point{X: 31, Y: 11}, vg.Point{X: 32, Y: 12}, vg.Point{X: 33, Y: 10})
	path.Close()
	c.Push()
	c.SetLineWidth(2)
	c.SetLineDash([]vg.Length{3, 1.5}, 1)
	c.SetColor(hues[0])
	c.Stroke(path)
	c.Pop()
	c.Fill(path)
	c.Push()
	c.Translate(vg.Point{X: 50, Y: 25})
	c.Rotate(math.Pi / 2)
	c.Scale(2, 2)
	var line vg.Path
	line.Move(vg.Point{})
	line.Line(vg.Point{X: 10}) // to the right: turned up, twice as long
	c.SetColor(faint(0.5))
	c.Stroke(line)
	style := textStyle(10, 0, 0)
	c.FillString(style.Handler.Cache().Lookup(style.Font, 10), vg.Point{}, "a<b")
	c.Pop()
	c.SetLineWidth(0)
	c.Stroke(line) // has no width
	var circle vg.Path
	circle.Move(vg.Point{X: 14, Y: 10})
	circle.Arc(vg.Point{X: 10, Y: 10}, 4, 0, -2*math.Pi)
	c.Fill(circle)
	want := `<path d="M10 40L20 40Q25 35 30 40C31 39 32 38 33 40Z" fill="none" stroke="#0072b2" stroke-width="2" stroke-dasharray="3 1.5" stroke-dashoffset="1"/>
<path d="M10 40L20 40Q25 35 30 40C31 39 32 38 33 40Z" fill="currentColor"/>
<path d="M50 25L50 5" fill="none" stroke="currentColor" stroke-opacity="0.5" stroke-width="1"/>
<text x="50" y="25" transform="rotate(-90 50 25)" font-size="10" textLength="` +
		decimal(style.Width("a<b").Points()) + `" fill-opacity="0.5">a&lt;b</text>
<path d="M14 40L14 40A4 4 0 0 1 6 40A4 4 0 0 1 14 40" fill="currentColor"/>
`
	if got := c.body.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestFile: both files of a figure are whole, and an SVG stands by itself.
func TestFile(t *testing.T) {
	f, err := Thrust(subject(t, 0))
	if err != nil {
		t.Fatal(err)
	}
	var svg bytes.Buffer
	if err := f.WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	d := read(t, svg.String())
	if d.title != f.Title+": "+f.Of || d.desc != f.Summary {
		t.Errorf("title %q, description %q", d.title, d.desc)
	}
	for _, name := range []string{"script", "image", "a", "use", "foreignObject", "link"} {
		if d.elements[name] {
			t.Errorf("an SVG has an element %s", name)
		}
	}
	if strings.Count(svg.String(), "http") != 1 {
		t.Error("an address beside the name of the XML namespace")
	}
	if got := fmt.Sprint(f.Size()); got != "440 300" {
		t.Errorf("size %s", got)
	}
}

// TestWithin lays figures out for narrow screens: the frame is as wide as the
// place, texts keep their sizes, and tables keep their width.
func TestWithin(t *testing.T) {
	s := subject(t, 0)
	for _, tt := range []struct {
		kind        string
		width, want float64
		why         string
	}{
		{"thrust", 320, 320, "axes give way"},
		{"cruise", 300, 300, "axes over each other do"},
		{"thrust", 100, narrowest, "but not for ever"},
		{"thrust", 9999, figureWidth, "and never grow"},
		{"sensitivity", 300, 500, "a table keeps its width"},
	} {
		f, err := single[tt.kind](s)
		if err != nil {
			t.Fatal(err)
		}
		wide := sizes(f.Inline())
		f = f.Within(tt.width)
		if got, _ := f.Size(); got != tt.want {
			t.Errorf("%s: %s within %g is %g wide, want %g", tt.why, tt.kind, tt.width, got, tt.want)
		}
		if narrow := sizes(f.Inline()); !maps.Equal(wide, narrow) {
			t.Errorf("%s: texts of %v become %v", tt.why, wide, narrow)
		}
	}
}

// sizes are the sizes of text in a drawing.
func sizes(svg string) map[string]bool {
	out := map[string]bool{}
	for _, m := range regexp.MustCompile(`font-size="[^"]*"`).FindAllString(svg, -1) {
		out[m] = true
	}
	return out
}
