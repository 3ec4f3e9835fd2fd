package gpx

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog/field"
	"gearsearch/constraints/route"
)

var grounds = []string{"asphalt", "rough", "gravel", "grass"}

// FuzzRoute: no file makes reading a way panic, be it read as CSV or as GPX. A way that is
// read has legs that can be ridden, within the limits, and is the same once it is written
// and read again; what is no way is explained.
func FuzzRoute(f *testing.F) {
	f.Add("distance_m,height_m,speed_kmh,surface,stop\n0,10,20,gravel,\n99.5,11,,,1\n120,9,30 km/h,asphalt,x\n")
	f.Add("distance_m;height_m\n0;1,5\n10,25;2\n")
	f.Add("sep=\t\r\ndistance_m\theight_m\r\n0\t-0\r\n1e3\t1e-3\r\n")
	f.Add(file("<trk><trkseg>" + spots("trkpt", 0, 10, 60, 16, 61, 3, 140, 8) + "</trkseg></trk><rte>" + spot("rtept", 5, 5) + "</rte>"))
	f.Add("<gpx version='1.0'><rte>" + spots("rtept", 0, 10, 60, 16) + "</rte></gpx>")
	f.Add(`<?xml version="1.0" encoding="ISO-8859-1"?><gpx><trk><trkseg><trkpt lat="0.001" lon=""/>`)
	f.Add("<!DOCTYPE gpx><gpx>&a;")
	f.Fuzz(func(t *testing.T, text string) {
		src := field.Source{Name: "way", Data: []byte(text)}
		way, err := route.ReadCSV(src, grounds)
		hold(t, way, err)
		way, err = Read("way", strings.NewReader(text))
		hold(t, way, err)
	})
}

// hold holds what was read to what is promised.
func hold(t *testing.T, way *route.Route, err error) {
	if err != nil {
		var problems field.Problems
		if !errors.As(err, &problems) || len(problems) == 0 || way != nil {
			t.Fatalf("the error is no Problems: %v, %v", err, way)
		}
		if strings.ContainsAny(err.Error(), "\x00\x1b\r") {
			t.Fatalf("control characters in %q", err.Error())
		}
		return
	}
	height := way.Height
	for _, l := range way.Legs {
		height += l.Rise
		if !(l.Length > 0 && l.Length <= route.Grid*(1+2*route.Slack)) || l.Speed <= 0 || math.IsInf(l.Speed, 0) || math.IsNaN(l.Rise) {
			t.Fatalf("accepted: %+v", l)
		}
		if !(height > route.MinHeight-1e-3 && height < route.MaxHeight+1e-3) {
			t.Fatalf("accepted: a height of %v m", height)
		}
	}
	if m := way.Length(); len(way.Legs) == 0 || m > route.MaxLength*(1+1e-9) {
		t.Fatalf("accepted: %v m", m)
	}
	var out bytes.Buffer
	if err := route.WriteCSV(&out, way); err != nil {
		t.Fatal(err)
	}
	again, err := route.ReadCSV(field.Source{Name: "way", Data: out.Bytes()}, grounds)
	if err != nil {
		t.Fatalf("written, it does not read again: %v\n%s", err, out.String())
	}
	bits := cmp.Comparer(func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) })
	if d := cmp.Diff(way, again, bits); d != "" {
		t.Fatalf("written and read (-want +got):\n%s", d)
	}
}
