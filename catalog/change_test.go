package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const friends = `schema = 1
currency = "EUR"
[[motor]]
id = "stout"
kv = [150, 190]
price = 90
note = "spare"
[[cell]]
id = "marl"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 2.5
capacity_ah = 4
[[battery]]
id = "pack"
series = 10
cell = "marl"
chemistry_of = 1
[[connector]]
id = "plug"
wire_max_awg = 12
[[wheel]]
id = "disc"
diameter_mm = 97
tyre = "rubber"
`

// friend is a catalog of others.
func friend() Source {
	return Source{Name: "friend.toml", Data: []byte(strings.Replace(friends, "chemistry_of = 1\n", "", 1))}
}

func overlay(name, text string) Source {
	return Source{Name: name, Data: []byte("schema = 1\n" + text)}
}

func TestChanges(t *testing.T) {
	for _, x := range []struct {
		why   string
		files []Source
		id    string
		key   string
		want  any
	}{
		{"a price", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 20")}, "disc", "price", 20.0},
		{"owned", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nowned = true")}, "disc", "owned", true},
		{"a day in TOML's own form", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\npriced = 2026-05-01")}, "disc", "priced", "2026-05-01"},
		{"a family: the first", []Source{overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout\"\nprice = 70")}, "stout-150", "price", 70.0},
		{"a family: the last", []Source{overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout\"\nprice = 70")}, "stout-190", "price", 70.0},
		{"one of a family", []Source{overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout-190\"\nprice = 70")}, "stout-150", "price", 90.0},
		{"unset", []Source{overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout\"\nunset = [\"price\", \"note\"]")}, "stout-150", "price", nil},
		{"unset of a word", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nunset = \"tyre\"")}, "disc", "tyre", nil},
		{"the last of several files", []Source{
			overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 20"),
			overlay("c.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 21"),
		}, "disc", "price", 21.0},
		{"the last of one file", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 20\n[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 21")}, "disc", "price", 21.0},
		{"back from unset", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nunset = [\"tyre\"]\n[[change]]\nkind = \"wheel\"\nid = \"disc\"\ntyre = \"urethane\"")}, "disc", "tyre", "urethane"},
		{"from a cell to volts of its own", []Source{overlay("b.toml", "[[change]]\nkind = \"battery\"\nid = \"pack\"\nunset = [\"cell\"]\nnominal_v = 36\nfull_v = 42\ncapacity_ah = 12")}, "pack", "nominal_v", 36.0},
		{"from a gauge to an area", []Source{overlay("b.toml", "[[change]]\nkind = \"connector\"\nid = \"plug\"\nunset = [\"wire_max_awg\"]\nwire_max_mm2 = 6")}, "plug", "wire_max_mm2", 6.0},
		{"a part of the same file", []Source{overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"own\"\nprice = 3\n[[wheel]]\nid = \"own\"\ndiameter_mm = 90\nprice = 4")}, "own", "price", 3.0},
		{"a cell of a later part of the list", []Source{overlay("b.toml", "[[cell]]\nid = \"peat\"\nnominal_v = 3.2\nfull_v = 3.6\ncutoff_v = 2.5\ncapacity_ah = 6\n[[change]]\nkind = \"battery\"\nid = \"pack\"\ncell = \"peat\"")}, "pack", "cell", "peat"},
		{"pieces for a price fall back", []Source{
			overlay("b.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nsold_in = 1"),
			overlay("c.toml", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nunset = [\"sold_in\"]"),
		}, "disc", "sold_in", 4},
	} {
		t.Run(x.why, func(t *testing.T) {
			c, err := Read(append([]Source{friend()}, x.files...)...)
			if err != nil {
				t.Fatal(err)
			}
			kind, _, ok := c.Find(x.id)
			if !ok {
				t.Fatalf("no %s", x.id)
			}
			for in, v := range c.Values(kind, x.id) {
				if in.Key == x.key && !cmp.Equal(v, x.want) {
					t.Errorf("%s of %s is %v, want %v", x.key, x.id, v, x.want)
				}
			}
		})
	}
}

