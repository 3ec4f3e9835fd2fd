package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// ownCell is the selector of a cell of the reader's own part i.
func ownCell(i int, key string) string { return fmt.Sprintf("#cell-%d-%s", i, key) }

// fillOwn fills in cells of the reader's own part i.
func (p *onPage) fillOwn(i int, cells ...string) {
	p.t.Helper()
	for n := 0; n < len(cells); n += 2 {
		p.Type(ownCell(i, cells[n]), cells[n+1])
	}
}

// ownSays is what stands under a cell of the reader's own part i; of "" about it as a
// whole.
func (p *onPage) ownSays(i int, key string) string {
	p.t.Helper()
	return p.text(fmt.Sprintf("document.getElementById('notes-%d-%s').innerText", i, key))
}

// TestPageTakesOwnParts enters a motor and a wheel without a file, and finds them in
// builds; a mistake stands beside its cell, and nothing typed is lost.
func TestPageTakesOwnParts(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("parts")
	p.Wait("document.getElementById('add-motor')")
	p.picture("parts")

	p.Press("#add-motor")
	p.fillOwn(0, "name", "Own 150", "kv", "150000")
	p.Do(chromedp.KeyEvent(kb.Tab))
	p.Wait("document.querySelector('#cell-0-kv[aria-invalid]')")
	if says := p.ownSays(0, "kv"); !strings.Contains(says, "kv is 150000, must be 5 to 10000 rpm/V") || !strings.Contains(p.ownSays(0, ""), "not in use") {
		t.Errorf("of 150000 rpm/V the page says %q, of the part %q", says, p.ownSays(0, ""))
	}
	p.picture("own-mistake")
	p.change(func() {
		p.fillOwn(0, "kv", "150", "resistance_mohm", "34,5", "peak_current_a", "80", "continuous_current_a", "60", "shaft_mm", "8", "price", "90")
		p.Do(chromedp.KeyEvent(kb.Tab))
		p.Wait("document.querySelector('#face-own-150')")
	})
	if says := p.ownSays(0, "resistance_mohm"); !strings.Contains(says, "read as 34.5 mΩ") {
		t.Errorf("of 34,5 the page says %q", says)
	}
	if got := p.text("document.querySelector('" + ownCell(0, "resistance_mohm") + "').value"); got != "34,5" {
		t.Errorf("what was typed is now %q", got)
	}
	p.Press("#add-wheel")
	p.change(func() {
		p.fillOwn(1, "name", "Own 8 inch", "diameter_mm", "8in", "price", "99")
		p.Do(chromedp.KeyEvent(kb.Tab))
		p.Wait("document.querySelector('#face-own-8-inch')")
	})
	if says := p.ownSays(1, "diameter_mm"); !strings.Contains(says, "read as 203.2 mm") {
		t.Errorf("of 8in the page says %q", says)
	}
	p.picture("own-parts-typed")

	// Both are in builds when only they are in play.
	p.Press("#opens-motor")
	p.Wait("/in .* build/.test(document.getElementById('notes-0-').innerText)")
	p.Press("#more-own-150")
	p.change(func() { p.Press("#only-own-150") })
	p.goTo("builds")
	if says := p.text("document.getElementById('list').innerText"); !strings.Contains(says, "Own 150") && !strings.Contains(says, "own-150") {
		t.Errorf("the own motor alone in play, and not in these builds:\n%s", says)
	}
	p.goTo("parts")
	p.change(func() { p.Press("#all-motor") })

	// They are there after a reload, and open again from the file that is saved.
	p.Press("#save-own")
	file := p.save("own.toml")
	p.reload()
	p.Wait("document.querySelector('" + ownCell(1, "diameter_mm") + "')")
	if got := p.text("document.querySelector('" + ownCell(1, "diameter_mm") + "').value"); got != "8in" {
		t.Errorf("after a reload the wheel is %q", got)
	}
	p.Press("#more-own-8-inch")
	p.change(func() { p.Press("#away-1"); p.Wait("document.getElementById('back-wheel')") })
	p.change(func() { p.Press("#back-wheel"); p.Wait("document.querySelector('#face-own-8-inch')") })
	p.change(func() { p.Press("#away-1"); p.Wait("document.getElementById('back-wheel')") })
	p.change(func() { p.drop("own.toml", file) })
	p.Wait("document.querySelector('" + ownCell(1, "diameter_mm") + "')")
	if got := p.text("document.querySelector('" + ownCell(1, "diameter_mm") + "').value"); got != "203.2" {
		t.Errorf("opened again the wheel is %q", got)
	}
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('[data-own]').length"); n != 2 {
		t.Errorf("%d own parts, want 2", n)
	}
}
