package gpx

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"gearsearch/catalog/field"
	"gearsearch/constraints/route"
)

// head begins a file as the open standard has it: the namespace and the attributes of
// https://www.topografix.com/GPX/1/1/gpx.xsd.
const head = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">`

// file is a GPX file with a body.
func file(body string) string { return head + body + "</gpx>" }

// spot is a point so many metres along a meridian from the equator.
func spot(element string, m, height float64) string {
	return fmt.Sprintf(`<%s lat="%.12f" lon="7"><ele>%v</ele></%s>`, element, m/radius*180/math.Pi, height, element)
}

// spots are such points, by pairs of metres and height.
func spots(element string, at ...float64) string {
	var b strings.Builder
	for i := 0; i < len(at); i += 2 {
		b.WriteString(spot(element, at[i], at[i+1]))
	}
	return b.String()
}

func readText(text string) (*route.Route, error) { return Read("way.gpx", strings.NewReader(text)) }

// shape is a way as lengths and rises.
func shape(r *route.Route) (lengths, rises []float64) {
	for _, l := range r.Legs {
		lengths, rises = append(lengths, l.Length), append(rises, l.Rise)
	}
	return lengths, rises
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		why, text      string
		height         float64
		lengths, rises []float64
	}{
		{"two points", file("<trk><trkseg>" + spots("trkpt", 0, 10, 60, 16) + "</trkseg></trk>"), 10, []float64{20, 20, 20}, []float64{2, 2, 2}},
		{"segments and tracks are joined, gaps are straight", file("<trk><trkseg>" + spots("trkpt", 0, 5, 10, 5) + "</trkseg><trkseg>" + spots("trkpt", 20, 5) + "</trkseg></trk><trk><trkseg>" + spots("trkpt", 30, 5) + "</trkseg></trk>"), 5, []float64{15, 15}, []float64{0, 0}},
		{"a route, where there is no track", file("<rte>" + spots("rtept", 0, 5, 20, 6) + "</rte>"), 5, []float64{20}, []float64{1}},
		{"a route, where the track has no points", file("<trk><trkseg/></trk><rte>" + spots("rtept", 0, 5, 20, 6) + "</rte>"), 5, []float64{20}, []float64{1}},
		{"a track beside a route, whatever the route lacks", file(`<rte><rtept lat="1" lon="99"/></rte><trk><trkseg>` + spots("trkpt", 0, 5, 20, 6) + "</trkseg></trk>"), 5, []float64{20}, []float64{1}},
		{"points of interest are passed over, and what other schemas say", file(`<wpt lat="50" lon="8"/><metadata><bounds minlat="1"/></metadata><trk><name>x</name><trkseg>` +
			`<trkpt lat="0" lon="7"><extensions><x:ele xmlns:x="urn:x">99</x:ele></extensions><time>2026-05-01T10:00:00Z</time><ele>5</ele></trkpt>` +
			spots("trkpt", 20, 6) + `<extensions><x:trkpt xmlns:x="urn:x" lat="9" lon="9"/></extensions></trkseg></trk>`), 5, []float64{20}, []float64{1}},
		{"GPX 1.0", `<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0"><trk><trkseg>` + spots("trkpt", 0, 5, 20, 6) + "</trkseg></trk></gpx>", 5, []float64{20}, []float64{1}},
		{"no namespace, no version", "<gpx><trk><trkseg>" + spots("trkpt", 0, 5, 20, 6) + "</trkseg></trk></gpx>", 5, []float64{20}, []float64{1}},
		{"an older encoding", `<?xml version="1.0" encoding="ISO-8859-1"?><gpx><trk><name>H` + "\xf6" + `he</name><trkseg>` + spots("trkpt", 0, 5, 20, 6) + "</trkseg></trk></gpx>", 5, []float64{20}, []float64{1}},
		{"blanks and comments about a number", "\xef\xbb\xbf" + `<gpx><trk><trkseg><trkpt lat=" 0 " lon="7"><ele>` + "\n 1<!-- x -->2.5\t</ele></trkpt>" + spots("trkpt", 20, 6) + "</trkseg></trk></gpx>", 12.5, []float64{20}, []float64{-6.5}},
		{"to stand still adds nothing, whatever the height does", file("<trk><trkseg>" + spots("trkpt", 0, 5, 0, 5, 20, 6, 20, 7) + "</trkseg></trk>"), 5, []float64{20}, []float64{1}},
		{"a hair beyond 50 m is no third leg", file("<trk><trkseg>" + spots("trkpt", 0, 5, 50.00000001, 5) + "</trkseg></trk>"), 5, []float64{25, 25}, []float64{0, 0}},
	} {
		got, err := readText(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		lengths, rises := shape(got)
		near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })
		if d := cmp.Diff(c.lengths, lengths, near); d != "" {
			t.Errorf("%s: lengths (-want +got):\n%s", c.why, d)
		}
		if d := cmp.Diff(c.rises, rises, near); d != "" {
			t.Errorf("%s: rises (-want +got):\n%s", c.why, d)
		}
		if got.Height != c.height || got.Name != "way.gpx" || got.Legs[0].Surface != "" || got.Legs[0].Stop || !math.IsNaN(got.Legs[0].Speed) {
			t.Errorf("%s: %+v", c.why, got)
		}
	}
}

