package main

import (
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestPageAddress: the address holds the question and the screen, is sent nowhere,
// goes back and on, and opens the same in another browser.
func TestPageAddress(t *testing.T) {
	t.Parallel()
	var told atomic.Int32 // requests with more than the name of a file
	files := http.FileServer(http.Dir(pageSite(t)))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.RawQuery != "" || strings.Contains(r.Referer(), "?") {
			told.Add(1)
		}
		files.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	open := func(address string) *onPage {
		return openPage(t, address, server.URL+"/", "blob:"+server.URL+"/")
	}
	value := func(p *onPage, key string) string {
		return p.text("document.querySelector('" + keyField(key) + "').value")
	}
	p := open(server.URL + "/")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "30,5 km/h") })
	p.Wait("location.hash.startsWith('#ride?') && new URLSearchParams(location.hash.slice(6)).get('target.top_speed_kmh') === '30,5 km/h'")
	p.goTo("builds")
	p.change(func() { p.Press("#strict") })
	p.Wait("location.hash.startsWith('#builds?') && location.hash.includes('strict=1')")
	answer := p.shown("#status-text b")
	link := p.text("location.href")

	// Another brief takes its place; one step back it is there again, with its
	// answer, and one step on the other.
	p.goTo("ride")
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.range_km"), "9") })
	p.Wait("location.hash.includes('range_km=9') && !location.hash.includes('top_speed')")
	other := p.shown("#status-text b")
	p.change(func() { p.text("(history.back(), '')") })
	if got := value(p, "target.top_speed_kmh"); got != "30,5 km/h" || p.shown("#status-text b") != answer {
		t.Errorf("one step back the top speed is %q and the answer %q, want %q", got, p.shown("#status-text b"), answer)
	}
	p.change(func() { p.text("(history.forward(), '')") })
	if got := value(p, "target.range_km"); got != "9" || p.shown("#status-text b") != other {
		t.Errorf("one step on the range is %q and the answer %q, want %q", got, p.shown("#status-text b"), other)
	}

	// The link in another browser, and in one that keeps a brief of its own.
	second := open(link)
	if screen := second.text("document.body.dataset.screen"); screen != "builds" {
		t.Errorf("the link opens the screen %q", screen)
	}
	if got := second.shown("#status-text b"); got != answer || !browsertest.Value[bool](second.Tab, "document.getElementById('strict').checked") {
		t.Errorf("the link is answered with %q, want %q", got, answer)
	}
	p.Wait(stored + ".includes('range_km')")
	p.text("(document.body.dataset.old = 'true', '')")
	p.Do(chromedp.Navigate("about:blank"), chromedp.Navigate(link))
	p.Wait(pageAnew)
	if got := p.shown("#status-text b"); got != answer {
		t.Errorf("the link is answered with %q, want %q", got, answer)
	}
	p.goTo("ride")
	p.change(func() { p.Press("[id='open-before the link']") })
	if got := value(p, "target.range_km"); got != "9" || p.shown("#status-text b") != other {
		t.Errorf("the brief that the link has replaced comes back with the range %q and the answer %q", got, p.shown("#status-text b"))
	}

	// What makes no sense in an address is left aside.
	third := open(server.URL + "/#nowhere?no.key=1&target.range_km=9&top=7&units=stone")
	if got := value(third, "target.range_km"); got != "9" {
		t.Errorf("the range of the address is %q", got)
	}
	if n := told.Load(); n != 0 {
		t.Errorf("%d requests tell the server of a question", n)
	}
}

// TestPageBoards keeps boards under names.
func TestPageBoards(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	good, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	keep := func(name string) {
		t.Helper()
		p.goTo("ride")
		p.text("(document.getElementById('boards').open = true, '')")
		p.Type("#board-name", name)
		p.Press("#board-keep")
		p.Wait("document.getElementById('board-says').textContent.includes('Kept as')")
	}
	first := p.shown("#status-text b")
	keep("harbour <b>&")
	p.change(func() { p.drop("parts.toml", string(good)) })
	p.goTo("ride")
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	second := p.shown("#status-text b")
	keep("mine")
	p.picture("boards")
	names := func() string {
		return p.text("[...document.querySelectorAll('.boards bdi:first-of-type')].map((b) => b.textContent).join('|')")
	}
	if got := names(); !strings.HasPrefix(got, "harbour <b>&|") || !strings.Contains(got, "|mine|") {
		t.Errorf("the boards are %q", got)
	}
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('#boards bdi *').length"); n != 0 {
		t.Errorf("%d elements are made of a name", n)
	}
	p.change(func() { p.Press("[id='open-harbour <b>&']") })
	if got := p.shown("#status-text b"); got != first {
		t.Errorf("the first board is answered with %q, want %q", got, first)
	}
	p.reload()
	p.text("(document.getElementById('boards').open = true, '')")
	p.change(func() { p.Press("#open-mine") })
	if got := p.shown("#status-text b"); got != second {
		t.Errorf("the second board is answered with %q, want %q", got, second)
	}
	p.Press(".boards li:first-child .quiet")
	if got := names(); strings.Contains(got, "harbour") || !strings.Contains(got, "mine") {
		t.Errorf("with the first deleted the boards are %q", got)
	}
	p.Press("#forget")
	p.text("(document.body.dataset.old = 'true', '')")
	p.Press("#forget")
	p.Wait(pageAnew)
	if left := p.text("JSON.stringify(localStorage)"); strings.Contains(left, "mine") {
		t.Errorf("after forgetting there is %s", left)
	}
	if got := p.shown("#status-text b"); got != first {
		t.Errorf("after forgetting %q, at first %q", got, first)
	}
}
