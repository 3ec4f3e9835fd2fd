package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// A gear maker's published table of pitch diameters for a chain of 1 inch, rounded to
// 0.01 mm, and ISO 606, annex A, for a chain of one millimetre, from memory.
func TestSprocketPitchDiameter(t *testing.T) {
	inch := drive.Profile{Pitch: 25.4 * mm, Chain: &drive.Chain{}}
	for teeth, want := range map[int]float64{8: 66.37, 11: 90.16, 12: 98.14, 20: 162.37, 33: 267.21, 60: 485.33, 100: 808.64} {
		within(t, "pitch diameter", inch.PitchDiameter(teeth)/mm, want, 0.0051)
	}
	unit := drive.Profile{Pitch: 1 * mm, Chain: &drive.Chain{}}
	for teeth, want := range map[int]float64{9: 2.9238, 11: 3.5494, 12: 3.8637, 15: 4.8097, 20: 6.3925, 25: 7.9787} {
		within(t, "unit pitch diameter", unit.PitchDiameter(teeth)/mm, want, 0.0001)
	}
}

// The handbooks' outside diameter of ANSI B29.1, p (0.6 + cot π/z), from memory, lies
// between the least and the greatest of ISO 606, d + p (1 − 1.6/z) − d₁ and the one
// that is taken here.
func TestSprocketOutsideDiameter(t *testing.T) {
	for _, name := range []string{"chain-04c", "chain-05b", "chain-06c"} {
		p := profile(t, name)
		for teeth := 9; teeth <= 80; teeth++ {
			z, d := float64(teeth), p.PitchDiameter(teeth)
			most, least := p.OutsideDiameter(teeth), d+p.Pitch*(1-1.6/z)-p.Chain.Roller
			if ansi := p.Pitch * (0.6 + 1/math.Tan(math.Pi/z)); ansi > most || ansi < least {
				t.Errorf("%s, %d teeth: %.2f mm is not from %.2f to %.2f", name, teeth, ansi/mm, least/mm, most/mm)
			}
		}
	}
}

// What ISO 606 says of its three smallest chains, from memory: pitch, roller or bush,
// plate, tensile strength. 04C and 06C are the inch chains of a quarter and of three
// eighths, 05B is metric.
func TestChains(t *testing.T) {
	for _, tt := range []struct {
		name                    string
		pitch, roller, plate, n float64 // mm, N
	}{
		{"chain-04c", 25.4 / 4, 3.30, 6.02, 3500},
		{"chain-05b", 8, 5.00, 7.11, 4400},
		{"chain-06c", 25.4 * 3 / 8, 5.08, 9.05, 7900},
	} {
		p := profile(t, tt.name)
		near(t, tt.name+" pitch", p.Pitch, tt.pitch*mm, 1e-12)
		near(t, tt.name+" roller", p.Chain.Roller, tt.roller*mm, 1e-12)
		near(t, tt.name+" plate", p.Chain.Plate, tt.plate*mm, 1e-12)
		near(t, tt.name+" breaks at", p.Chain.Breaking, tt.n, 1e-12)
	}
}

func TestChainLength(t *testing.T) {
	for _, tt := range []struct {
		name          string
		a, b          int
		centre        float64 // pitches
		links         float64
		within        float64
		back, centre2 float64 // even links, the centre distance at them; 0: not told
	}{
		{"Khurmi & Gupta, Machine Design, compressor drive of 19.05 mm at 568 mm, from memory: 110 links", 25, 72, 568 / 19.05, 110, 0.06, 110, 0},
		{"a paper on chains by computer, its textbook case: the book's 114.8 links, and 35.6 pitches at 114", 20, 63, 36, 114.8, 0.005, 114, 35.6},
		{"equal sprockets: two runs and two halves", 17, 17, 40, 97, 1e-12, 97, 40},
	} {
		within(t, tt.name, drive.ChainLinks(tt.centre, tt.a, tt.b), tt.links, tt.within)
		if tt.centre2 > 0 {
			got, ok := drive.ChainCentre(int(tt.back), tt.b, tt.a)
			if !ok {
				t.Errorf("%s: no centre distance", tt.name)
			}
			within(t, tt.name, got, tt.centre2, 0.05)
		}
	}
	if _, ok := drive.ChainCentre(40, 11, 80); ok {
		t.Error("40 links go around 80 teeth")
	}
}

// The centre distance takes as many links as it was worked out from; and the handbooks'
// formula is the wrapped teeth and the straight runs, within a seventh of a link where
// the sprockets do not touch and the ratio is at most 4.
func TestChainCentre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(9, 20).Draw(t, "a"), rapid.IntRange(20, 60).Draw(t, "b")
		links := rapid.IntRange(b, 200).Draw(t, "links")
		p := drive.Profile{Pitch: 8 * mm, Chain: &drive.Chain{}}
		c, ok := p.CentreDistance(links, a, b)
		turned, okTurned := p.CentreDistance(links, b, a)
		if c != turned || ok != okTurned {
			t.Fatalf("%g and, the other way round, %g", c, turned)
		}
		if !ok {
			return
		}
		if back := p.Length(c, a, b); math.Abs(back-float64(links)) > 1e-9 {
			t.Fatalf("%g links at the centre distance of %d", back, links)
		}
		da, db := p.PitchDiameter(a), p.PitchDiameter(b)
		if c < (da+db)/2 || float64(b) > 4*float64(a) {
			return
		}
		// Wrapped teeth are counted as teeth, the runs as straight lines.
		phi := math.Asin((db - da) / (2 * c))
		exact := 2*c*math.Cos(phi)/p.Pitch + (float64(a)*(math.Pi-2*phi)+float64(b)*(math.Pi+2*phi))/(2*math.Pi)
		if math.Abs(exact-float64(links)) > 0.15 {
			t.Fatalf("%d and %d teeth, %d links: the runs and the wrapped teeth are %.3f", a, b, links, exact)
		}
	})
}

// 1 − cos(π/z) as handbooks print it, from memory: 4.1 % at 11 teeth, 1.7 % at 17.
func TestUnevenness(t *testing.T) {
	within(t, "11 teeth", drive.Unevenness(11), 0.041, 0.0006)
	within(t, "17 teeth", drive.Unevenness(17), 0.017, 0.0006)
}