// Several changes of a key are told with both places, and remarks point at the last.
func TestOverruledChanges(t *testing.T) {
	c, err := Read(friend(),
		overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout\"\nprice = 20\nunset = [\"note\"]"),
		overlay("c.toml", "[[change]]\nkind = \"motor\"\nid = \"stout-150\"\nnote = \"mine\"\nprice = 21"))
	if err != nil {
		t.Fatal(err)
	}
	want := []Change{
		{Kind: "motor", ID: "stout", Keys: []string{"price"}, Unset: []string{"note"}, Parts: 2, Pos: Position{"b.toml", 4, 6}},
		{Kind: "motor", ID: "stout-150", Keys: []string{"note", "price"}, Parts: 1, Pos: Position{"c.toml", 4, 6}, Overrules: []Overruled{
			{"note", Position{"b.toml", 6, 10}, Position{"c.toml", 5, 8}},
			{"price", Position{"b.toml", 5, 9}, Position{"c.toml", 6, 9}},
		}},
	}
	if diff := cmp.Diff(want, c.Changes); diff != "" {
		t.Error(diff)
	}
	for id, place := range map[string]string{"stout-150": "c.toml:6:9", "stout-190": "b.toml:5:9"} {
		if got := where(c.Places().At(id, "price")); got != place {
			t.Errorf("the price of %s stands at %s, want %s", id, got, place)
		}
	}
	if got := where(c.Places().At("stout-190", "kv")); got != "friend.toml:5:12" {
		t.Errorf("kv of the last stands at %s", got)
	}
}

func TestRates(t *testing.T) {
	rates := overlay("rates.toml", "[rates]\nUSD = 0.92\nGBP = 1.15\nUSDX = 3")
	foreign := overlay("us.toml", "currency = \"USD\"\n[rates]\nEUR = 1.09\n[[wheel]]\nid = \"far\"\ndiameter_mm = 90\nprice = 9.99\n[[wheel]]\nid = \"near\"\ndiameter_mm = 90\nprice = \"7 EUR\"\n[[wheel]]\nid = \"isle\"\ndiameter_mm = 90\nprice = \"10 GBP\"\n[[wheel]]\nid = \"free\"\ndiameter_mm = 90")
	change := overlay("c.toml", "[[change]]\nkind = \"wheel\"\nid = \"isle\"\nprice = 8\n[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = \"5$\"")
	for _, x := range []struct {
		why   string
		files []Source
		want  map[string]float64
	}{
		{"a file in dollars, one price in euros, one in pounds", []Source{friend(), foreign, rates}, map[string]float64{"far": 9.1908, "near": 7, "isle": 11.5, "free": math.NaN()}},
		{"in the other order of files", []Source{friend(), rates, foreign}, map[string]float64{"far": 9.1908, "near": 7, "isle": 11.5}},
		{"the later rate counts", []Source{friend(), rates, foreign, overlay("r.toml", "[rates]\nUSD = 0.5")}, map[string]float64{"far": 4.995}},
		{"changes: a price in euros, one in dollars", []Source{friend(), rates, foreign, change}, map[string]float64{"isle": 8, "disc": 4.6, "far": 9.1908}},
		{"alone, its own rates count", []Source{overlay("us.toml", strings.Replace(string(foreign.Data), "schema = 1\n", "", 1)+"\n"), overlay("gb.toml", "[rates]\nGBP = 1.25")}, map[string]float64{"far": 9.99, "near": 7.63, "isle": 12.5}},
	} {
		t.Run(x.why, func(t *testing.T) {
			c, err := Read(x.files...)
			if err != nil {
				t.Fatal(err)
			}
			for id, want := range x.want {
				_, p, _ := c.Find(id)
				if math.Abs(p.Price-want) > 1e-9 || math.IsNaN(p.Price) != math.IsNaN(want) {
					t.Errorf("%s costs %v %s, want %v", id, p.Price, c.Currency, want)
				}
			}
		})
	}
	c, err := Read(friend(), foreign, rates)
	if err != nil {
		t.Fatal(err)
	}
	if n := []int{c.Rates[0].Parts, c.Rates[1].Parts}; !slices.Equal(n, []int{1, 1}) {
		t.Errorf("rates turned %v prices", n)
	}
}

// TestChangeOfAFamilyIsWrongOnce: a change after which no member of a family is whole is
// one problem, not one for each; what is wrong with its keys is said besides.
func TestChangeOfAFamilyIsWrongOnce(t *testing.T) {
	packs := overlay("a.toml", "[[cell]]\nid = \"marl\"\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.5\ncapacity_ah = 4\n[[battery]]\nid = \"b\"\nseries = \"8..14\"\nparallel = \"2..6\"\ncell = \"marl\"\n")
	for _, x := range []struct{ why, change, want string }{
		{"no cell", "unset = [\"cell\"]", `b.toml:2:3: battery "b-8s2p" has neither cell nor nominal_v`},
		{"a key that is wrong", "series = 999", "b.toml:5:10: series is 999, must be 1 to 60"},
	} {
		_, err := Read(packs, overlay("b.toml", "[[change]]\nkind = \"battery\"\nid = \"b\"\n"+x.change))
		if err == nil || strings.Count(err.Error(), "b.toml:") != 1 || !strings.HasPrefix(err.Error(), x.want) {
			t.Errorf("%s: %v, want %s", x.why, err, x.want)
		}
	}
}

