package gpx

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/constraints/route"
)

// Read reads a way from a GPX file of that name. What is wrong with its content is
// returned as field.Problems; any other error is that of r.
func Read(name string, r io.Reader) (*route.Route, error) {
	f := newReader(name, r)
	if err := f.read(); err != nil {
		return nil, err
	}
	return f.route()
}

// state is where in a file the reader is.
type state uint8

const (
	foreign  state = iota // in an element of which nothing is read
	document              // outside of all
	root                  // <gpx>
	track                 // <trk>
	segment               // <trkseg>
	plan                  // <rte>
	trackPoint
	planPoint
	height // <ele>
)

// below is where an element leads.
func (s state) below(element string) state {
	switch {
	case s == document && element == "gpx":
		return root
	case s == root && element == "trk":
		return track
	case s == track && element == "trkseg":
		return segment
	case s == segment && element == "trkpt":
		return trackPoint
	case s == root && element == "rte":
		return plan
	case s == plan && element == "rtept":
		return planPoint
	case (s == trackPoint || s == planPoint) && element == "ele":
		return height
	}
	return foreign
}

// reader reads a file.
type reader struct {
	name   string
	meter  *meter
	xml    *xml.Decoder
	in     []state // the elements that are open, behind document
	space  string  // the namespace of the root
	rooted bool

	recorded, planned line // what the tracks and the routes say
	at                point
	text              []byte // of the height that is being read
	points            int
}

func newReader(name string, r io.Reader) *reader {
	f := &reader{name: name, meter: &meter{from: bufio.NewReader(r)}, in: []state{document}}
	f.xml = xml.NewDecoder(f.meter)
	f.xml.CharsetReader = func(charset string, from io.Reader) (io.Reader, error) {
		for _, known := range []string{"us-ascii", "iso-8859-", "windows-125", "latin"} {
			if strings.HasPrefix(strings.ToLower(charset), known) {
				return plain{from}, nil
			}
		}
		return nil, encodingError(charset)
	}
	return f
}

// encodingError is for an encoding that is not read.
type encodingError string

func (e encodingError) Error() string { return "the encoding is " + field.Quote(string(e)) }

// read reads all tokens.
func (f *reader) read() error {
	if begin, _ := f.meter.from.Peek(2); string(begin) == "\xff\xfe" || string(begin) == "\xfe\xff" {
		return f.wrong(1, 1, field.Syntax, "save it in UTF-8", "the encoding is UTF-16")
	}
	for {
		line, column := f.xml.InputPos() // the end of one token is the beginning of the next
		f.meter.token = 0
		token, err := f.xml.Token()
		if err == io.EOF {
			return nil
		}
		if err == nil {
			err = f.take(token, line, column)
		}
		if err != nil {
			return f.explain(err)
		}
	}
}

// take reads one token, which begins at a place.
func (f *reader) take(token xml.Token, line, column int) error {
	in := f.in[len(f.in)-1]
	switch t := token.(type) {
	case xml.StartElement:
		return f.open(t, in, line, column)
	case xml.EndElement:
		f.in = f.in[:len(f.in)-1]
		return f.close(in, line, column)
	case xml.CharData:
		if in == height {
			f.text = append(f.text, t[:min(len(t), maxNumber-len(f.text))]...)
		}
	case xml.Directive:
		if strings.HasPrefix(strings.ToUpper(string(t[:min(len(t), 7)])), "DOCTYPE") {
			return f.wrong(line, column, field.Syntax, "take the line out: a GPX file has none", "there is a document type, of which nothing is read")
		}
	}
	return nil
}

