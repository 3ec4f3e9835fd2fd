package catalog

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// told writes conflicts for a test.
func told(m *Merged) []string {
	var out []string
	for _, c := range m.Conflicts {
		s := c.Kind + " " + c.ID + " " + c.Key.Key
		for _, v := range c.Told {
			s += fmt.Sprintf(" %v@%s:%d", v.Value, v.Pos.File, v.Pos.Line)
		}
		out = append(out, s)
	}
	return out
}

func TestMerge(t *testing.T) {
	const wheel = "[[wheel]]\nid = \"disc\"\ndiameter_mm = 97\n"
	for _, x := range []struct {
		why     string
		b, c    string
		id, key string
		want    any
		said    []string
	}{
		{"equal parts fold", wheel + "tyre = \"rubber\"", "", "disc", "tyre", "rubber", nil},
		{"the later gives what it has", "[[wheel]]\nid = \"disc\"\ndiameter_mm = 96", "", "disc", "diameter_mm", 96.0, []string{"wheel disc diameter_mm 97@friend.toml:23 96@b.toml:4"}},
		{"and the others stay", "[[wheel]]\nid = \"disc\"\ndiameter_mm = 97\nprice = 3", "", "disc", "tyre", "rubber", nil},
		{"of three the last", "[[wheel]]\nid = \"disc\"\ndiameter_mm = 96", "[[wheel]]\nid = \"disc\"\ndiameter_mm = 97", "disc", "diameter_mm", 97.0, []string{"wheel disc diameter_mm 97@friend.toml:23 96@b.toml:4 97@c.toml:4"}},
		{"a price comes with its day and pieces", wheel + "price = 20\nsold_in = 2\npriced = \"2026-05-01\"", wheel + "price = 12", "disc", "sold_in", 4, []string{
			"wheel disc price 20@b.toml:5 12@c.toml:5", "wheel disc sold_in 2@b.toml:6 <nil>@c.toml:3", "wheel disc priced 2026-05-01@b.toml:7 <nil>@c.toml:3",
		}},
		{"pieces without a price come not", wheel + "price = 20\nsold_in = 2", wheel + "sold_in = 1", "disc", "sold_in", 2, []string{"wheel disc sold_in 2@b.toml:6 1@c.toml:5 2@b.toml:6"}},
		{"nor does the source of other values", wheel + "price = 20\nsource = \"a shop\"", wheel + "source = \"a friend\"", "disc", "source", "a shop", []string{"wheel disc source a shop@b.toml:6 a friend@c.toml:5 a shop@b.toml:6"}},
		{"nor a day", wheel + "price = 20", wheel + "priced = \"2026-05-01\"", "disc", "priced", nil, []string{"wheel disc priced <nil>@b.toml:3 2026-05-01@c.toml:5 <nil>@b.toml:3"}},
		{"the same again is nothing to say", wheel + "price = 20\nsource = \"a shop\"", wheel + "source = \"a shop\"", "disc", "source", "a shop", nil},
		{"without a price it comes", wheel + "source = \"a shop\"", wheel + "source = \"a friend\"", "disc", "source", "a friend", []string{"wheel disc source a shop@b.toml:5 a friend@c.toml:5"}},
		{"volts in place of a cell", "[[battery]]\nid = \"pack\"\nseries = 10\nnominal_v = 36\nfull_v = 42", "", "pack", "cell", nil, []string{
			"battery pack cell marl@friend.toml:17 <nil>@b.toml:3", "battery pack nominal_v <nil>@friend.toml:15 36@b.toml:5", "battery pack full_v <nil>@friend.toml:15 42@b.toml:6",
		}},
		{"a change", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 3", "", "disc", "price", 3.0, nil},
		{"a later part over a change", "[[change]]\nkind = \"wheel\"\nid = \"disc\"\nprice = 3", wheel + "price = 4", "disc", "price", 4.0, []string{"wheel disc price 3@b.toml:5 4@c.toml:5"}},
		{"a cell of another catalog", "[[battery]]\nid = \"brick\"\nseries = 12\ncell = \"marl\"", "", "brick", "cell", "marl", nil},
		{"another currency", "currency = \"USD\"\n[rates]\nEUR = 1.1\n" + wheel + "price = 10", "[rates]\nUSD = 0.9", "disc", "price", 9.0, nil},
	} {
		t.Run(x.why, func(t *testing.T) {
			m, err := Merge([]Source{friend()}, []Source{overlay("b.toml", x.b)}, []Source{overlay("c.toml", x.c)})
			if err != nil {
				t.Fatal(err)
			}
			kind, _, ok := m.Catalog.Find(x.id)
			if !ok {
				t.Fatalf("no %s in\n%s", x.id, m.Text)
			}
			for in, v := range m.Catalog.Values(kind, x.id) {
				if in.Key == x.key && !cmp.Equal(v, x.want) {
					t.Errorf("%s of %s is %v, want %v", x.key, x.id, v, x.want)
				}
			}
			if diff := cmp.Diff(x.said, told(m)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// What cannot be merged is told at the part, and nothing is made.
func TestMergeRefuses(t *testing.T) {
	for _, x := range []struct{ why, b, want string }{
		{"twice in one catalog", "[[wheel]]\nid = \"x\"\ndiameter_mm = 97\n[[wheel]]\nid = \"x\"\ndiameter_mm = 97", "b.toml:6:6: id \"x\" is given twice, first at b.toml:3:6"},
		{"of another kind", "[[belt]]\nid = \"disc\"\nprofile = \"gt-2\"\nteeth = 90", "hint: that is a wheel: give one of them another id"},
		{"values that do not go together", "[[cell]]\nid = \"marl\"\nnominal_v = 4.3\nfull_v = 4.35\ncutoff_v = 2.5\ncapacity_ah = 4\n[[bms]]\nid = \"g\"\nseries = 10\n[[mount]]\nid = \"arm\"\ncentre_min_mm = 50\ncentre_max_mm = 60", ""},
		{"a change of none", "[[change]]\nkind = \"wheel\"\nid = \"dsic\"\nprice = 4", "b.toml:4:6: no wheel \"dsic\" to change"},
		{"no rate", "currency = \"USD\"", "b.toml:2:12: currency is \"USD\", not \"EUR\" as in friend.toml:2:12, and has no rate"},
	} {
		m, err := Merge([]Source{friend()}, []Source{overlay("b.toml", x.b)})
		var problems field.Problems
		switch {
		case x.want == "":
			if err != nil {
				t.Errorf("%s: %v", x.why, err)
			}
		case m != nil || !errors.As(err, &problems) || !strings.Contains(err.Error(), x.want):
			t.Errorf("%s: %v", x.why, err)
		}
	}
	a := overlay("a.toml", "[[bms]]\nid = \"guard\"\nseries = 10\ncell_full_v = 3.65")
	b := overlay("b.toml", "[[bms]]\nid = \"guard\"\nseries = 10\ncell_cutoff_v = 3.7")
	_, err := Merge([]Source{a}, []Source{b})
	if err == nil || !strings.Contains(err.Error(), `b.toml:3:6: bms "guard", put together of several: cell_cutoff_v is 3.7, must be below cell_full_v, 3.65`) {
		t.Errorf("%v", err)
	}
}

// drawn are the sources of a drawn catalog under a name.
func drawnAs(t *rapid.T, name string) []Source {
	src := toTOML(genCatalog(t))
	src.Name = name
	return []Source{src}
}

// It is the same which two of three catalogs are merged first, and all three at once:
// in what is written, and in the keys that are told to differ.
func TestMergeIsAssociative(t *testing.T) {
	drawn, done := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		drawn++
		a, b, c := drawnAs(t, "a.toml"), drawnAs(t, "b.toml"), drawnAs(t, "c.toml")
		at := func(m *Merged, name string) []Source { return []Source{{Name: name, Data: m.Text}} }
		ab, err1 := Merge(a, b)
		bc, err2 := Merge(b, c)
		if err1 != nil || err2 != nil {
			return // a fault of two that the third may mend
		}
		left, err1 := Merge(at(ab, "ab.toml"), c)
		right, err2 := Merge(a, at(bc, "bc.toml"))
		whole, err3 := Merge(a, b, c)
		if (err1 == nil) != (err2 == nil) || (err1 == nil) != (err3 == nil) {
			t.Fatalf("left %v, right %v, at once %v", err1, err2, err3)
		}
		if err1 != nil {
			return
		}
		done++
		if diff := cmp.Diff(string(left.Text), string(right.Text)); diff != "" {
			t.Fatalf("(-left +right):\n%s", diff)
		}
		if diff := cmp.Diff(string(left.Text), string(whole.Text)); diff != "" {
			t.Fatalf("(-left +at once):\n%s", diff)
		}
		keys := func(list ...*Merged) []string {
			var out []string
			for _, m := range list {
				for _, x := range m.Conflicts {
					out = append(out, x.ID+" "+x.Key.Key)
				}
			}
			slices.Sort(out)
			return slices.Compact(out)
		}
		if diff := cmp.Diff(keys(ab, left), keys(bc, right)); diff != "" {
			t.Fatalf("what is said (-left +right):\n%s", diff)
		}
		if diff := cmp.Diff(keys(ab, left), keys(whole)); diff != "" {
			t.Fatalf("what is said (-left +at once):\n%s", diff)
		}
	})
	if 2*done < drawn {
		t.Errorf("only %d of %d draws could be merged", done, drawn)
	}
}

// A catalog merged with itself is itself, and so is one with an empty one.
func TestMergeWithItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := drawnAs(t, "a.toml")
		want, err := Read(a...)
		if err != nil {
			t.Fatal(err)
		}
		for _, with := range [][]Source{a, {overlay("none.toml", "")}} {
			m, err := Merge(a, with)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, m.Catalog, sameParts); diff != "" || len(m.Conflicts) > 0 {
				t.Fatalf("%s\n%v", diff, told(m))
			}
		}
	})
}

