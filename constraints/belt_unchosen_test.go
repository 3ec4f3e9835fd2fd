package constraints

import (
	"math"
	"testing"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// TestUnchosenBelts: each reason, worked out on paper for pulleys of 16 and 48
// teeth, 5 mm pitch and 12 mm wide, on a mount from 70 to 90 mm: a belt of 60
// teeth wants 65 mm between the axles, 64 teeth 76 mm, 65 teeth 78 mm, and
// 30 teeth do not go around the large pulley.
func TestUnchosenBelts(t *testing.T) {
	five, three := &catalog.Profile{Part: catalog.Part{ID: "five"}, Profile: drive.Profile{Pitch: 0.005}}, &catalog.Profile{Part: catalog.Part{ID: "three"}, Profile: drive.Profile{Pitch: 0.003}}
	belt := func(id string, profile *catalog.Profile, teeth int, width float64) *catalog.Belt {
		return &catalog.Belt{Part: catalog.Part{ID: id}, Profile: profile, Teeth: teeth, Width: width}
	}
	pulley := func(teeth int) *catalog.Pulley {
		return &catalog.Pulley{Profile: five, Teeth: teeth, Width: 0.012}
	}
	belts := []*catalog.Belt{
		belt("chosen", five, 65, 0.012), belt("other", three, 65, 0.012), belt("wide", five, 65, 0.015),
		belt("short", five, 30, 0.012), belt("near", five, 60, 0.012), belt("narrow", five, 64, 0.009),
		belt("twin", five, 65, 0.012), belt("near too", five, 60, 0.012),
	}
	mount := &catalog.Mount{CentreMin: 0.070, CentreMax: 0.090}
	for _, tt := range []struct {
		mount *catalog.Mount
		want  map[string]Unchosen
		why   string
	}{
		{mount, map[string]Unchosen{
			"other": BeltNoPulleys, "wide": BeltTooWide, "short": BeltTooShort, "near": BeltOutOfRange, "narrow": BeltOutdone,
			"twin": BeltOutdone, "near too": BeltOutOfRange,
		}, "a mount decides"},
		{nil, map[string]Unchosen{
			"chosen": BeltNoMount, "other": BeltNoPulleys, "wide": BeltNoMount, "short": BeltNoMount, "near": BeltNoMount, "narrow": BeltNoMount,
			"twin": BeltNoMount, "near too": BeltNoMount,
		}, "without a mount no belt is chosen"},
	} {
		p := &Problem{Belts: belts}
		small, large := pulley(16), pulley(48)
		for range 2 { // the second asks no more than the first
			p.Drives = append(p.Drives, p.beltDrive(small, large, tt.mount, centres(small, large, belts)))
		}
		got := map[string]Unchosen{}
		for _, u := range p.UnchosenBelts() {
			got[u.Belt.ID] = u.Why
			if (u.Instead != nil) != (u.Why == BeltOutdone) || u.Instead != nil && u.Instead.ID != "chosen" {
				t.Errorf("%s: instead of %s there is %v", tt.why, u.Belt.ID, u.Instead)
			}
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: %v, want %v", tt.why, got, tt.want)
		}
		for id, want := range tt.want {
			if got[id] != want {
				t.Errorf("%s: %s for the reason %d, want %d", tt.why, id, got[id], want)
			}
		}
	}
}

// TestNamedBeltThatDoesNotGoAround: with a belt that somebody names and that is
// too short, or of another profile, nothing tells the teeth in mesh, idler or not.
func TestNamedBeltThatDoesNotGoAround(t *testing.T) {
	five, three := &catalog.Profile{Part: catalog.Part{ID: "five"}, Profile: drive.Profile{Pitch: 0.005}}, &catalog.Profile{Part: catalog.Part{ID: "three"}, Profile: drive.Profile{Pitch: 0.003}}
	small, large := &catalog.Pulley{Profile: five, Teeth: 16}, &catalog.Pulley{Profile: five, Teeth: 48}
	for _, belt := range []*catalog.Belt{{Profile: five, Teeth: 30}, {Profile: three, Teeth: 100}} {
		for _, idler := range []bool{false, true} {
			p := &Problem{Brief: DefaultBrief(), Belts: []*catalog.Belt{belt}}
			mount := &catalog.Mount{CentreMin: 0.05, CentreMax: 0.09, Idler: idler}
			b := &Build{Problem: p, Drive: p.namedBelt(small, large, mount, belt)}
			if o := meshCheck.Test(b); o.Verdict != Undecided || !math.IsNaN(o.Value) || !math.IsNaN(b.Drive.Centre) || b.Drive.NoMesh() != NoBeltAround {
				t.Errorf("%s with %d teeth: mesh %v, %v teeth", belt.Profile.ID, belt.Teeth, o.Verdict, o.Value)
			}
		}
	}
}