// TestHaversine: published worked examples, each scaled to the radius here.
func TestHaversine(t *testing.T) {
	for _, c := range []struct {
		source string
		a, b   point
		want   float64 // radians
		digits float64
	}{
		{"E. Williams, Aviation Formulary: Los Angeles to New York", point{lat: 33 + 57.0/60, lon: -118 - 24.0/60}, point{lat: 40 + 38.0/60, lon: -73 - 47.0/60}, 0.623585, 1e-6},
		{"a quarter of a meridian", point{lat: 0, lon: 12}, point{lat: 90, lon: -70}, math.Pi / 2, 1e-12},
		{"a degree of the equator, over the date line", point{lat: 0, lon: 179.5}, point{lat: 0, lon: -179.5}, math.Pi / 180, 1e-12},
		{"the other side of the earth", point{lat: 30, lon: 20}, point{lat: -30, lon: -160}, math.Pi, 1e-7},
		{"the same point", point{lat: 30, lon: 20}, point{lat: 30, lon: 20}, 0, 0},
	} {
		if got := haversine(c.a, c.b) / radius; math.Abs(got-c.want) > c.digits {
			t.Errorf("%s: %v, want %v", c.source, got, c.want)
		}
	}
}

// complaint is an error as one line for each problem.
func complaint(t *testing.T, err error) string {
	t.Helper()
	var problems field.Problems
	if !errors.As(err, &problems) {
		t.Fatalf("the error is no Problems: %v", err)
	}
	var out []string
	for _, p := range problems {
		s := fmt.Sprintf("%s:%d:%d %s", p.File, p.Line, p.Column, p.Message)
		if p.Hint != "" {
			s += " | " + p.Hint
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

func TestReadProblems(t *testing.T) {
	ways := func(points string) string { return "<gpx>\n<trk><trkseg>\n" + points + "\n</trkseg></trk></gpx>" }
	for _, c := range []struct{ why, text, want string }{
		{"nothing", "", "way.gpx:1:1 file is empty"},
		{"no XML", "distance_m,height_m\n", "way.gpx:1:1 this is no GPX file: there is no <gpx> | a GPX file begins with <gpx>"},
		{"other XML", "<kml/>", `way.gpx:1:1 this is no GPX file: its first element is "kml" | a GPX file begins with <gpx>`},
		{"another version", `<gpx version="2.0"/>`, `way.gpx:1:1 the version of GPX is "2.0", must be 1.0 or 1.1 | save it as GPX 1.1`},
		{"no way", file(`<wpt lat="1" lon="2"><ele>3</ele></wpt>`), "way.gpx:1:1 there is no track with points, and no route | points of interest are no route: record or draw a track"},
		{"one point", ways(spot("trkpt", 0, 1)), "way.gpx:3:1 the track has one point, a route needs two | record or draw a route"},
		{"one point of a route", "<gpx><rte>" + spot("rtept", 0, 1) + "</rte></gpx>", "way.gpx:1:11 the route has one point, a route needs two | record or draw a route"},
		{"no length", ways(spots("trkpt", 0, 1, 0, 2, 0, 3)), "way.gpx:3:113 the track has no length: its 3 points are at one place | record or draw a route"},
		{"no height", ways(`<trkpt lat="0" lon="7"/>` + "\n" + spot("trkpt", 9, 1)), "way.gpx:3:1 point has no height (ele) | " + fewHeights},
		{"heights that say nothing, counted", ways(spot("trkpt", 9, 1) + "\n" + strings.Repeat(`<trkpt lat="0" lon="7"><ele> </ele></trkpt>`, 3)), "way.gpx:4:1 point has no height (ele); 2 more points are like it | " + fewHeights},
		{
			"every kind of mistake", ways(`<trkpt lon="7"/><trkpt lat="91" lon="7"/>` + "\n" + `<trkpt lat="0" lon="7,5"/><trkpt lat="0" lon="0x1p3"/><trkpt lat="0" lon="0"><ele>NaN</ele></trkpt><trkpt lat="0" lon="0"><ele>12345</ele></trkpt>`),
			`way.gpx:3:1 point has no lat
way.gpx:3:17 lat is 91, must be -90 to 90
way.gpx:4:1 lon is "7,5", must be a number; one more point is like it | write 7.5, with a decimal point
way.gpx:4:55 ele is "NaN", must be a number; one more point is like it`,
		},
		{"too far", ways(spot("trkpt", 0, 1) + "\n" + spot("trkpt", 1_000_001, 1)), "way.gpx:4:1 the route is longer than 1000 km here | look whether a point is off, or cut the route into several files"},
		{"cut off", "<gpx>\n<trk><trkseg>" + spot("trkpt", 0, 1), "way.gpx:2:70 not well-formed XML: unexpected EOF | the file is cut off: export it again"},
		{"tags that cross", "<gpx><trk></gpx>", "way.gpx:1:17 not well-formed XML: element <trk> closed by </gpx>"},
		{"two roots", "<gpx/>\n<gpx/>", "way.gpx:2:1 <gpx> begins again | a file has one <gpx>"},
		{"an encoding of several bytes", `<?xml version="1.0" encoding="Shift_JIS"?><gpx/>`, `way.gpx:1:43 the encoding is "Shift_JIS" | save it in UTF-8`},
		{"UTF-16", "\xff\xfe<\x00", "way.gpx:1:1 the encoding is UTF-16 | save it in UTF-8"},
		{"XML 1.1", `<?xml version="1.1"?><gpx/>`, `way.gpx:1:22 not well-formed XML (xml: unsupported version "1.1"; only version 1.0 is supported)`},

		// Files that mean harm.
		{"a document type", "<?xml version='1.0'?>\n<!DOCTYPE gpx [<!ENTITY a 'b'>]>\n<gpx/>", "way.gpx:2:1 there is a document type, of which nothing is read | take the line out: a GPX file has none"},
		{"entities of the file's own", ways(`<trkpt lat="&a;" lon="7"/>`), "way.gpx:3:16 not well-formed XML: invalid character entity &a;"},
		{"depth", strings.Repeat("<gpx>", 100), "way.gpx:1:321 elements are nested deeper than 64 levels"},
		{"control characters", "<\x1b[31m/>", "way.gpx:1:2 not well-formed XML: expected element name after <"},
		{
			"long numbers", ways(`<trkpt lat="` + strings.Repeat("1", 100) + `" lon="7"/><trkpt lat="0" lon="7"><ele>` + strings.Repeat("<!---->1", 100) + "</ele></trkpt>"),
			`way.gpx:3:1 lat is "111111111111111111111111111111111111111111111111111111111111"…, must be a number
way.gpx:3:124 ele is "111111111111111111111111111111111111111111111111111111111111"…, must be a number`,
		},
	} {
		_, err := readText(c.text)
		if d := cmp.Diff(c.want, complaint(t, err)); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, d)
		}
	}
}

// endless yields a text again and again.
type endless struct {
	text string
	at   int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.text[e.at:])
	e.at = (e.at + n) % len(e.text)
	return n, nil
}

