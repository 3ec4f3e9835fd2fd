package main

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// vastCatalog is a catalog of families of invented parts that all fit one another:
// more than 10¹² combinations.
func vastCatalog(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/shop/huge.toml")
	if err != nil {
		t.Fatal(err)
	}
	out := strings.Replace(string(text), "series = 10", "series = 10\nparallel = 4", 1)
	out = regexp.MustCompile(`(?m)^parallel = \[.*\n`).ReplaceAllString(out, "")
	for _, x := range []struct {
		key        string
		from, step float64
		n          int
	}{{"capacity_ah", 10, 0.02, 600}, {"ratio", 2, 0.005, 800}, {"diameter_mm", 80, 0.2, 1000}} {
		var list []string
		for i := range x.n {
			list = append(list, strconv.FormatFloat(x.from+float64(i)*x.step, 'f', 3, 64))
		}
		out = regexp.MustCompile(`(?m)^`+x.key+` = .*$`).ReplaceAllString(out, x.key+" = ["+strings.Join(list, ", ")+"]")
	}
	return out
}

// TestPageStops drops a catalog of 10¹² combinations: the page says how far the
// search is, shows the best so far, stops, and keeps what it has as what it is.
func TestPageStops(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.choose("#begin", "nothing")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "10") })
	p.change(func() { p.Type(keyField("target.range_km"), "5") })
	p.goTo("builds")
	p.drop("vast.toml", vastCatalog(t))
	p.Wait("!document.getElementById('progress').hidden")
	if says := p.shown("#progress"); !strings.Contains(says, " % of 1") || !strings.Contains(says, "combinations") {
		t.Errorf("of a long search the page says %q", says)
	}
	p.Wait("document.body.dataset.ranking === 'partial' && document.querySelectorAll('#list > *').length > 0")
	if says := p.shown("#sofar"); !strings.Contains(says, "best so far") {
		t.Errorf("over the best so far stands %q", says)
	}
	if !browsertest.Value[bool](p.Tab, pageBusy) {
		t.Error("the page is not busy")
	}
	p.picture("sofar")
	p.Press("#stop")
	p.Wait("document.body.classList.contains('halted') && !" + pageBusy)
	if says := p.shown("#sofar"); !strings.Contains(says, "INCOMPLETE") && !strings.Contains(says, "not counted") {
		t.Errorf("over what was found stands %q", says)
	}
	if browsertest.Value[bool](p.Tab, green) {
		t.Error("the dot is green")
	}
	if browsertest.Value[bool](p.Tab, "!document.getElementById('progress').hidden") || p.text("String(document.querySelectorAll('#list > *').length)") == "0" {
		t.Error("progress is still shown, or no build is")
	}
	if !strings.Contains(p.shown("#status-text"), "Stopped") {
		t.Errorf("the status line says %q", p.shown("#status-text"))
	}
	p.picture("stopped")

	// It can be asked again, and another question is answered as ever.
	p.Press("#search-on")
	p.Wait("!document.getElementById('progress').hidden")
	p.goTo("parts")
	p.change(func() { p.Press("[aria-label='remove vast.toml']") })
	if !browsertest.Value[bool](p.Tab, green) || p.shown("#sofar") != "" {
		t.Errorf("with the demo parts again the dot is not green, or over the builds stands %q", p.shown("#sofar"))
	}
}
