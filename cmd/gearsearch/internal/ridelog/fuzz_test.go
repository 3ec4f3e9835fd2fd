package ridelog

import (
	"bytes"
	"context"
	"math"
	"testing"

	"gearsearch/catalog/field"
	"gearsearch/search/fit"
)

// FuzzLog: whatever a file holds, it is read or refused at a place, and what is read
// is finite and in order.
func FuzzLog(f *testing.F) {
	for _, seed := range []string{
		"time_s,speed_kmh\n1,30\n2,28\n3,26\n4,24\n5,22\n6,20\n7,18\n8,16\n9,14\n10,12\n11,10\n12,8\n",
		"Time;Speed [km/h];Voltage(V);Current(A);Altitude [m]\n12:00:00;25,5;40,1;6,2;12\n12:00:01;25,6;40,0;6,1;12\n",
		"timestamp\tdistance_km\tenergy_wh\tenergy_regen_wh\n1700000000000\t0\t0\t0\n1700000001000\t0,01\t0,1\t0\n",
		"a note\n\"time (ms)\",\"speed (mph)\"\n\"1\",\"2,5\"\n",
		"\xef\xbb\xbftime,speed_mps,direction\n5,9,out\n4,8,out\n3,7,back\n",
	} {
		f.Add([]byte(seed), uint8(0))
	}
	f.Fuzz(func(t *testing.T, data []byte, kind uint8) {
		l, err := Read(context.Background(), "log.csv", bytes.NewReader(data), Options{Kind: Kind(kind % 3)}, nil)
		if err != nil {
			problems, ok := err.(field.Problems)
			if !ok || len(problems) == 0 {
				t.Fatalf("%T: %v", err, err)
			}
			for i := range problems {
				if p := &problems[i]; p.File == "" || p.Line < 1 || p.Column < 1 || p.Message == "" {
					t.Fatalf("no place: %+v", p)
				}
			}
			return
		}
		finite := func(x float64) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("%g in %+v", x, l)
			}
		}
		switch l.Kind {
		case Coast:
			if len(l.Runs) == 0 {
				t.Fatal("no runs")
			}
			for _, run := range l.Runs {
				if len(run.Times) < fit.MinSamples || len(run.Times) != len(run.Speeds) {
					t.Fatalf("%d times, %d speeds", len(run.Times), len(run.Speeds))
				}
				for i := range run.Times {
					finite(run.Times[i])
					finite(run.Speeds[i])
					if i > 0 && run.Times[i] <= run.Times[i-1] || run.Speeds[i] < 0 {
						t.Fatalf("sample %d of %+v", i, run)
					}
				}
			}
		case Ride:
			finite(l.Ride.Speed)
			finite(l.Ride.Energy)
			finite(l.Ride.Stops)
			finite(l.Ride.Rise)
		default:
			t.Fatalf("kind %d", l.Kind)
		}
	})
}
