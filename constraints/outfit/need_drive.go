package outfit

import (
	"fmt"
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// Where the demands on what holds the drive together come from.
const (
	sourceKey    = "DIN 6885-1; ISO 773"
	sourceRemote = "common practice, no published source: a board whose signal is lost must roll out, not drive on"
	sourceBelt   = "belt geometry: Roloff/Matek; ISO 5296"
)

// KeySize returns the width and the height in m of the parallel key for a shaft
// of a diameter in m (DIN 6885-1, ISO 773; the sizes over 12 mm from memory).
// ok is false below 6 and above 22 mm.
func KeySize(shaft float64) (width, height float64, ok bool) {
	for _, row := range []struct{ upTo, side float64 }{{8, 2}, {10, 3}, {12, 4}, {17, 5}, {22, 6}} {
		if drive.AtMost(shaft*mm, row.upTo) {
			return row.side / mm, row.side / mm, drive.AtLeast(shaft*mm, 6)
		}
	}
	return 0, 0, false
}

// shaftKey is what the motor pulley or gear drive needs on the shaft.
func (m *maker) shaftKey() catalog.ShaftKey {
	if g := m.build.Drive.Gear; g != nil {
		return g.ShaftKey
	}
	return m.build.Drive.MotorPulley.ShaftKey
}

// turner is what turns on the motor shaft.
func (m *maker) turner() string {
	if m.build.Drive.Gear != nil {
		return "gear drive"
	}
	return "motor pulley"
}

// fasteners are the needs of what holds the drive on its shafts.
func (m *maker) fasteners() []*Need {
	if g := m.build.Drive.Gear; g != nil && g.InWheel {
		return nil // the motor and its drive come together
	}
	var out []*Need
	n := m.build.Motors()
	key := m.shaftKey()
	if key == catalog.KeyKeyway {
		out = append(out, m.key(n))
	}
	screws := "set screws"
	switch key {
	case catalog.KeyFlat:
		screws = "set screws (one on the flat)"
	case catalog.KeyKeyway:
		screws = "set screws (one on the key)"
	}
	return append(out, &Need{
		For: "set screws", Pieces: n, State: Missing,
		Words: fmt.Sprintf("%s and medium thread lock for %s, where they do not come with it", screws, counted(n, m.turner(), m.turner()+"s")),
		Notes: []string{"a screw without thread lock works loose, and what slips wears the shaft: look at it after some hours of riding and again later (common practice, no published source)"},
	})
}

// key is the need of parallel keys.
func (m *maker) key(n int) *Need {
	shaft := m.build.Motor.Shaft
	need := &Need{For: "key", Pieces: n, State: Missing}
	width, height, ok := KeySize(shaft)
	switch {
	case math.IsNaN(shaft):
		need.State = Open
		need.Words = counted(n, "parallel key", "parallel keys") + ", of a size that goes with the unknown shaft"
		need.Demands = []Demand{{Key: "shaft_mm", What: "key", PerSI: mm, Unit: "mm", Least: math.NaN(), Most: math.NaN(), Open: "the motor's shaft_mm is not known", Source: sourceKey}}
	case !ok:
		need.Words = fmt.Sprintf("%s as the maker of the motor says: the table has none for a shaft of %s mm", counted(n, "key", "keys"), num(shaft*mm))
	default:
		need.Words = fmt.Sprintf("%s of %s × %s mm, as long as the hub, for a shaft of %s mm",
			counted(n, "parallel key", "parallel keys"), num(width*mm), num(height*mm), num(shaft*mm))
		need.Demands = []Demand{{
			Key: "shaft_mm", What: "width of the key", Unit: "mm", PerSI: mm, Least: width, Most: width,
			How: fmt.Sprintf("shaft of %s mm", num(shaft*mm)), Source: sourceKey,
		}}
	}
	need.Notes = []string{"motors with a keyway mostly come with a key"}
	return need
}

// belts is the need of belts where the build has chosen none; nil else.
func (m *maker) belts() *Need {
	d := m.build.Drive
	if d.Gear != nil || d.Belt != nil {
		return nil
	}
	a, b := d.MotorPulley, d.WheelPulley
	n := m.build.Motors()
	need := &Need{For: "belt", Pieces: n, State: Missing}
	start := fmt.Sprintf("%s for pulleys of %d and %d teeth", counted(n, "belt", "belts"), a.Teeth, b.Teeth)
	open := func(why string) *Need {
		need.State = Open
		need.Words = start + ", of an unknown number of teeth"
		need.Demands = []Demand{{Key: "teeth", What: "teeth", PerSI: 1, Least: math.NaN(), Most: math.NaN(), Open: why, Source: sourceBelt}}
		return need
	}
	switch {
	case a.Profile.ID != b.Profile.ID:
		need.State = Misfit
		need.Words = fmt.Sprintf("%s: none goes on both %s and %s", start, a.Profile.ID, b.Profile.ID)
		return need
	case d.Mount == nil:
		return open("without a mount the distance of the shafts is not known")
	}
	least, most := beltTeeth(a.Profile.Profile, a.Teeth, b.Teeth, d.Mount.CentreMin, d.Mount.CentreMax)
	apart := "shafts " + m.wishes.Units.lengths(" to ", num, d.Mount.CentreMin, d.Mount.CentreMax) + " apart"
	need.Demands = []Demand{{
		Key: "teeth", What: "teeth", PerSI: 1, Least: float64(least), Most: float64(most),
		How: apart, Source: sourceBelt,
	}}
	width := math.Min(orElse(a.Width, math.Inf(1)), orElse(b.Width, math.Inf(1)))
	wide := ""
	if !math.IsInf(width, 1) {
		wide = fmt.Sprintf(", at most %s mm wide", down(width*mm))
	}
	if least > most {
		need.State = Misfit
		need.Words = start + ": no whole number of teeth suits " + apart
		return need
	}
	need.Words = fmt.Sprintf("%s, of %s with %s teeth%s", start, a.Profile.ID, span(least, most), wide)
	return need
}

// span writes a range of whole numbers.
func span(least, most int) string {
	if least == most {
		return fmt.Sprint(least)
	}
	return fmt.Sprintf("%d to %d", least, most)
}

// beltTeeth returns the fewest and the most teeth of a belt round two pulleys
// whose shafts are from one distance to another apart, in m.
func beltTeeth(p drive.Profile, a, b int, from, to float64) (least, most int) {
	da, db := p.PitchDiameter(a), p.PitchDiameter(b)
	from = math.Max(from, math.Abs(da-db)/2)
	least = int(math.Ceil(drive.BeltLength(from, da, db)/p.Pitch - 1e-9))
	most = int(math.Floor(drive.BeltLength(to, da, db)/p.Pitch + 1e-9))
	return least, most
}

// remote is the need of a remote.
func (m *maker) remote() *Need {
	n := &Need{Kind: "remote", Pieces: 1, Words: "a remote with its receiver, after whose loss of signal the motors let go"}
	choose(n, m.catalog.Remotes, []ask[*catalog.Remote]{
		{
			yes("failsafe", "the motors let go when its signal is lost", "", sourceRemote),
			func(r *catalog.Remote) float64 { return isSo(r.Failsafe) },
		},
	})
	return n
}
