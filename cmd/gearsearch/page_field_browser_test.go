package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestPageField picks a part of the field of all builds, by its ends and with the
// pointer, and the table shows the builds of the list that lie in it; other
// figures go on its axes.
func TestPageField(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.Wait("document.querySelector('#field .ends')")
	shown := func() int {
		return browsertest.Value[int](p.Tab, "[...document.querySelectorAll('#list tbody[data-number]')].filter((x) => !x.hidden).length")
	}
	all := shown()
	// The dearest half goes.
	p.text(`(() => {
		const end = document.querySelectorAll("#field .ends input")[1];
		end.value = (Number(end.min) + Number(end.max)) / 2;
		end.dispatchEvent(new Event("input"));
		return "";
	})()`)
	half := shown()
	if half == 0 || half >= all {
		t.Errorf("%d of %d builds cost at most the middle", half, all)
	}
	within := browsertest.Value[bool](p.Tab, `[...document.querySelectorAll("#list tbody[data-number]")].every((x) => {
		const price = Number([...x.querySelectorAll("[data-v]")].at(-3).dataset.v);
		return x.hidden === price > Number(document.querySelectorAll("#field .ends input")[1].value);
	})`)
	if !within {
		t.Error("the table shows other builds than the field's part has")
	}
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('#field .pick.out').length"); n != all-half {
		t.Errorf("%d builds of the list are pale in the field, %d are hidden", n, all-half)
	}
	p.picture("field")
	p.Press("#field .whole")
	if n := shown(); n != all {
		t.Errorf("of the whole field %d builds are shown of %d", n, all)
	}
	// With the pointer, from the upper left to the middle.
	p.text(`(() => {
		const svg = document.querySelector("#field svg");
		svg.setPointerCapture = () => {};
		const box = svg.getBoundingClientRect();
		const at = (type, x, y) => svg.dispatchEvent(new PointerEvent(type, { clientX: box.left + x * box.width, clientY: box.top + y * box.height, pointerId: 1, bubbles: true }));
		at("pointerdown", 0.02, 0.02);
		at("pointermove", 0.6, 0.98);
		at("pointerup", 0.6, 0.98);
		return "";
	})()`)
	if n := shown(); n == 0 || n >= all {
		t.Errorf("with the pointer %d of %d builds are picked", n, all)
	}
	before := p.text("document.querySelector('#field figcaption').textContent")
	p.choose("#axis-y", "mass_kg")
	p.Wait("document.querySelector('#field .field').dataset.y === 'mass_kg'")
	if n := shown(); n != all {
		t.Errorf("on other axes %d builds are picked", n)
	}
	if before == "" || !strings.Contains(p.text("document.querySelector('#field svg').textContent"), "mass, kg") {
		t.Error("the axis does not say what it shows")
	}
}

// TestPageSpreads: under a sentence stand the builds that its wishes choose from,
// and the handle on them changes the wish.
func TestPageSpreads(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	const strip = `document.querySelector("[data-wish='target.range_km']")`
	p.Wait(strip)
	if says := p.text(strip + ".querySelector('svg').getAttribute('aria-label')"); !strings.HasPrefix(says, "range, asked 28") {
		t.Errorf("the strip of the range says %q", says)
	}
	bars := browsertest.Value[[]int](p.Tab, `["rest", "less"].map((c) => `+strip+`.querySelectorAll("rect." + c).length)`)
	if bars[0] == 0 || bars[1] == 0 {
		t.Errorf("%d bars pass, %d do not", bars[0], bars[1])
	}
	before := p.shown("#status-text b")
	p.change(func() {
		p.Do(chromedp.Focus(chromedp.CSS("[data-wish='target.range_km'] input")), chromedp.KeyEvent(kb.PageUp))
	})
	asked := p.text(keyText("target.range_km"))
	if now := p.shown("#status-text b"); asked == "28" || now == before {
		t.Errorf("with %s km of range %q, with 28 %q", asked, now, before)
	}
	p.Wait(strip + ".querySelector('svg').getAttribute('aria-label').startsWith('range, asked ' + " + keyText("target.range_km") + ")")
	p.picture("spreads")
}

// keyText is what stands in the blank of a key.
func keyText(key string) string {
	return "document.querySelector('" + keyField(key) + "').value"
}
