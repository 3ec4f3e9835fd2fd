package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// stored is what the page keeps in the browser, as JSON.
const stored = "(localStorage.getItem('gearsearch-page') || '')"

// pageAnew is true once the page that was marked as old is gone and the next
// one has answered.
const pageAnew = "document.body && !document.body.dataset.old && " + pageReady

// reload loads the page anew and waits for its first answer.
func (p *onPage) reload() {
	p.t.Helper()
	p.text("(document.body.dataset.old = 'true', '')")
	p.Do(chromedp.Reload())
	p.Wait(pageAnew)
}

// TestPageKeeps reloads the page: brief, files and build are there as before,
// until they are to be forgotten.
func TestPageKeeps(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	plain := p.shown("#status-text b")
	good, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	p.change(func() { p.drop("parts.toml", string(good)) })
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	p.change(func() { p.Type(keyField("rider.mass_kg"), "180lb") })
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("#list .card .save")
	p.drop("build.toml", p.save("build.toml"))
	p.Wait("document.querySelector('#looked-at .card')")
	p.change(func() { p.choose("#units", "imperial") })
	p.Wait(stored + ".includes('imperial')")
	before := p.shown("#status-text b")
	if before == plain {
		t.Fatalf("the own parts and brief are answered as the demo's: %q", before)
	}

	p.reload()
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("after a reload %q, before it %q", now, before)
	}
	for key, want := range map[string]string{"target.top_speed_kmh": "25", "rider.mass_kg": "180lb", "target.range_km": ""} {
		if got := p.text("document.querySelector('" + keyField(key) + "').value"); got != want {
			t.Errorf("after a reload %s is %q, want %q", key, got, want)
		}
	}
	if units := p.text("document.getElementById('units').value"); units != "imperial" {
		t.Errorf("after a reload units are %s", units)
	}
	p.goTo("builds")
	p.Wait("document.querySelector('#looked-at .card')")
	p.goTo("parts")
	if says := p.text("document.querySelector('.files').innerText"); !strings.Contains(says, "parts.toml") {
		t.Errorf("after a reload the files are %q", says)
	}
	p.picture("kept")

	// Forgetting takes two presses and leaves nothing.
	p.Press("#forget")
	if left := p.text(stored); left == "" {
		t.Error("one press forgets all")
	}
	p.text("(document.body.dataset.old = 'true', '')")
	p.Press("#forget")
	p.Wait(pageAnew)
	if now := p.shown("#status-text b"); now != plain {
		t.Errorf("after forgetting %q, at first %q", now, plain)
	}
	if left := p.text(stored); left != "" {
		t.Errorf("after forgetting there is %q", left)
	}
}

// TestPageKeepsNoMoreThanFits drops a file that is too large for the browser's
// storage: the brief is kept, and the page says that the file is not. What is
// there and makes no sense is left aside.
func TestPageKeepsNoMoreThanFits(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	good, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	p.change(func() {
		p.drop("large.toml", string(good)+strings.Repeat("# "+strings.Repeat("x", 97)+"\n", 20_000))
	})
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "26") })
	p.Wait(stored + ".includes('26')")
	if n := browsertest.Value[int](p.Tab, stored+".length"); n > 10_000 {
		t.Errorf("%d characters are kept", n)
	}
	if says := p.shown("#kept"); !strings.Contains(says, "too large") {
		t.Errorf("of what it keeps the page says %q", says)
	}
	p.reload()
	if got := p.text("document.querySelector('" + keyField("target.top_speed_kmh") + "').value"); got != "26" {
		t.Errorf("the brief asks for %q km/h", got)
	}
	for _, junk := range []string{
		"{", "7", `{"schema":2,"brief":{"target.top_speed_kmh":"1"}}`, `{"schema":1,"brief":{"no.key":"1","target.range_km":3,"target.top_speed_kmh":"20"},"files":[1,{"name":2}],"top":"x","units":7}`,
		`{"schema":1,"brief":{"target.top_speed_kmh":"20"},"files":[{"name":"bad.toml","data":"eCA9"}],"demo":false}`,
	} {
		p.text(fmt.Sprintf("(localStorage.setItem('gearsearch-page', %q), '')", junk))
		p.reload()
		p.text("(localStorage.removeItem('gearsearch-page'), '')")
	}
}
