package ask

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"path/filepath"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/constraints/route/gpx"
)

// routeKey is the key of a brief that names the way to ride.
const routeKey = "ride.route"

// wayOf reads the way that a brief names, into the brief. A flag names it from the working
// folder, a file relative to itself.
func (d *Desk) wayOf(ctx context.Context, from string, b *constraints.Brief) error {
	name := b.Ride.Route
	if name == "" {
		return nil
	}
	if at := b.Place(routeKey); at.Known() {
		name = beside(from, name)
		if lost := absentWay(name, at); lost != nil {
			return lost
		}
	}
	var err error
	b.Way, err = d.Way(ctx, name)
	return err
}

// absentWay is the problem with a way that a brief names and that cannot be read.
func absentWay(name string, at field.Place) error {
	if isFile(name) {
		if lost := absent(name, "route", at); lost != nil {
			return lost
		}
		return nil
	}
	if _, known := catalog.DemoRoute(strings.TrimPrefix(name, DemoPrefix)); name != "-" && !known {
		p := field.ProblemAt(at, "there are "+demoRouteList(), "no embedded route "+field.Quote(name))
		p.Code = field.Missing
		return field.Problems{p}
	}
	return nil
}

// Way reads a way to ride from a GPX or CSV file: - is standard input, and demo:name an
// embedded one. It notes what is doubtful in it. What several briefs name is read once.
func (d *Desk) Way(ctx context.Context, name string) (*route.Route, error) {
	if way := d.ways[name]; way != nil {
		return way, nil
	}
	way, err := d.way(ctx, name)
	if err != nil {
		return nil, err
	}
	if d.ways == nil {
		d.ways = map[string]*route.Route{}
	}
	d.ways[name] = way
	d.noteEach(say.WayDoubts(way))
	return way, nil
}

func (d *Desk) way(ctx context.Context, name string) (*route.Route, error) {
	if demo, ok := strings.CutPrefix(name, DemoPrefix); ok {
		src, ok := catalog.DemoRoute(demo)
		if !ok {
			return nil, outcome.Usage("there are "+demoRouteList(), "no embedded route %s", say.Shown(name))
		}
		return route.ReadCSV(src, constraints.Surfaces())
	}
	shown, path := name, name
	if name == "-" {
		shown, path = files.StandardInput, ""
		if err := d.listen(); err != nil {
			return nil, err
		}
	}
	var way *route.Route
	err := d.Files.Stream(ctx, path, d.Stdin, func(r io.Reader) (err error) {
		way, err = readWay(shown, bufio.NewReader(r))
		return err
	})
	if err != nil {
		return nil, err
	}
	return way, nil
}

// readWay reads a way in the form that the ending of its name tells, else its first bytes.
func readWay(name string, r *bufio.Reader) (*route.Route, error) {
	const some = 64 // bytes, which tell what a file is
	begin, err := r.Peek(some)
	if err != nil && err != io.EOF {
		return nil, err
	}
	ending := strings.ToLower(filepath.Ext(name))
	switch {
	case packed(begin):
		p := field.Problem{File: name, Line: 1, Column: 1, Code: field.Syntax, Message: "the file is packed", Hint: "unpack it first"}
		return nil, field.Problems{p}
	case ending == ".gpx", ending != ".csv" && isXML(begin):
		return gpx.Read(name, r)
	}
	data, err := io.ReadAll(io.LimitReader(r, field.MaxSize+1))
	if err != nil {
		return nil, err
	}
	return route.ReadCSV(field.Source{Name: name, Data: data}, constraints.Surfaces())
}

// packed reports whether a file begins as one does that gzip or zip made (RFC 1952; PKWARE
// APPNOTE 4.3.7).
func packed(begin []byte) bool {
	return bytes.HasPrefix(begin, []byte{0x1f, 0x8b}) || bytes.HasPrefix(begin, []byte("PK\x03\x04"))
}

// isXML reports whether a file begins as XML does, in UTF-8 or UTF-16.
func isXML(begin []byte) bool {
	begin = bytes.TrimLeft(bytes.TrimPrefix(begin, []byte("\xef\xbb\xbf")), " \t\r\n")
	return bytes.HasPrefix(begin, []byte("<")) || bytes.HasPrefix(begin, []byte("\xff\xfe<")) || bytes.HasPrefix(begin, []byte("\xfe\xff\x00<"))
}

// RouteNames are the names of the embedded ways to ride, as flags have them.
func RouteNames() []string {
	var names []string
	for _, src := range catalog.DemoRoutes() {
		names = append(names, DemoPrefix+catalog.DemoRouteName(src))
	}
	return names
}

// demoRouteList names the embedded ways for a hint.
func demoRouteList() string { return strings.Join(RouteNames(), ", ") }
