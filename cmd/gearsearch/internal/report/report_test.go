package report

import (
	"crypto/sha256"
	"encoding/base64"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/search"
)

// lastmile is the ranking of a brief of the demo, changed.
func lastmile(t *testing.T, changes ...func(b *constraints.Brief)) *search.Result {
	t.Helper()
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	src, _ := catalog.DemoBrief("lastmile")
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		t.Fatal(err)
	}
	for _, change := range changes {
		change(brief)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	r, err := search.Rank(t.Context(), p, search.Options{Top: 5})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func written(t *testing.T, in Input) string {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, New(in)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestPlane: all feasible builds are drawn where they are given.
func TestPlane(t *testing.T) {
	r := lastmile(t)
	x, y := leaf.FieldFigures(r.Problem)
	field := leaf.NewField(r, x, y, 0)
	for s := range r.Builds() {
		field.Cloud.Add(s.Build)
	}
	text := written(t, Input{Input: leaf.Input{Result: r}, Field: field})
	if !strings.Contains(text, "Where they stand among all") || !strings.Contains(text, "<title>No. 1</title>") {
		t.Error("no drawing of all")
	}
}

// TestDrawings: each card has its drawings, none of an interrupted search.
func TestDrawings(t *testing.T) {
	r := lastmile(t)
	d := New(Input{Input: leaf.Input{Result: r}})
	for _, c := range d.Cards {
		scale := slices.ContainsFunc(c.More, func(x leaf.Drawing) bool { return strings.Contains(x.Title, "to scale") })
		if len(c.Drawings) != 2 || len(c.More) < 6 || !scale {
			t.Errorf("No. %d has %d drawings and %d more, one to scale: %v", c.Number, len(c.Drawings), len(c.More), scale)
		}
	}
	r.Complete = false
	if strings.Contains(written(t, Input{Input: leaf.Input{Result: r}}), "<figure") {
		t.Error("drawings of an interrupted search take longer than an interrupt may")
	}
}

// TestDrawsTheRoute: where the brief has a way to ride, each card has the ride over it,
// and builds side by side have curves of it.
func TestDrawsTheRoute(t *testing.T) {
	r := lastmile(t, func(b *constraints.Brief) {
		b.Way = &route.Route{Name: "short.csv", Legs: []route.Leg{{Length: 25, Speed: 5}, {Length: 25, Rise: 1, Speed: 5, Stop: true}}}
	})
	d := New(Input{Input: leaf.Input{Result: r}})
	if len(d.Cards) == 0 {
		t.Fatal("no cards")
	}
	for _, c := range d.Cards {
		if len(c.Drawings) != 3 || c.Drawings[2].Title != "Ride over the route" {
			t.Errorf("No. %d has %d drawings", c.Number, len(c.Drawings))
		}
	}
	titles := ""
	for _, c := range d.Data.Charts {
		titles += c.Title + "; "
	}
	if want := "Speed on the route; Charge left on the route, of the usable; Winding on the route; "; !strings.HasSuffix(titles, want) {
		t.Errorf("curves: %s", titles)
	}
}

// TestPolicy: the hashes in the policy are those of what stands between the
// tags, and nothing in the page is an address but of links.
func TestPolicy(t *testing.T) {
	text := written(t, Input{Input: leaf.Input{Result: lastmile(t)}})
	policy := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)
	if policy == nil {
		t.Fatal("no policy")
	}
	allowed := strings.NewReplacer("&#39;", "'", "&#43;", "+").Replace(policy[1])
	if !strings.HasPrefix(allowed, "default-src 'none'; ") || strings.Contains(allowed, "unsafe") || strings.Contains(allowed, "*") {
		t.Errorf("policy %s", allowed)
	}
	for _, tag := range []string{"style", "script"} {
		inside := regexp.MustCompile(`(?s)<`+tag+`>(.*?)</`+tag+`>`).FindAllStringSubmatch(text, -1)
		if len(inside) != 1 {
			t.Fatalf("%d of %s", len(inside), tag)
		}
		sum := sha256.Sum256([]byte(inside[0][1]))
		if want := tag + "-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(allowed, want) {
			t.Errorf("the policy %s has no %s", allowed, want)
		}
	}
	bare := regexp.MustCompile(`<svg xmlns="[^"]*"`).ReplaceAllString(text, "<svg")
	bare = regexp.MustCompile(`(?s)<script>.*?</script>`).ReplaceAllString(bare, "")
	bare = strings.Replace(bare, policy[1], "", 1) // a hash may have any letters
	for _, address := range []string{"http:", "https:", "//", "url(", "@import", "src="} {
		if i := strings.Index(bare, address); i >= 0 {
			t.Errorf("the page has %q", bare[max(0, i-40):min(len(bare), i+40)])
		}
	}
	for _, word := range []string{"http", "fetch", "XMLHttpRequest", "import", "eval", "innerHTML", "Storage"} {
		if strings.Contains(leaf.PageScript(), word) {
			t.Errorf("the script has %s", word)
		}
	}
}
