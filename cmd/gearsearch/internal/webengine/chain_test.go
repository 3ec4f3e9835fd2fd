package webengine

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
)

// chains is a catalog with a chain drive and a belt drive for one motor and wheel.
const chains = little + `
[[sprocket]]
id = "pin"
name = "Steel sprocket"
side = "motor"
profile = "chain-06c"
teeth = [11, 12]
bore_mm = 8

[[sprocket]]
id = "star-40"
name = "Steel wheel sprocket"
side = "wheel"
profile = "chain-06c"
teeth = 40
price = 26

[[pulley]]
id = "cog"
side = "motor"
profile = "htd-5m"
teeth = 15
width_mm = 16
bore_mm = 8

[[chain]]
id = "run-48"
name = "Roller chain"
profile = "chain-06c"
links = 48
breaking_n = 8200

[[belt]]
id = "loop-75"
profile = "htd-5m"
teeth = 75
width_mm = 15

[[mount]]
id = "arm"
centre_min_mm = 80
centre_max_mm = 112
`

// TestShelvesOfChains: sprockets and chains stand on shelves of their own beside the
// pulleys and belts that go into the same slots, each with its own keys, and are counted
// once.
func TestShelvesOfChains(t *testing.T) {
	e := newEngine(t)
	c := answer[contents](t, e, M{"ask": "catalog", "files": files("chains.toml", chains)})
	got := map[string]shelfSize{}
	n := 0
	for _, s := range c.Shelves {
		if _, twice := got[s.Name]; twice {
			t.Errorf("two shelves are called %s", s.Name)
		}
		got[s.Name] = s
		n += s.N
	}
	if n != 12 || c.Total != n {
		t.Errorf("%d parts on shelves, %d in all, want 12", n, c.Total)
	}
	for _, tt := range []struct {
		name, slot, kind, side string
		ids, has, without      []string
	}{
		{"motor_pulley", "motor_pulley", "pulley", "motor", []string{"cog"}, []string{"teeth", "width_mm"}, nil},
		{"motor_sprocket", "motor_pulley", "sprocket", "motor", []string{"pin-11", "pin-12"}, []string{"teeth", "bore_mm"}, []string{"width_mm"}},
		{"wheel_sprocket", "wheel_pulley", "sprocket", "wheel", []string{"star-40"}, []string{"teeth", "hub"}, []string{"width_mm"}},
		{"belt", "belt", "belt", "", []string{"loop-75"}, []string{"teeth", "width_mm"}, []string{"links"}},
		{"chain", "belt", "chain", "", []string{"run-48"}, []string{"links", "breaking_n"}, []string{"teeth", "width_mm"}},
	} {
		size := got[tt.name]
		if size.Slot != tt.slot || size.Kind != tt.kind || size.N != len(tt.ids) || size.Says["side"] != tt.side {
			t.Errorf("%s: %+v", tt.name, size)
		}
		s := answer[shelf](t, e, M{"ask": "shelf", "slot": tt.slot, "kind": tt.kind})
		var ids, keys []string
		for _, p := range s.Parts {
			ids = append(ids, p.ID)
			if p.Cells["id"] != p.ID || p.Cells["profile"] == "" || len(p.Facts) == 0 {
				t.Errorf("%s: %+v", tt.name, p)
			}
		}
		for _, k := range s.Keys {
			keys = append(keys, k.Key)
		}
		if !slices.Equal(ids, tt.ids) || s.Found != len(ids) {
			t.Errorf("%s has %v, want %v", tt.name, ids, tt.ids)
		}
		for _, key := range tt.has {
			if !slices.Contains(keys, key) {
				t.Errorf("%s has no key %s: %v", tt.name, key, keys)
			}
		}
		for _, key := range tt.without {
			if slices.Contains(keys, key) {
				t.Errorf("%s has a key %s", tt.name, key)
			}
		}
	}
	if r := ask[shelf](t, e, M{"ask": "shelf", "slot": "motor_pulley", "kind": "chain"}); !strings.Contains(r.Fault, "no \"chain\" goes into") {
		t.Errorf("chains as motor pulleys: %+v", r)
	}
}

