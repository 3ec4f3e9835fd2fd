package ridelog

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gearsearch/drive"
	"gearsearch/search/fit"
)

func TestHeadings(t *testing.T) {
	const none = quantities
	for _, c := range []struct {
		title string
		of    Quantity
		unit  string // "" for none
	}{
		{"Speed [km/h]", Speed, "km/h"},
		{"speed_kmh", Speed, "km/h"},
		{"speed (mph)", Speed, "mph"},
		{"SpeedKmh", Speed, "km/h"},
		{"speed_km_h", Speed, "km/h"},
		{"gps speed m/s", Speed, "m/s"},
		{"v_kmh", Speed, "km/h"},
		{"kmh", Speed, "km/h"},
		{"Speed", Speed, ""},
		{"time (ms)", Time, "ms"},
		{"time_s", Time, "s"},
		{"Elapsed time, s", Time, "s"},
		{"timestamp", Time, ""},
		{"milliseconds", Time, "ms"},
		{"t", Time, ""},
		{"Voltage(V)", Volts, "V"},
		{"battery_voltage", Volts, ""},
		{"Pack voltage [mV]", Volts, "mV"},
		{"Current(A)", Current, "A"},
		{"battery_current_a", Current, "A"},
		{"amps", Current, ""},
		{"Altitude [ft]", Height, "ft"},
		{"elevation", Height, ""},
		{"height_m", Height, "m"},
		{"distance_km", Distance, "km"},
		{"Trip (mi)", Distance, "mi"},
		{"energy_wh", Energy, "Wh"},
		{"Wh", Energy, "Wh"},
		{"energy used [kWh]", Energy, "kWh"},
		{"energy_regen_wh", Returned, "Wh"},
		{"power_w", Power, "W"},
		{"Direction", Direction, ""},
		{"motor_current_a", none, ""},
		{"V", none, ""},
		{"speed_limit", none, ""},
		{"heart rate", none, ""},
		{"", none, ""},
		{"speed [furlongs]", none, ""},
	} {
		h, ok := recognise(c.title)
		if !ok {
			h.of = none
		}
		if h.of != c.of {
			t.Errorf("%q is taken for %d, not %d", c.title, h.of, c.of)
			continue
		}
		want := unit{}
		if c.unit != "" {
			want, _ = c.of.unitNamed(c.unit)
		}
		if h.in.si != want.si {
			t.Errorf("%q is in %v, not %q", c.title, h.in.names, c.unit)
		}
	}
}

func read(t *testing.T, text string, o Options) (*Log, error) {
	t.Helper()
	return Read(context.Background(), "log.csv", strings.NewReader(text), o, nil)
}

// coasting is a coast-down from 9 m/s as rows of a format of time and speed.
func coasting(rows int, format func(t, v float64) string) string {
	c := drive.Coast{Mass: 85, Steady: 15, Drag: 0.27}
	var b strings.Builder
	for i := range rows {
		b.WriteString(format(float64(i)/2, c.Speed(9, float64(i)/2)) + "\n")
	}
	return b.String()
}

func comma(format string, args ...any) string {
	return strings.ReplaceAll(fmt.Sprintf(format, args...), ".", ",")
}

// notes are the codes of a log with their counts.
func notes(l *Log) map[Code]int {
	out := map[Code]int{}
	for _, n := range l.Notes {
		out[n.Code] += max(n.Count, 1)
	}
	return out
}