func TestDifferences(t *testing.T) {
	a, err := Read(friend())
	if err != nil {
		t.Fatal(err)
	}
	b, err := Read(friend(), overlay("b.toml", "[[change]]\nkind = \"motor\"\nid = \"stout-150\"\nprice = 80\nunset = [\"note\"]\n[[wheel]]\nid = \"rim\"\ndiameter_mm = 200"))
	if err != nil {
		t.Fatal(err)
	}
	lines := func(list []Difference) (out []string) {
		for _, d := range list {
			s := fmt.Sprintf("%s %s %v %v", d.Kind, d.ID, d.InFirst(), d.InSecond())
			for _, k := range d.Keys {
				s += fmt.Sprintf(" %s:%v>%v", k.Key.Key, k.Was, k.Is)
			}
			out = append(out, s)
		}
		return out
	}
	if diff := cmp.Diff([]string{"motor stout-150 true true price:90>80 note:spare><nil>", "wheel rim false true diameter_mm:<nil>>200"}, lines(Differences(a, b))); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"motor stout-150 true true price:80>90 note:<nil>>spare", "wheel rim true false diameter_mm:200><nil>"}, lines(Differences(b, a))); diff != "" {
		t.Error(diff)
	}
}

// Two catalogs have no differences only where they are alike.
func TestDifferencesAreAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err1 := Read(drawnAs(t, "a.toml")...)
		b, err2 := Read(drawnAs(t, "a.toml")...)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if alike := cmp.Equal(a, b, sameParts); alike != (len(Differences(a, b)) == 0) {
			t.Fatalf("alike %v, differences %v", alike, Differences(a, b))
		}
		if n := len(Differences(a, a)); n > 0 {
			t.Fatalf("%d differences from itself", n)
		}
	})
}

