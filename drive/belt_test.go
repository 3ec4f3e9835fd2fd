package drive_test

import (
	"math"
	"slices"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

const mm = 1e-3

func profile(t *testing.T, name string) drive.Profile {
	t.Helper()
	for _, p := range drive.Profiles() {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no built-in profile %q", name)
	return drive.Profile{}
}

// The data sheet of a maker of 3 mm HTD pulleys (ISO 13050), rounded to 0.01 mm.
func TestPitchAndOutsideDiameter(t *testing.T) {
	p := profile(t, "htd-3m")
	for _, tt := range []struct {
		teeth          int
		pitch, outside float64 // mm
	}{
		{12, 11.46, 10.70}, {20, 19.10, 18.34}, {24, 22.92, 22.16},
	} {
		within(t, "pitch diameter", p.PitchDiameter(tt.teeth)/mm, tt.pitch, 0.0051)
		within(t, "outside diameter", p.OutsideDiameter(tt.teeth)/mm, tt.outside, 0.0051)
	}
}

// The built-in profiles against the standards by what their names say: the
// pitch, and for the inch profiles that it is one.
func TestProfiles(t *testing.T) {
	inch := 25.4 * mm
	want := map[string]float64{
		"htd-3m": 3 * mm, "htd-5m": 5 * mm, "htd-8m": 8 * mm, // ISO 13050
		"gt-2": 2 * mm, "gt-3": 3 * mm, "gt-5": 5 * mm, // ISO 13050
		"t5": 5 * mm, "t10": 10 * mm, // DIN 7721
		"xl": inch / 5, "l": inch * 3 / 8, // ISO 5296
	}
	profiles := slices.DeleteFunc(drive.Profiles(), func(p drive.Profile) bool { return p.Chain != nil })
	if len(profiles) != len(want) {
		t.Errorf("%d profiles, want %d", len(profiles), len(want))
	}
	for _, p := range profiles {
		pitch, ok := want[p.Name]
		if !ok {
			t.Errorf("profile %q is not expected", p.Name)
			continue
		}
		near(t, p.Name+" pitch", p.Pitch, pitch, 1e-12)
		// Makers' tables of outside diameters, from memory: below the pitch
		// diameter by twice so many thousandths of an inch, or by these millimetres.
		line, ok := map[string]float64{
			"htd-3m": 15, "htd-5m": 22.5, "htd-8m": 27, "gt-2": 10, "gt-3": 15, "gt-5": 22.5, "xl": 10, "l": 15,
		}[p.Name]
		less := 2 * line * inch / 1000
		if !ok {
			less = map[string]float64{"t5": 0.84 * mm, "t10": 1.86 * mm}[p.Name]
		}
		within(t, p.Name+" pitch less outside diameter, mm", (p.PitchDiameter(20)-p.OutsideDiameter(20))/mm, less/mm, 0.001)
	}
	// A caller's change stays the caller's.
	profiles[0].Pitch = 1
	if drive.Profiles()[0].Pitch == 1 {
		t.Error("Profiles returns one shared slice")
	}
}

func TestCentreDistance(t *testing.T) {
	for _, tt := range []struct {
		name               string
		pitch              float64 // mm
		large, small, belt int     // teeth
		centre             float64 // mm
		within             float64
	}{
		{"Roloff/Matek, task on a T5 drive, the book rounds to 299", 5, 114, 38, 198, 298.86, 0.005},
		{"published design notes", 5, 40, 20, 90, 149.150, 0.0005},
		{"published design notes, equal pulleys", 3, 40, 40, 276, 354.000, 0.0005},
		// A table that goes round prints 55.0 for this drive: it was worked out
		// from the outside diameters.
		{"pitch diameters, not outside ones", 2, 60, 30, 100, 54.156, 0.0005},
	} {
		d := func(teeth int) float64 { return float64(teeth) * tt.pitch * mm / math.Pi }
		got, ok := drive.CentreDistance(float64(tt.belt)*tt.pitch*mm, d(tt.large), d(tt.small))
		if !ok {
			t.Errorf("%s: no centre distance", tt.name)
		}
		within(t, tt.name, got/mm, tt.centre, tt.within)
		if turned, _ := drive.CentreDistance(float64(tt.belt)*tt.pitch*mm, d(tt.small), d(tt.large)); turned != got {
			t.Errorf("%s: %g with the pulleys the other way round, %g so", tt.name, turned, got)
		}
	}
	p := profile(t, "gt-2")
	if wrong, _ := drive.CentreDistance(200*mm, p.OutsideDiameter(60), p.OutsideDiameter(30)); wrong/mm < 54.9 {
		t.Errorf("from outside diameters %g mm: the circulating 55.0 has another cause than the comment says", wrong/mm)
	}
}

func TestTeethInMesh(t *testing.T) {
	pitch := 5 * mm / math.Pi
	// Roloff/Matek, the T5 drive: 156.65°, the book cuts to 156°.
	centre, _ := drive.CentreDistance(198*5*mm, 114*pitch, 38*pitch)
	within(t, "wrap", drive.WrapAngle(centre, 114*pitch, 38*pitch)*180/math.Pi, 156.65, 0.005)
	for _, tt := range []struct {
		name         string
		small, large int
		centre       float64 // mm
		want         float64
	}{
		// Published design notes, 5 mm pitch.
		{"belt of 90", 20, 40, 149.150, 9.319},
		{"at 130 mm", 20, 100, 130, 6.742},
		{"at 100 mm", 20, 100, 100, 5.607},
	} {
		wrap := drive.WrapAngle(tt.centre*mm, float64(tt.small)*pitch, float64(tt.large)*pitch)
		within(t, tt.name, drive.TeethInMesh(tt.small, wrap), tt.want, 0.0006)
		if got := drive.WholeTeethInMesh(tt.small, wrap); got != int(tt.want) {
			t.Errorf("%s: %d whole teeth, want %d", tt.name, got, int(tt.want))
		}
	}
	// Half of the teeth on equal pulleys, whatever the rounding of π.
	for teeth := 8; teeth <= 200; teeth += 2 {
		d := float64(teeth) * pitch
		if got := drive.WholeTeethInMesh(teeth, drive.WrapAngle(200*mm, d, d)); got != teeth/2 {
			t.Errorf("%d teeth on equal pulleys: %d in mesh", teeth, got)
		}
	}
	for _, tt := range []struct {
		wrap float64 // turns
		want int
		why  string
	}{
		{0.3, 6, "exactly six of twenty"},
		{0.3 - 1e-12, 6, "short by rounding"},
		{0.3 - 1e-9, 5, "short by more than the tolerance"},
		{0.3 + 1e-9, 6, ""},
	} {
		if got := drive.WholeTeethInMesh(20, tt.wrap*2*math.Pi); got != tt.want {
			t.Errorf("wrap of %.12f turns: %d whole teeth, want %d: %s", tt.wrap, got, tt.want, tt.why)
		}
	}
}

// The handbook's table of allowable working tension, pounds for each inch of
// width; and its worked figures for HTD 5M, 268 N on 15 mm and 447 N on 25 mm.
func TestBeltPull(t *testing.T) {
	const poundPerInch = 4.4482216 / 25.4e-3 // N/m
	for name, want := range map[string]float64{
		"htd-3m": 64, "htd-5m": 102, "htd-8m": 178, "gt-2": 25, "gt-3": 114, "gt-5": 160, "xl": 28,
	} {
		// Half of the last digit of the table.
		within(t, name, profile(t, name).Pull/poundPerInch, want, 0.5)
	}
	p := profile(t, "htd-5m")
	within(t, "pull on 15 mm", p.Pull*15*mm, 268, 0.5)
	within(t, "pull on 25 mm", p.Pull*25*mm, 447, 0.5)
}

// ISO 5296.
func TestMeshFactor(t *testing.T) {
	for whole, want := range map[int]float64{0: 0.2, 1: 0.2, 2: 0.2, 3: 0.4, 4: 0.6, 5: 0.8, 6: 1, 7: 1, 40: 1} {
		if got := drive.MeshFactor(whole); got != want {
			t.Errorf("MeshFactor(%d) = %g, want %g", whole, got, want)
		}
	}
}

// The centre distance is the inverse of the belt length as far as the rounding
// of the length allows: an error ε of the length is one of ε L/(2 cos φ) here.
func TestCentreDistanceIsTheInverseOfBeltLength(t *testing.T) {
	const ulp = 0x1p-53
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			a := rapid.Float64Range(5, 400).Draw(t, "a") * mm
			b := rapid.Float64Range(5, 400).Draw(t, "b") * mm
			centre := (a + b) / 2 * rapid.Float64Range(1, 20).Draw(t, "centre")
			length := drive.BeltLength(centre, a, b)
			got, ok := drive.CentreDistance(length, a, b)
			cos := math.Sqrt(1 - math.Pow((a-b)/2/centre, 2))
			if slack := 1e-14*centre + 3*ulp*length/cos; !ok || math.Abs(got-centre) > slack {
				t.Fatalf("pulleys %g and %g at %.17g: belt %.17g, back at %.17g, %v", a, b, centre, length, got, ok)
			}
			near(t, "belt length there", drive.BeltLength(got, a, b), length, 1e-14)
			if other := drive.BeltLength(centre, b, a); math.Abs(other-length) > 1e-15*length {
				t.Fatalf("the pulleys the other way round take %g, not %g", other, length)
			}
			// The two straight runs and the two wraps, by the angle.
			wrap := drive.WrapAngle(centre, a, b)
			small, large := min(a, b), max(a, b)
			near(t, "belt length by its parts",
				2*centre*math.Sin(wrap/2)+small/2*wrap+large/2*(2*math.Pi-wrap), length, 1e-13)
		}
	})
}