// open begins an element.
func (f *reader) open(t xml.StartElement, in state, line, column int) error {
	if len(f.in) > maxDepth {
		return f.wrong(line, column, field.TooLarge, "", "elements are nested deeper than %d levels", maxDepth)
	}
	to := foreign
	if in == document || t.Name.Space == f.space {
		to = in.below(t.Name.Local)
	}
	f.in = append(f.in, to)
	switch to {
	case root:
		if f.rooted {
			return f.wrong(line, column, field.GivenTwice, "a file has one <gpx>", "<gpx> begins again")
		}
		f.rooted, f.space = true, t.Name.Space
		if v := attribute(t, "version"); v != "" && v != "1.0" && v != "1.1" {
			return f.wrong(line, column, field.Syntax, "save it as GPX 1.1", "the version of GPX is %s, must be 1.0 or 1.1", field.Quote(v))
		}
	case trackPoint, planPoint:
		if f.points++; f.points > MaxPoints {
			return f.wrong(line, column, field.TooLarge, "record fewer, or cut the route into several files", "more than %d points", MaxPoints)
		}
		f.at = newPoint(t, line, column)
	case height:
		f.text = f.text[:0]
	case foreign:
		if in == document {
			return f.wrong(line, column, field.Syntax, "a GPX file begins with <gpx>", "this is no GPX file: its first element is %s", field.Quote(t.Name.Local))
		}
	}
	return nil
}

// attribute is an attribute of an element, "" for none.
func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// close ends an element.
func (f *reader) close(in state, line, column int) error {
	switch in {
	case height:
		f.at.setHeight(strings.TrimSpace(string(f.text)))
	case trackPoint:
		return f.add(&f.recorded)
	case planPoint:
		return f.add(&f.planned)
	}
	return nil
}

// add lets a line go on to the point that was read.
func (f *reader) add(l *line) error {
	if l.add(f.at); l.length() > route.MaxLength {
		return f.wrong(f.at.line, f.at.column, field.TooLarge, "look whether a point is off, or cut the route into several files", "the route is longer than %d km here", route.MaxLength/1000)
	}
	return nil
}

// route is the way of what was read.
func (f *reader) route() (*route.Route, error) {
	l, kind := &f.recorded, "track"
	if l.points == 0 && f.planned.points > 0 {
		l, kind = &f.planned, "route"
	}
	switch problems := l.problems(f.name); {
	case len(problems) > 0:
		return nil, problems
	case f.meter.total == 0:
		return nil, f.wrong(1, 1, field.Missing, "", "file is empty")
	case !f.rooted:
		return nil, f.wrong(1, 1, field.Missing, "a GPX file begins with <gpx>", "this is no GPX file: there is no <gpx>")
	case l.points == 0:
		return nil, f.wrong(1, 1, field.Missing, "points of interest are no route: record or draw a track", "there is no track with points, and no route")
	case l.points == 1:
		return nil, f.wrong(l.last.line, l.last.column, field.Missing, "record or draw a route", "the %s has one point, a route needs two", kind)
	case l.length() <= route.Grid*route.Slack:
		return nil, f.wrong(l.last.line, l.last.column, field.Missing, "record or draw a route", "the %s has no length: its %d points are at one place", kind, l.points)
	}
	return l.route(f.name), nil
}

// explain makes a problem of what the decoder says; an error of the file's reader stays
// as it is.
func (f *reader) explain(err error) error {
	line, column := f.xml.InputPos()
	var syntax *xml.SyntaxError
	var problems field.Problems
	var encoding encodingError
	switch {
	case errors.As(err, &problems):
		return err
	case errors.As(err, &syntax):
		hint := ""
		if strings.Contains(syntax.Msg, "unexpected EOF") {
			hint = "the file is cut off: export it again"
		}
		return f.wrong(line, column, field.Syntax, hint, "not well-formed XML: %s", syntax.Msg)
	case errors.Is(err, errTooLarge):
		return f.wrong(line, column, field.TooLarge, "cut the route into several files", "file is larger than %d MB", MaxBytes>>20)
	case errors.Is(err, errLongToken):
		return f.wrong(line, column, field.TooLarge, "", "a tag or text is longer than %d MB", maxToken>>20)
	case errors.As(err, &encoding):
		return f.wrong(line, column, field.Syntax, "save it in UTF-8", "%v", encoding)
	case !f.meter.failed: // the decoder's own, which have no type
		return f.wrong(line, column, field.Syntax, "", "not well-formed XML (%v)", err)
	}
	return err
}

// wrong is a problem at a place of the file.
func (f *reader) wrong(line, column int, code field.Code, hint, format string, args ...any) error {
	return field.Problems{problemAt(f.name, line, column, code, hint, fmt.Sprintf(format, args...))}
}