// TestRateGivenTwice: two names of one currency in one file are a problem: which counts
// is not guessed.
func TestRateGivenTwice(t *testing.T) {
	_, err := Read(friend(), overlay("r.toml", "[rates]\nUSD = 0.92\nusd = 0.5\n"))
	if err == nil || !strings.HasPrefix(err.Error(), `r.toml:4:1: "usd" is the same currency as "USD" above`) {
		t.Error(err)
	}
}

// A part that is changed into another is that other.
func TestChangedIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := genCatalog(t)
		if len(parts) == 0 {
			return
		}
		ids := map[string][]string{}
		for _, p := range parts {
			ids[p.kind] = append(ids[p.kind], p.values["id"].(string))
		}
		i := rapid.IntRange(0, len(parts)-1).Draw(t, "part")
		was := parts[i]
		var kind KindInfo
		for _, k := range Kinds() {
			if k.Name == was.kind {
				kind = k
			}
		}
		will := genPart(t, kind, was.values["id"].(string), ids)
		after := slices.Clone(parts)
		after[i] = will
		want, err := Read(toTOML(after))
		if err != nil {
			t.Fatal(err)
		}
		text := fmt.Sprintf("[[change]]\nkind = %q\nid = %q\n", was.kind, was.values["id"])
		var unset []string
		for key := range was.values {
			if _, kept := will.values[key]; !kept {
				unset = append(unset, key)
			}
		}
		if unset != nil {
			text += "unset = " + tomlValue(unset) + "\n"
		}
		for _, key := range will.keys {
			if key != "id" {
				text += key + " = " + tomlValue(will.values[key]) + "\n"
			}
		}
		files := []Source{toTOML(parts), overlay("b.toml", text)}
		got, err := Read(files...)
		if err != nil {
			t.Fatalf("%v\n%s%s", err, files[0].Data, text)
		}
		if diff := cmp.Diff(want, got, sameParts, ignoreChanges); diff != "" {
			t.Fatalf("a change makes another part (-written +changed):\n%s", diff)
		}
	})
}

// A sheet that is to have changes is told where they stand, and nothing else is said of
// it.
func TestChangesInSheets(t *testing.T) {
	motor := Source{Name: "shed/motor.csv", Data: []byte("id,kv\npond,150\n")}
	for _, test := range []struct {
		why, name, text, want string
	}{
		{"a file named so", "shed/change.csv", "kind,id,price\nmotor,pond,80\n", `shed/change.csv:1:1: a sheet has no changes, and "change.csv" is named after them`},
		{"without a column of kinds", "change.tsv", "id\tprice\npond\t80\n", `change.tsv:1:1: a sheet has no changes, and "change.tsv" is named after them`},
		{"a row", "all.csv", "kind,id,price\nchange,pond,80\n", `all.csv:2:1: "change" is no kind of parts`},
		{"in capitals", "all.csv", "kind,id,price\nChange,pond,80\n", `all.csv:2:1: "Change" is no kind of parts`},
	} {
		_, err := Read(motor, Source{Name: test.name, Data: []byte(test.text)})
		if err == nil {
			t.Errorf("%s: is read", test.why)
			continue
		}
		text := err.Error()
		if !strings.HasPrefix(strings.ReplaceAll(text, "row 2, column A (kind): ", ""), test.want) || !strings.Contains(text, "write [[change]] into a TOML file, and name that file behind this catalog") || strings.Count(text, "hint:") != 1 {
			t.Errorf("%s: %s", test.why, text)
		}
	}
}

// A rate that does not count is named where one is missed.
func TestRateThatDoesNotCount(t *testing.T) {
	own := Source{Name: "a.toml", Data: []byte("schema = 1\ncurrency = \"EUR\"\n")}
	far := Source{Name: "far.toml", Data: []byte("schema = 1\ncurrency = \"USD\"\n[rates]\nUSD = 0.92\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97\nprice = 40\n")}
	_, err := Read(own, far)
	want := "the rate at far.toml:4:7 is not taken, since that file is in USD: put [rates] into a file in EUR, or into one that names no currency"
	if err == nil || !strings.HasPrefix(err.Error(), `far.toml:2:12: currency is "USD", not "EUR" as in a.toml:2:12, and has no rate`) || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
	if _, err := Read(own, far, Source{Name: "rates.toml", Data: []byte("schema = 1\n[rates]\nUSD = 0.92\n")}); err != nil {
		t.Error(err)
	}
	if _, err := Read(own, Source{Name: "b.toml", Data: []byte("schema = 1\ncurrency = \"USD\"\n[rates]\nSEK = 0.1\n")}); err == nil || !strings.Contains(err.Error(), "[rates] and below it USD = …") {
		t.Errorf("another currency's rate: %v", err)
	}
}