func TestCentreDistanceDomain(t *testing.T) {
	const large, small = 100 * mm, 30 * mm
	for _, tt := range []struct {
		name   string
		length float64
		ok     bool
		why    string
	}{
		{"once round the large pulley", math.Pi * large, false, "the small one lies inside"},
		{"a trifle more", math.Pi * large * (1 + 1e-9), true, "it just reaches"},
		{"shorter", 0.2, false, ""},
		{"nothing", 0, false, ""},
		{"negative", -1, false, ""},
		{"not a number", math.NaN(), false, ""},
		{"very long", 1e6, true, ""},
	} {
		centre, ok := drive.CentreDistance(tt.length, large, small)
		if ok != tt.ok || ok && !(centre >= (large-small)/2) {
			t.Errorf("%s: CentreDistance(%g) = %g, %v, want %v: %s", tt.name, tt.length, centre, ok, tt.ok, tt.why)
		}
	}
	// Equal pulleys: half of what the belt leaves of a turn.
	centre, ok := drive.CentreDistance(0.5, 40*mm, 40*mm)
	if !ok {
		t.Fatal("no centre distance for equal pulleys")
	}
	near(t, "equal pulleys", centre, (0.5-math.Pi*40*mm)/2, 1e-15)
	if got := drive.BeltLength(30*mm, large, small); !math.IsNaN(got) {
		t.Errorf("one pulley inside the other: belt of %g", got)
	}
}