// TestEndless: files without an end are refused where a limit is passed, with what was
// read forgotten.
func TestEndless(t *testing.T) {
	begin := func(text string) io.Reader { return strings.NewReader("<gpx><trk><trkseg>" + text) }
	for _, c := range []struct{ why, begin, again, want string }{
		{"a tag", "<a", " ", "a tag or text is longer than 1 MB"},
		{"a comment", "<!--", "x", "a tag or text is longer than 1 MB"},
		{"a text", "<trkpt lat='0' lon='0'><ele>", "1", "a tag or text is longer than 1 MB"},
		{"an attribute", "<a b='", "x", "a tag or text is longer than 1 MB"},
		{"depth", "", "<x>", "elements are nested deeper than 64 levels"},
		{"points", "", "<trkpt/>", "more than 2000000 points"},
	} {
		if testing.Short() && c.why == "points" {
			continue
		}
		_, err := Read("way.gpx", io.MultiReader(begin(c.begin), &endless{text: c.again}))
		if got := complaint(t, err); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s, want %s", c.why, got, c.want)
		}
	}
	m := &meter{total: MaxBytes}
	if err := m.count(1); err != errTooLarge {
		t.Errorf("a byte beyond the limit: %v", err)
	}
}

// TestReadError: what is wrong with the reader is told as it is.
func TestReadError(t *testing.T) {
	broken := errors.New("the disk is broken")
	_, err := Read("way.gpx", io.MultiReader(strings.NewReader("<gpx><trk>"), iotest.ErrReader(broken)))
	if !errors.Is(err, broken) {
		t.Errorf("%v, want %v", err, broken)
	}
}

