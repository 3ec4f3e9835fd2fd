package gpx

import (
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/constraints/route"
)

// radius of the earth in m: the mean radius R₁ of the GRS 80 ellipsoid, 6 371 008.771 4 m
// (Moritz, Geodetic Reference System 1980, J. Geodesy 74, 2000), to a decimetre.
const radius = 6_371_008.8

// point is a point of a way.
type point struct {
	lat, lon     float64 // degrees
	height       float64 // m; NaN: not given
	line, column int     // where it stands
	wrong        mistake
}

// mistake is a kind of what is wrong with a point.
type mistake struct{ message, hint string }

const fewHeights = "heights are added by programs that know the ground; or write a CSV file with distance_m and height_m"

// newPoint reads the attributes of a point.
func newPoint(t xml.StartElement, line, column int) point {
	p := point{height: math.NaN(), line: line, column: column}
	p.lat = p.degrees(t, "lat", 90)
	p.lon = p.degrees(t, "lon", 180)
	return p
}

// degrees reads an angle of at most so many degrees.
func (p *point) degrees(t xml.StartElement, name string, most float64) float64 {
	text := attribute(t, name)
	switch x, ok := number(text); {
	case text == "":
		p.mistake("point has no "+name, "")
	case !ok:
		p.mistake(fmt.Sprintf("%s is %s, must be a number", name, field.Quote(text)), pointed(text))
	case math.Abs(x) > most:
		p.mistake(fmt.Sprintf("%s is %s, must be -%v to %v", name, text, most, most), "")
	default:
		return x
	}
	return math.NaN()
}

// setHeight reads the height of the point.
func (p *point) setHeight(text string) {
	switch x, ok := number(text); {
	case text == "": // as if there were none
	case !ok:
		p.mistake(fmt.Sprintf("ele is %s, must be a number", field.Quote(text)), pointed(text))
	case x < route.MinHeight || x > route.MaxHeight:
		p.mistake(fmt.Sprintf("ele is %s, must be %d to %d m", text, route.MinHeight, route.MaxHeight), "")
	default:
		p.height = x
	}
}

// mistake notes the first thing that is wrong with the point.
func (p *point) mistake(message, hint string) {
	if p.wrong.message == "" {
		p.wrong = mistake{message, hint}
	}
}

// maxNumber is longer than any number that is read, in bytes.
const maxNumber = 64

// number reads a decimal number.
func number(text string) (x float64, ok bool) {
	if len(text) >= maxNumber || strings.ContainsAny(text, "xX_") {
		return 0, false
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil && !math.IsNaN(x) && !math.IsInf(x, 0)
}

// pointed says how to write a number with a decimal comma.
func pointed(text string) string {
	plain := strings.Replace(text, ",", ".", 1)
	if _, ok := number(plain); !ok {
		return ""
	}
	return "write " + plain + ", with a decimal point"
}

// line is what points say of a way, as far as they are read.
type line struct {
	points int
	last   point
	marked point  // the last that has a mark
	marks  []mark // of the points, but for those in the place of the one before

	wrong []fault
}

// place is how near to each other, in m, points are in one place: there the first counts,
// since what the height does is no slope.
const place = 1e-3

// mark is how high a way is at a distance from its start, both in m.
type mark struct{ at, height float64 }

// length is how far the line goes, m.
func (l *line) length() float64 {
	if len(l.marks) == 0 {
		return 0
	}
	return l.marks[len(l.marks)-1].at
}

// fault is a kind of mistake, the first point that has it and how many have.
type fault struct {
	kind  string
	first field.Problem
	n     int
}

// add lets the line go on to a point.
func (l *line) add(p point) {
	l.points++
	if math.IsNaN(p.height) {
		p.mistake("point has no height (ele)", fewHeights)
	}
	if p.wrong.message != "" {
		l.fault(p)
		return
	}
	if l.wrong != nil { // there will be no way
		return
	}
	if l.marks == nil {
		l.marks, l.marked, l.last = []mark{{0, p.height}}, p, p
		return
	}
	step := haversine(l.marked, p)
	if l.last = p; step > place && l.length() <= route.MaxLength { // beyond, it is refused
		l.marks, l.marked = append(l.marks, mark{l.length() + step, p.height}), p
	}
}

// fault notes a point that is wrong.
func (l *line) fault(p point) {
	kind, _, _ := strings.Cut(p.wrong.message, " is ")
	i := slices.IndexFunc(l.wrong, func(f fault) bool { return f.kind == kind })
	if i < 0 {
		i = len(l.wrong)
		l.wrong = append(l.wrong, fault{kind: kind, first: problemAt("", p.line, p.column, field.OutOfRange, p.wrong.hint, p.wrong.message)})
	}
	l.wrong[i].n++
}

// problems are what is wrong with the points of the line.
func (l *line) problems(name string) field.Problems {
	var out field.Problems
	for _, f := range l.wrong {
		p := f.first
		p.File = name
		switch {
		case f.n == 2:
			p.Message += "; one more point is like it"
		case f.n > 2:
			p.Message += fmt.Sprintf("; %d more points are like it", f.n-1)
		}
		out = append(out, p)
	}
	return out
}

// problemAt is a problem at a place of a file. The message has texts of the file in
// quotes only.
func problemAt(name string, line, column int, code field.Code, hint, message string) field.Problem {
	p := field.ProblemAt(field.Place{}, hint, message)
	p.File, p.Line, p.Column, p.Code = name, line, column, code
	return p
}

// haversine is the distance of two points in m (Sinnott, Virtues of the Haversine, Sky
// and Telescope 68, 1984).
func haversine(a, b point) float64 {
	const degree = math.Pi / 180
	across, along := math.Sin((b.lat-a.lat)*degree/2), math.Sin((b.lon-a.lon)*degree/2)
	h := float64(across*across) + float64(math.Cos(a.lat*degree)*math.Cos(b.lat*degree)*along*along)
	return 2 * radius * math.Asin(math.Min(1, math.Sqrt(h)))
}

// route makes a way of the line.
func (l *line) route(name string) *route.Route {
	n := int(max(1, math.Ceil(l.length()/route.Grid-route.Slack)))
	smooth, step := smoothed(l.heights(n)), l.length()/float64(n)
	way := &route.Route{Name: name, Height: smooth[0], Legs: make([]route.Leg, n)}
	for i := range way.Legs {
		way.Legs[i] = route.Leg{Length: step, Rise: smooth[i+1] - smooth[i], Speed: math.NaN()}
	}
	return way
}

// heights are those at the ends of n equal legs, between the marks on straight lines.
func (l *line) heights(n int) []float64 {
	out := make([]float64, n+1)
	next := 1
	for i := range out {
		at := l.length() * (float64(i) / float64(n))
		for next < len(l.marks)-1 && l.marks[next].at < at {
			next++
		}
		a, b := l.marks[next-1], l.marks[next]
		out[i] = a.height + float64((b.height-a.height)*((at-a.at)/(b.at-a.at)))
	}
	return out
}

// smoothed are the means of each height and up to two neighbours to either side, as many
// as there are to both.
func smoothed(heights []float64) []float64 {
	const most = 2
	out := make([]float64, len(heights))
	for i := range heights {
		k := min(most, i, len(heights)-1-i)
		sum := 0.0
		for _, h := range heights[i-k : i+k+1] {
			sum += h
		}
		out[i] = sum / float64(2*k+1)
	}
	return out
}