// TestOwnChains: sprockets and chains of the reader's own are read, written and matched
// from rows as all parts are.
func TestOwnChains(t *testing.T) {
	e := newEngine(t)
	rows := []M{
		draft("sprocket", "name", "Mine", "side", "wheel", "profile", "chain-06c", "teeth", "44"),
		draft("chain", "profile", "chain-06c", "links", "50"),
		draft("sprocket", "id", "wrong", "side", "motor", "profile", "htd-5m", "teeth", "12"),
	}
	got := answer[ownParts](t, e, M{"ask": "own", "drafts": rows, "files": files("chains.toml", chains)})
	if w := got.Rows[2].Wrong; len(got.Rows[0].Wrong)+len(got.Rows[1].Wrong) > 0 || len(w) != 1 || w[0].Key != "profile" || !strings.Contains(w[0].Hint, "[[pulley]]") {
		t.Errorf("read as %+v", got.Rows)
	}
	c, err := catalog.Read(catalog.Source{Name: "chains.toml", Data: []byte(chains)}, catalog.Source{Name: got.File.Name, Data: got.File.Data})
	if err != nil || len(c.Sprockets) != 4 || len(c.Chains) != 2 {
		t.Fatalf("%v\n%s", err, got.File.Data)
	}
	g := answer[grid](t, e, M{"ask": "grid", "text": "teeth\tprofile\n44\tchain-06c\n", "kind": "sprocket", "slot": "wheel_pulley"})
	if len(g.Drafts) != 1 || g.Drafts[0].Cells["side"] != "wheel" {
		t.Errorf("a sprocket for the wheel: %+v", g.Drafts)
	}
	g = answer[grid](t, e, M{"ask": "grid", "text": "Links;Breaking load (kN);Profile\n48;8,2;chain-06c\n"})
	if g.Kind != "chain" || g.Drafts[0].Cells["breaking_n"] != "8,2 kN" {
		t.Errorf("rows of chains: %+v", g)
	}
}

// TestChainDriveIsCalledSo: what people read of the slots of a chain drive names
// sprockets and the chain.
func TestChainDriveIsCalledSo(t *testing.T) {
	e := newEngine(t)
	answer[contents](t, e, M{"ask": "catalog", "files": files("chains.toml", chains)})
	build := "schema = 1\n[build]\nmotor = \"m1\"\nmotors = 2\ncontroller = \"c1\"\nbattery = \"b1\"\nwheel = \"w1\"\nmotor_pulley = \"pin-11\"\nwheel_pulley = \"star-40\"\nbelt = \"run-48\"\nmount = \"arm\"\n"
	s := answer[sheet](t, e, M{"ask": "sheet", "brief": M{"target.top_speed_kmh": "20"}, "build": build})
	for slot, title := range map[string]string{"motor_pulley": "motor sprocket", "wheel_pulley": "wheel sprocket", "belt": "chain", "mount": "mount"} {
		if !slices.Contains(s.Slots, titled{slot, title}) {
			t.Errorf("%s is not called %s: %+v", slot, title, s.Slots)
		}
	}
	for _, in := range answer[introduction](t, e, M{"ask": "start"}).Slots {
		if want := map[string]string{"belt": "belt or chain", "motor_pulley": "motor pulley or motor sprocket", "gear_drive": "gear drive"}[in.Name]; want != "" && in.Called != want {
			t.Errorf("%s is called %q, want %q", in.Name, in.Called, want)
		}
	}
}

// TestPartsToMake: the sheet of a build says of a part that is made how, by what figures
// and with what care, each once.
func TestPartsToMake(t *testing.T) {
	e := newEngine(t)
	made := strings.Replace(chains, "name = \"Steel wheel sprocket\"\n", "name = \"Steel wheel sprocket\"\nmade = \"printed\"\n", 1)
	answer[contents](t, e, M{"ask": "catalog", "files": files("chains.toml", made)})
	build := "schema = 1\n[build]\nmotor = \"m1\"\nmotors = 2\ncontroller = \"c1\"\nbattery = \"b1\"\nwheel = \"w1\"\nmotor_pulley = \"pin-11\"\nwheel_pulley = \"star-40\"\nbelt = \"run-48\"\nmount = \"arm\"\n"
	text := answer[sheet](t, e, M{"ask": "sheet", "brief": M{"target.top_speed_kmh": "20"}, "build": build}).Sheet.String()
	for says, n := range map[string]int{
		"<b>to be printed</b>: profile\u00a0chain-06c, teeth\u00a040, pitch": 1,
		"<small>printed": 0,
		"to make:":       0,
		"printed teeth":  1,
	} {
		if got := strings.Count(text, says); got != n {
			t.Errorf("%q stands %d times in the sheet, want %d", says, got, n)
		}
	}
}
