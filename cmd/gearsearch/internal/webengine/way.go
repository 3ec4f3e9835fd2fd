package webengine

import (
	"bytes"
	"errors"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
)

// wayKey is the key of a brief that names the way to ride, and demoPrefix stands before
// the names of embedded ones.
const (
	wayKey     = "ride.route"
	demoPrefix = "demo:"
)

// wayOf reads the way that a brief names: an embedded one, or the request's file.
func (r *request) wayOf(b *constraints.Brief) error {
	name := b.Ride.Route
	if name == "" {
		return nil
	}
	src, ok := field.Source{}, false
	if demo, embedded := strings.CutPrefix(name, demoPrefix); embedded {
		src, ok = catalog.DemoRoute(demo)
	} else if r.Way != nil && r.Way.Name == name {
		src, ok = r.Way.source(), true
	}
	if !ok {
		return field.Problems{{By: wayKey, Code: field.Missing, Message: "the route " + field.Quote(name) + " is not here", Hint: "choose its file again, or an embedded route"}}
	}
	way, err := route.ReadCSV(src, constraints.Surfaces())
	var problems field.Problems
	if errors.As(err, &problems) {
		for i := range problems {
			problems[i].By = wayKey
		}
	}
	b.Way = way
	return err
}

// demoWays are the embedded ways.
func demoWays() []titled {
	var out []titled
	for _, src := range catalog.DemoRoutes() {
		way, err := route.ReadCSV(src, constraints.Surfaces())
		if err != nil { // a test reads them
			continue
		}
		name := catalog.DemoRouteName(src)
		out = append(out, titled{demoPrefix + name, name + ", " + layout.Fixed(way.Length()/1000, 1) + " km, invented"})
	}
	return out
}

// isRecorded reports whether a file is XML or calls itself GPX: the program tells what is
// wrong with one that is no way.
func isRecorded(src field.Source) bool {
	begin := bytes.TrimLeft(bytes.TrimPrefix(src.Data[:min(len(src.Data), 64)], []byte("\xef\xbb\xbf")), " \t\r\n")
	return strings.HasSuffix(strings.ToLower(src.Name), ".gpx") || bytes.HasPrefix(begin, []byte("<"))
}

// isWayTable reports whether a file has the columns of a way.
func isWayTable(src field.Source) bool {
	head, _, _ := bytes.Cut(src.Data, []byte{'\n'})
	return bytes.Contains(head, []byte("distance_m")) && bytes.Contains(head, []byte("height_m"))
}
