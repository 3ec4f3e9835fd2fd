package gpx

import (
	"fmt"
	"io"
	"math"
	"runtime"
	"testing"
)

// recording yields a GPX file of so many points, a metre apart, without ever holding it,
// and notes the most memory that was in use meanwhile.
type recording struct {
	points, at int
	rest       []byte
	bytes      int64
	most       uint64
}

func (r *recording) Read(p []byte) (int, error) {
	if len(r.rest) == 0 {
		switch {
		case r.at == 0:
			r.rest = []byte("<gpx version='1.1'><trk><trkseg>")
		case r.at <= r.points:
			r.rest = fmt.Appendf(r.rest, "<trkpt lat=\"%.7f\" lon=\"7.1234567\"><ele>%.1f</ele><time>2026-05-01T10:00:00Z</time><extensions><heart>121</heart></extensions></trkpt>\n",
				float64(r.at)/radius*180/math.Pi, 50+20*math.Sin(float64(r.at)/900))
		case r.at == r.points+1:
			r.rest = []byte("</trkseg></trk></gpx>")
		default:
			return 0, io.EOF
		}
		if r.at++; r.at%50_000 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			r.most = max(r.most, m.HeapInuse)
		}
	}
	n := copy(p, r.rest)
	r.rest = r.rest[n:]
	r.bytes += int64(n)
	return n, nil
}

// BenchmarkMillionPoints reads a file of a million points.
func BenchmarkMillionPoints(b *testing.B) {
	for b.Loop() {
		r := &recording{points: 999_999}
		way, err := Read("way.gpx", r)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.most)/(1<<20), "MB-in-use")
		b.ReportMetric(float64(r.bytes)/(1<<20), "MB-read")
		b.ReportMetric(float64(len(way.Legs)), "legs")
	}
}
