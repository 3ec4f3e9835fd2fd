package main

import (
	"os"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestPageTakesARoute drops a recorded way: builds are ranked by it, their sheets draw the
// ride, and it is there after a reload. A broken one says what is wrong and changes nothing.
func TestPageTakesARoute(t *testing.T) {
	t.Parallel()
	way, err := os.ReadFile("testdata/shop/way.gpx")
	if err != nil {
		t.Fatal(err)
	}
	parts, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	p := servedPage(t)
	p.change(func() { p.drop("parts.toml", string(parts)) })
	p.goTo("ride")
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	route := keyField("ride.route")
	p.change(func() { p.choose(route, "demo:harbour") })
	if got := p.text("state.brief['ride.route']"); got != "demo:harbour" {
		t.Errorf("of the embedded ways %q is chosen", got)
	}

	p.change(func() {
		p.drop("way home.gpx", string(way))
		p.Wait("state.way")
	})
	if got := p.text("document.querySelector('" + route + "').value"); got != "way home.csv" {
		t.Errorf("the way is %q", got)
	}
	told := p.shown("#status-text b")
	p.text("(document.querySelector('#choose-way').scrollIntoView({ block: 'center' }), '')")
	p.picture("route")

	p.drop("broken.gpx", strings.Replace(string(way), "<ele>29.6</ele>", "", 1))
	p.Wait("document.querySelector('#way-says').textContent.includes('Not read')")
	if says := p.shown("#way-says"); !strings.Contains(says, "broken.gpx:") {
		t.Errorf("of the broken way it says %q", says)
	}
	if got := p.text("state.way.name"); got != "way home.csv" {
		t.Errorf("a broken way takes the place of %q", got)
	}
	p.Axe("a broken route")
	p.Wait(pageReady)

	p.change(func() { p.Type(keyField("limit.reserve_pct"), "5") })
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	if n := browsertest.Value[int](p.Tab, `document.querySelectorAll("#list .card [data-figure^='route_']").length`); n != 7 {
		t.Errorf("the sheet has %d figures of the route", n)
	}
	p.Press("[data-unfold=curves] summary")
	p.Wait("document.querySelector('[data-unfold=curves] [data-done]')")
	if titles := p.text("[...document.querySelectorAll('[data-unfold=curves] figcaption')].map((n) => n.textContent).join('; ')"); !strings.Contains(titles, "Ride over the route") {
		t.Errorf("drawn are %s", titles)
	}
	p.Axe("a sheet with a ride")

	p.goTo("ride")
	p.Wait(stored + ".includes('way home.csv')")
	p.reload()
	if now := p.shown("#status-text b"); now != told {
		t.Errorf("after a reload %q, before it %q", now, told)
	}
	p.change(func() { p.choose(route, "") })
	if got := p.text("String(state.brief['ride.route'])"); got != "undefined" {
		t.Errorf("without a route it is %q", got)
	}
}