// TestEvenSlope: one slope stays one slope to the very end, however long the way is.
func TestEvenSlope(t *testing.T) {
	for _, length := range []float64{30, 999.9, 1000, 1000.000001, 1000.3, 1001, 1013, 1024.9} {
		var at []float64
		for i := range 21 {
			x := length * float64(i) / 20
			at = append(at, x, 100+0.04*x)
		}
		way, err := readText(file("<trk><trkseg>" + spots("trkpt", at...) + "</trkseg></trk>"))
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range way.Legs {
			if math.Abs(l.Rise/l.Length-0.04) > 1e-6 {
				t.Errorf("leg %d of %v m rises by %v %%", i, length, 100*l.Rise/l.Length)
			}
		}
	}
}

// TestRandomWays: legs sum up to the line through the points, all are alike and
// none is longer than 25 m, and the way goes from the height of the first point to that of the last,
// within the heights of all.
func TestRandomWays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var b strings.Builder
		var before point
		length, low, high := 0.0, math.Inf(1), math.Inf(-1)
		p := point{lat: rapid.Float64Range(-60, 60).Draw(r, "lat"), lon: rapid.Float64Range(-179, 179).Draw(r, "lon")}
		first, end := math.NaN(), math.NaN()
		for i := range rapid.IntRange(2, 60).Draw(r, "points") {
			p.height = rapid.Float64Range(-400, 3000).Draw(r, "height")
			p.lat += rapid.Float64Range(-0.001, 0.001).Draw(r, "north")
			p.lon += rapid.Float64Range(-0.001, 0.001).Draw(r, "east")
			fmt.Fprintf(&b, `<trkpt lat="%v" lon="%v"><ele>%v</ele></trkpt>`, p.lat, p.lon, p.height)
			step := haversine(before, p)
			if i == 0 {
				first, step = p.height, 0
			}
			if i > 0 && step <= place { // the two are in one place, and the first counts
				continue
			}
			length += step
			end = p.height
			before, low, high = p, min(low, p.height), max(high, p.height)
		}
		if length < 1 {
			r.Skip()
		}
		way, err := readText(file("<trk><trkseg>" + b.String() + "</trkseg></trk>"))
		if err != nil {
			r.Fatal(err)
		}
		if math.Abs(way.Length()-length) > 1e-6 {
			r.Fatalf("the way is %v m long, the points are %v m apart", way.Length(), length)
		}
		if way.Height != first {
			r.Fatalf("it begins at %v m, the first point is at %v m", way.Height, first)
		}
		h := way.Height
		for i, l := range way.Legs {
			if l.Length <= 0 || l.Length > route.Grid*(1+2*route.Slack) || l.Length != way.Legs[0].Length || len(way.Legs) > 1 && l.Length < route.Grid/2 {
				r.Fatalf("leg %d of %d is %v m long", i, len(way.Legs), l.Length)
			}
			if h += l.Rise; h < low-1e-6 || h > high+1e-6 {
				r.Fatalf("behind leg %d the way is at %v m, all points from %v to %v m", i, h, low, high)
			}
		}
		if math.Abs(h-end) > 1e-6 {
			r.Fatalf("it ends at %v m, the last point is at %v m", h, end)
		}
	})
}
