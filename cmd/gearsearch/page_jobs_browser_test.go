package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// TestPageComparesBoards sets two builds side by side: their figures stand in one
// table, the better marked, what is alike pale.
func TestPageComparesBoards(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	for _, n := range []string{"1", "3"} {
		p.Press("#list tbody[data-number='" + n + "'] .pin input")
	}
	p.Wait("!document.querySelector('#list .bench').hidden")
	if heads := browsertest.Value[[]string](p.Tab, `[...document.querySelectorAll(".beside thead th")].map((x) => x.textContent)`); !slices.Equal(heads, []string{"No. 1", "No. 3"}) {
		t.Errorf("side by side are %q", heads)
	}
	score := browsertest.Value[[]string](p.Tab, `[...document.querySelectorAll(".beside tbody tr")].find((x) => x.cells[0].textContent === "score").className.split(" ").concat([...document.querySelectorAll(".beside tbody tr")].find((x) => x.cells[0].textContent === "score").cells[1].className)`)
	if !slices.Contains(score, "best") {
		t.Errorf("the better score is not marked: %q", score)
	}
	alike := browsertest.Value[bool](p.Tab, `[...document.querySelectorAll(".beside tbody tr")].every((x) => x.classList.contains("alike") === (x.cells[1].firstChild.textContent === x.cells[2].firstChild.textContent))`)
	if !alike {
		t.Error("rows that are alike are not told from the others")
	}
	p.picture("beside")
}

// TestPageOnAPhone does the whole job on a screen of 390 pixels: a wish, a part
// set aside, the builds, all about one, and the build saved.
func TestPageOnAPhone(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.Screen(390, 844, "dark")
	fits := func(where string) {
		t.Helper()
		if wide := browsertest.Value[int](p.Tab, "document.documentElement.scrollWidth"); wide > 390 {
			t.Errorf("%s is %d pixels wide", where, wide)
		}
	}
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "30") })
	fits("the ride")
	p.goTo("parts")
	p.Wait("document.querySelector('tr.part .face')")
	aside := p.shown("tr.part .face .id")
	p.change(func() { p.Press("tr.part .face") })
	fits("the parts")
	p.goTo("builds")
	p.Wait("document.querySelector('#list .look')")
	if list := p.text("[...document.querySelectorAll('#list [data-find]')].map((x) => x.dataset.find).join(' ')"); list == "" || strings.Contains(list, strings.ToLower(aside)) {
		t.Errorf("%s is set aside and listed", aside)
	}
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	fits("the builds")
	p.Press("#list .card .save")
	build := filepath.Join(t.TempDir(), "build.toml")
	if err := os.WriteFile(build, []byte(p.save("build.toml")), 0o600); err != nil {
		t.Fatal(err)
	}
	if r := answerTo(context.Background(), "sheet --quiet --top-speed 30km/h "+build); r.code != outcome.ExitAnswered {
		t.Errorf("of the saved build the program says: exit code %d, %s", r.code, r.stderr)
	}
}

// TestPagePrintsLight: paper is white, whatever the theme of the screen.
func TestPagePrintsLight(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.Screen(1280, 800, "dark")
	p.goTo("builds")
	p.Wait("document.querySelector('#list .look')")
	const tone = `getComputedStyle(document.querySelector("#list td")).color.match(/\d+/g).slice(0, 3).map(Number).reduce((a, b) => a + b, 0)`
	const dark = 3 * 80 // of three channels, at most
	if n := browsertest.Value[int](p.Tab, tone); n <= dark {
		t.Fatalf("on a dark screen words have the tone %d: the test does not test", n)
	}
	p.Paper(700, 1000)
	if n := browsertest.Value[int](p.Tab, tone); n > dark {
		t.Errorf("on paper words have the tone %d", n)
	}
	if browsertest.Value[bool](p.Tab, `[...document.querySelectorAll("#status, nav, .tools, .ends, .deeds")].some((x) => x.getClientRects().length > 0)`) {
		t.Error("on paper stand controls")
	}
}