func TestCoastDowns(t *testing.T) {
	plain := func(t, v float64) string { return fmt.Sprintf("%.2f,%.4f", t, v*3.6) }
	want := coasting(60, plain)
	clockOf := func(t float64) string {
		return fmt.Sprintf("2026-05-01T23:59:%06.3fZ", 40+t)
	}
	for _, c := range []struct {
		why, text string
		o         Options
		notes     map[Code]int
		samples   int
	}{
		{why: "plain", text: "time_s,speed_kmh\n" + want},
		{why: "a byte order mark, carriage returns", text: "\xef\xbb\xbftime_s,speed_kmh\r\n" + strings.ReplaceAll(want, "\n", "\r\n")},
		{why: "semicolons and decimal commas", text: "Zeit;Time [s];Speed [km/h]\n" + coasting(60, func(t, v float64) string { return comma("x;%.2f;%.4f", t, v*3.6) })},
		{why: "tabs, milliseconds, miles", text: "time (ms)\tspeed (mph)\n" + coasting(60, func(t, v float64) string { return fmt.Sprintf("%.0f\t%.5f", t*1000, v/0.44704) })},
		{why: "lines above the headings", text: "my board\nfirmware 7\n\ntime_s,speed_kmh\n" + want, notes: map[Code]int{AboveHeader: 3}},
		{why: "times of the day", text: "Time,speed_mps\n" + coasting(40, func(t, v float64) string { return fmt.Sprintf("%s,%.5f", clockOf(t), v) }), samples: 39},
		{why: "past midnight", text: "Time,speed_mps\n" + coasting(60, func(t, v float64) string {
			s := 23*3600 + 59*60 + 50 + t
			day := math.Floor(s / 86400)
			s -= 86400 * day
			return fmt.Sprintf("%02d:%02d:%04.1f,%.5f", int(s)/3600, int(s)/60%60, math.Mod(s, 60), v)
		})},
		{why: "doubled rows", text: "time_s,speed_kmh\n" + coasting(60, func(t, v float64) string { return plain(t, v) + "\n" + plain(t, v) }), notes: map[Code]int{DoubledRows: 60}},
		{why: "rows of text, empty cells", text: "time_s,speed_kmh\n" + coasting(60, func(t, v float64) string {
			if t == 5 {
				return "paused\n" + plain(t, v) + "\n5.25,"
			}
			return plain(t, v)
		}), notes: map[Code]int{TextRows: 2, EmptyCells: 1}},
		{why: "late rows", text: "time_s,speed_kmh\n" + coasting(60, func(t, v float64) string {
			c := drive.Coast{Mass: 85, Steady: 15, Drag: 0.27}
			switch t {
			case 10:
				return plain(10.5, c.Speed(9, 10.5))
			case 10.5:
				return plain(10, c.Speed(9, 10))
			}
			return plain(t, v)
		}), notes: map[Code]int{LateRows: 1}},
		{why: "columns named", text: "a,b,c\n" + coasting(60, func(t, v float64) string { return fmt.Sprintf("%.2f,x,%.4f", t, v*3.6) }), o: Options{Columns: []ColumnNamed{{Time, "A", "s"}, {Speed, "c", "km/h"}}}},
		{why: "a time without a unit", text: "time,speed_kmh\n" + want, notes: map[Code]int{BareUnit: 1}},
		{why: "milliseconds since 1970", text: "timestamp,speed_kmh\n" + coasting(60, func(t, v float64) string { return fmt.Sprintf("%.0f,%.4f", 1.7e12+t*1000, v*3.6) }), notes: map[Code]int{BareUnit: 1}},
		{why: "no current", text: "time_s,speed_kmh,current_a,voltage_v\n" + coasting(60, func(t, v float64) string { return plain(t, v) + ",0.1,40" })},
		{why: "the push before and the stand after", text: "time_s,speed_kmh\n-3,5\n-2,15\n-1,25\n" + want + "30.5,0\n31,0\n40,0\n", samples: 60},
		{why: "quoted cells with decimal commas", text: "time_s,speed_kmh\n" + coasting(60, func(t, v float64) string { return comma(`"%.2f"`, t) + "," + comma(`"%.4f"`, v*3.6) })},
	} {
		l, err := read(t, c.text, c.o)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if l.Kind != Coast || len(l.Runs) != 1 {
			t.Errorf("%s: kind %d, %d runs", c.why, l.Kind, len(l.Runs))
			continue
		}
		if got := notes(l); fmt.Sprint(got) != fmt.Sprint(c.notes) && len(got)+len(c.notes) > 0 {
			t.Errorf("%s: notes %v, want %v", c.why, got, c.notes)
		}
		run := l.Runs[0]
		samples := c.samples
		if samples == 0 {
			samples = 59
		}
		if len(run.Times) != samples && c.notes[AboveHeader] == 0 && len(run.Times) != 59 {
			t.Errorf("%s: %d samples", c.why, len(run.Times))
		}
		coast := drive.Coast{Mass: 85, Steady: 15, Drag: 0.27}
		for i, at := range run.Times {
			if v := coast.Speed(run.Speeds[0], at-run.Times[0]); math.Abs(v-run.Speeds[i]) > 1e-3 {
				t.Errorf("%s: sample %d at %g s is %g m/s, was %g", c.why, i, at, run.Speeds[i], v)
				break
			}
		}
	}
}

