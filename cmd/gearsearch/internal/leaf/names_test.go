package leaf

import (
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// named is how a row names the parts of the best build of a catalog that some parts
// are added to.
func named(t *testing.T, slot constraints.Slot, with string) string {
	t.Helper()
	c, err := catalog.Read(append(catalog.DemoSources(), catalog.Source{Name: "own.toml", Data: []byte("schema = 1\n" + with)})...)
	if err != nil {
		t.Fatal(err)
	}
	_, brief := demo(t, "harbour")
	brief.Keep[constraints.SlotMotor] = []string{"ov-63m-145"}
	brief.Keep[constraints.SlotBattery] = []string{"tour-12s4p"}
	b := rank(t, c, brief, 1).At(0).Build
	return newNamer(c).part(b, slot).text()
}

// TestNamesTellPartsApart: a part goes by its name up to the first comma, by all of
// it where another begins so, and by the end of its id where another has the name.
func TestNamesTellPartsApart(t *testing.T) {
	for _, x := range []struct {
		why  string
		slot constraints.Slot
		with string
		want string
	}{
		{"packs of one family share their name", constraints.SlotBattery, "", "Touring pack 12s4p"},
		{"another name begins so", constraints.SlotBattery, "[[battery]]\nid = \"other\"\nname = \"Touring pack, cold cells\"\nseries = 12\nnominal_v = 43\nfull_v = 50\ncapacity_ah = 10\n", "Touring pack, 21700 energy cells 12s4p"},
		{"alone under its name", constraints.SlotController, "", "Tolvane single 50"},
		{"a part of another family with the same name", constraints.SlotController, "[[controller]]\nid = \"tv-new\"\nname = \"Tolvane single 50\"\nchannels = 1\n", "Tolvane single 50 tv-s50"},
	} {
		if got := named(t, x.slot, x.with); got != x.want {
			t.Errorf("%s: %q, want %q", x.why, got, x.want)
		}
	}
}

// TestNamesOfDrives: a belt drive goes by its teeth, a gear drive by name and
// reduction; a part without a name by its id.
func TestNamesOfDrives(t *testing.T) {
	c, brief := demo(t, "harbour")
	r := rank(t, c, brief, 40)
	n := newNamer(c)
	kinds := map[bool]bool{}
	for s := range r.Builds() {
		d := n.drive(s.Build)
		geared := s.Build.Drive.Gear != nil
		kinds[geared] = true
		if d.Short == "" || geared != (d.Behind != "") {
			t.Errorf("the drive of No. %d is %+v", s.Rank, d)
		}
	}
	if len(kinds) != 2 {
		t.Error("the list has not both kinds of drives")
	}
	b := r.At(0).Build
	b.Wheel.Part.Name, b.Wheel.Part.Family = "", ""
	if p := n.part(b, constraints.SlotWheel); p.text() != b.Wheel.ID || p.Apart != "" || p.ID != "" {
		t.Errorf("a wheel without a name is %+v", p)
	}
}