// TestMergeKeepsWhatLaterOnesNeed: the rates of a catalog, and flags that a later one
// takes back, are in what is written.
func TestMergeKeepsWhatLaterOnesNeed(t *testing.T) {
	file := func(name, text string) []Source {
		return []Source{{Name: name, Data: []byte("schema = 1\n" + text)}}
	}
	rates := file("rates.toml", "[rates]\nUSD = 0.9\n[[wheel]]\nid = \"w\"\ndiameter_mm = 90\nprice = 10\nowned = true")
	back := file("back.toml", "[[wheel]]\nid = \"w\"\ndiameter_mm = 90\nowned = false")
	dollars := file("dollars.toml", "currency = \"USD\"\n[[wheel]]\nid = \"v\"\ndiameter_mm = 90\nprice = 10")
	two, err := Merge(rates, back)
	if err != nil {
		t.Fatal(err)
	}
	three, err := Merge([]Source{{Name: "two.toml", Data: two.Text}}, dollars)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Merge(rates, back, dollars)
	if err != nil || string(all.Text) != string(three.Text) {
		t.Errorf("%v: one after the other\n%s\nall at once\n%s", err, three.Text, all.Text)
	}
	if w := three.Catalog.Wheels; len(w) != 2 || w[0].Price != 9 || w[1].Owned || w[1].Price != 10 {
		t.Errorf("%s", three.Text)
	}
	if len(two.Conflicts) != 1 || two.Conflicts[0].Key.Key != "owned" {
		t.Errorf("told: %v", two.Conflicts)
	}
}

// TestFirstFileHasTheCurrency: what is laid over a file that names no currency does not
// turn its prices into another.
func TestFirstFileHasTheCurrency(t *testing.T) {
	plain := Source{Name: "a.toml", Data: []byte("schema = 1\n[[wheel]]\nid = \"w\"\ndiameter_mm = 90\nprice = 30")}
	dollars := Source{Name: "b.toml", Data: []byte("schema = 1\ncurrency = \"USD\"\n[[wheel]]\nid = \"v\"\ndiameter_mm = 90\nprice = 10")}
	if _, err := Read(plain, dollars); err == nil || !strings.Contains(err.Error(), `currency is "USD", not "EUR" as in a.toml, which names none, and has no rate`) {
		t.Errorf("%v", err)
	}
	c, err := Read(dollars, plain)
	if err != nil || c.Currency != "USD" || c.Wheels[0].Price != 10 || c.Wheels[1].Price != 30 {
		t.Errorf("%v, %+v", err, c)
	}
}