// TestSeveralRuns: a file of runs out and back, its clock begun anew for each.
func TestSeveralRuns(t *testing.T) {
	text := "time_s;speed_kmh;direction\n"
	for i := range 4 {
		way := [2]string{"out", "back"}[i%2]
		text += coasting(60, func(t, v float64) string { return fmt.Sprintf("%g;%.4f;%s", t, v*3.6, way) })
	}
	l, err := read(t, text, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Runs) != 4 || notes(l)[ClockReset] != 3 {
		t.Fatalf("%d runs, notes %v", len(l.Runs), notes(l))
	}
	for i, run := range l.Runs {
		if want := [2]fit.Direction{fit.Out, fit.Back}[i%2]; run.Direction != want || run.Name != fmt.Sprintf("log.csv run %d", i+1) {
			t.Errorf("run %d: %s, direction %d", i, run.Name, run.Direction)
		}
	}
	// A brake at the end is no part of a run.
	braked := "time_s,speed_kmh\n" + coasting(20, func(t, v float64) string { return fmt.Sprintf("%g,%.4f", t, v*3.6) }) + "10,18\n10.5,13\n11,8\n11.5,3\n12,0\n"
	l, err = read(t, braked, Options{Direction: fit.Back})
	if err != nil || len(l.Runs) != 1 || notes(l)[BrakedRuns] == 0 || l.Runs[0].Direction != fit.Back {
		t.Fatalf("braked: %v, %+v", err, l)
	}
	if last := l.Runs[0].Speeds[len(l.Runs[0].Speeds)-1]; last < 5.5 {
		t.Errorf("the run ends at %g m/s, braked", last)
	}
}

// rideRows is a ride of ten minutes at 7 m/s with two stops, 40 V and 6 A.
func rideRows(row func(t, v, metres, joules, height float64) string) string {
	var b strings.Builder
	metres, joules := 0.0, 0.0
	for i := range 601 {
		v, amps := 7.0, 6.0
		if i < 5 || i > 200 && i < 210 || i > 400 && i < 410 || i > 595 {
			v, amps = 0, 0
		}
		b.WriteString(row(float64(i), v, metres, joules, 20+metres*0.002) + "\n")
		metres += v
		joules += 40 * amps
	}
	return b.String()
}

func TestRides(t *testing.T) {
	volts := func(v float64) string {
		if v == 0 {
			return "40,0"
		}
		return "40,6"
	}
	for _, c := range []struct {
		why, text string
		o         Options
		notes     map[Code]int
		loose     float64 // share by which sums may be off
	}{
		{why: "volts and current", text: "time_s,speed_kmh,voltage,current\n" + rideRows(func(t, v, _, _, _ float64) string { return fmt.Sprintf("%g,%g,%s", t, v*3.6, volts(v)) }), notes: map[Code]int{BareUnit: 2}, loose: 0.01},
		{why: "an energy counter, decimal commas", text: "time_s;speed [km/h];energy [Wh]\n" + rideRows(func(t, v, _, j, _ float64) string { return comma("%g;%g;%.6f", t, v*3.6, j/3600) }), loose: 0.01},
		{why: "distance in place of speed, height", text: "time_s,distance_km,energy_wh,height_m\n" + rideRows(func(t, _, m, j, h float64) string { return fmt.Sprintf("%g,%.5f,%.6f,%g", t, m/1000, j/3600, h) }), loose: 0.01},
		{why: "power", text: "time_s,speed_kmh,power_w\n" + rideRows(func(t, v, _, _, _ float64) string { return fmt.Sprintf("%g,%g,%g", t, v*3.6, v*240/7) }), loose: 0.01},
		{why: "counters that begin anew", text: "time_s,distance_m,energy_wh\n" + rideRows(func(t, _, m, j, _ float64) string {
			if t > 300 {
				m -= 7 * 285
				j -= 240 * 285
			}
			return fmt.Sprintf("%g,%g,%.6f", t, m, j/3600)
		}), notes: map[Code]int{CounterReset: 2}, loose: 0.02},
		{why: "a counter of what comes back", text: "time_s,speed_kmh,energy_wh,energy_regen_wh\n" + rideRows(func(t, v, _, j, _ float64) string {
			return fmt.Sprintf("%g,%g,%.6f,%.6f", t, v*3.6, 1.5*j/3600, 0.5*j/3600)
		}), loose: 0.01},
		{why: "a gap", text: "time_s,speed_kmh,voltage_v,current_a\n" + rideRows(func(t, v, _, _, _ float64) string {
			if t > 500 {
				t += 300
			}
			return fmt.Sprintf("%g,%g,%s", t, v*3.6, volts(v))
		}), notes: map[Code]int{Gaps: 1}, loose: 0.01},
		{why: "said to be a ride", text: "time_s,speed_kmh,voltage_v,current_a\n" + rideRows(func(t, v, _, _, _ float64) string { return fmt.Sprintf("%g,%g,%s", t, v*3.6, volts(v)) }), o: Options{Kind: Ride}, loose: 0.01},
	} {
		l, err := read(t, c.text, c.o)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if l.Kind != Ride {
			t.Errorf("%s: kind %d", c.why, l.Kind)
			continue
		}
		if got := notes(l); fmt.Sprint(got) != fmt.Sprint(c.notes) && len(got)+len(c.notes) > 0 {
			t.Errorf("%s: notes %v, want %v", c.why, got, c.notes)
		}
		// Of 601 seconds 572 are ridden: 4 km at 7 m/s and 34.3 J/m.
		for what, x := range map[string][2]float64{
			"metres": {l.Travel.Metres, 4004}, "speed": {l.Ride.Speed, 7}, "energy": {l.Ride.Energy, 240.0 / 7},
			"stops": {l.Ride.Stops * l.Travel.Metres, 3},
		} {
			if math.Abs(x[0]/x[1]-1) > c.loose {
				t.Errorf("%s: %s %g, want %g", c.why, what, x[0], x[1])
			}
		}
		if l.Travel.Heights && math.Abs(l.Ride.Rise/0.002-1) > 0.05 {
			t.Errorf("%s: rises %g m a metre", c.why, l.Ride.Rise)
		}
	}
}

