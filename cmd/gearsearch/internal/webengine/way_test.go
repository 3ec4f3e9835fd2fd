package webengine

import (
	"strings"
	"testing"
)

// TestWayOfABrief: a brief with a way is ranked by it, be it embedded or the page's file,
// and one whose file is not there, or is broken, says so under its key.
func TestWayOfABrief(t *testing.T) {
	e := newEngine(t)
	answer[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", little)})
	base := M{"target.top_speed_kmh": "20"}
	with := func(name string) M {
		return M{"target.top_speed_kmh": base["target.top_speed_kmh"], "ride.route": name}
	}
	way := func(text string) M { return M{"name": "home.csv", "data": []byte(text)} }
	const flat = "distance_m,height_m\n0,0\n200,2\n"
	for _, tt := range []struct {
		why   string
		brief M
		way   any
		says  string // "": it is answered
	}{
		{"an embedded way", with("demo:harbour"), nil, ""},
		{"one that there is not", with("demo:nowhere"), nil, `the route "demo:nowhere" is not here`},
		{"the page's file", with("home.csv"), way(flat), ""},
		{"a file that the page does not have", with("home.csv"), nil, `the route "home.csv" is not here`},
		{"another file", with("work.csv"), way(flat), `the route "work.csv" is not here`},
		{"a broken file", with("home.csv"), way("distance_m,height_m\n0,0\n0,2\n"), "distance_m is 0, must be above 0 of the row before"},
	} {
		q := M{"ask": "rank", "brief": tt.brief}
		if tt.way != nil {
			q["way"] = tt.way
		}
		r := ask[any](t, e, q)
		switch {
		case tt.says == "" && r.Answer == nil:
			t.Errorf("%s: %+v", tt.why, r)
		case tt.says != "" && (len(r.Problems) == 0 || r.Problems[0].Key != "ride.route" || r.Problems[0].Place != onRide || !strings.Contains(r.Problems[0].Text, tt.says)):
			t.Errorf("%s: %+v, want %q", tt.why, r.Problems, tt.says)
		}
	}
	found := ask[ranking](t, e, M{"ask": "rank", "brief": base})
	if found.Answer == nil || len(found.Answer.Builds) == 0 {
		t.Fatalf("nothing is ranked: %+v", found.Problems)
	}
	build := found.Answer.Builds[0].File
	drawn := answer[curves](t, e, M{"ask": "curves", "brief": with("demo:forest"), "builds": []string{build, build}})
	if n := len(drawn.Charts); n == 0 || !strings.Contains(drawn.Charts[n-1].Title, "on the route") {
		t.Errorf("%d curves, none of the route", n)
	}
	intro := answer[introduction](t, e, M{"ask": "start"})
	if len(intro.Routes) != 2 || intro.Routes[1].Name != "demo:harbour" || !strings.HasPrefix(intro.Routes[1].Title, "harbour, 15.1 km") {
		t.Errorf("routes %+v", intro.Routes)
	}
	saved := answer[saved](t, e, M{"ask": "save", "what": "brief", "brief": with(`home "1".csv`), "way": M{"name": `home "1".csv`, "data": []byte(flat)}})
	if !strings.Contains(saved.Text, `route = "home \"1\".csv"`) {
		t.Errorf("saved as\n%s", saved.Text)
	}
}

// TestSortsWays tells ways from catalogs.
func TestSortsWays(t *testing.T) {
	e := newEngine(t)
	for name, text := range map[string]string{
		"home.gpx": "nothing", "home.txt": "\xef\xbb\xbf <?xml version=\"1.0\"?><gpx/>", "home.csv": "distance_m,height_m\n0,1\n",
	} {
		if got := answer[sorted](t, e, M{"ask": "file", "file": files(name, text)[0]}); got.Is != isWay {
			t.Errorf("%s is a %s", name, got.Is)
		}
	}
	if got := answer[sorted](t, e, M{"ask": "file", "file": files("motor.csv", "id,kv\nm,90\n")[0]}); got.Is == isWay {
		t.Error("a catalog is a way")
	}
}