// TestWrongLogs: each says where and what to do, all of it at once.
func TestWrongLogs(t *testing.T) {
	for _, c := range []struct {
		why, text string
		o         Options
		want      []string
	}{
		{"nothing", "", Options{}, []string{"log.csv:1:1: the file is empty"}},
		{"no headings", "1,2,3\n4,5,6\n", Options{}, []string{"log.csv:1:1: no row of headings", "--column time=NAME:s"}},
		{"speeds without a unit", "time_s,speed\n1,2\n", Options{}, []string{"log.csv:1:8: the heading \"speed\" tells no unit", "--column speed=\"speed:km/h\""}},
		{"two things at once", "speed,volts\n1,2\n", Options{}, []string{"tells no unit", "no column is known as the time"}},
		{"no time", "speed_kmh,voltage_v\n1,2\n", Options{}, []string{"no column is known as the time"}},
		{"no speed", "time_s,voltage_v\n1,2\n", Options{}, []string{"no column is known as the speed"}},
		{"rows of text", "time_s,speed_kmh\na,b\nc,d\n1,2\n", Options{}, []string{"log.csv:2:1: 2 of 3 rows have no time"}},
		{"thousands", "time_s;speed_kmh\n1;2.000,5\n2;3.000,5\n", Options{}, []string{"log.csv:2:3: \"2.000,5\" has a decimal point and a decimal comma", "log.csv:3:3"}},
		{"milliseconds without a unit", "time,speed_kmh\n" + coasting(60, func(t, v float64) string { return fmt.Sprintf("%g,%g", t*1000, v*3.6) }), Options{}, []string{"tells no unit, and steps of 500 are no seconds"}},
		{"no order", "time_s,speed_kmh\n" + shuffled(400), Options{}, []string{"the time goes back again and again"}},
		{"no coast", "time_s,speed_kmh\n1,20\n2,20\n3,20\n", Options{}, []string{"no coast-down is found in 3 rows"}},
		{"no meter", "time_s,speed_kmh\n1,20\n2,20\n3,20\n", Options{Kind: Ride}, []string{"no column meters its energy"}},
		{"a short ride", "time_s,speed_kmh,power_w\n1,20,100\n2,20,100\n3,20,100\n", Options{Kind: Ride}, []string{"the ride is 11 m long"}},
		{"UTF-16", "\xff\xfet\x00i\x00", Options{}, []string{"no plain text"}},
		{"one long line", "time_s,speed_kmh\n" + strings.Repeat("1", MostLine+1), Options{}, []string{"log.csv:2:1: a line is longer than 64 KB"}},
	} {
		_, err := read(t, c.text, c.o)
		if err == nil {
			t.Errorf("%s: read", c.why)
			continue
		}
		for _, want := range c.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v\nwant %s", c.why, err, want)
			}
		}
	}
}

// shuffled are rows whose times are in no order.
func shuffled(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%d,%d\n", i*7919%n+1, 10+i%20)
	}
	return b.String()
}

// TestLongLogs: memory does not grow with the file: of a long run every second sample
// is kept, and so on.
func TestLongLogs(t *testing.T) {
	c := drive.Coast{Mass: 85, Steady: 15, Drag: 0.27}
	var b strings.Builder
	b.WriteString("time_s,speed_kmh\n")
	for i := range 25_000 {
		t := float64(i) / 800
		fmt.Fprintf(&b, "%.5f,%.5f\n", t, c.Speed(9, t)*3.6)
	}
	l, err := read(t, b.String(), Options{})
	if err != nil || len(l.Runs) != 1 {
		t.Fatal(err)
	}
	if n := len(l.Runs[0].Times); n > mostKept || n < mostKept/4 || notes(l)[ThinnedRuns] == 0 {
		t.Errorf("%d samples are kept, notes %v", n, notes(l))
	}
	for i, at := range l.Runs[0].Times {
		if v := c.Speed(9, at); math.Abs(v-l.Runs[0].Speeds[i]) > 1e-3 {
			t.Fatalf("sample at %g s: %g m/s, was %g", at, l.Runs[0].Speeds[i], v)
		}
	}
}
