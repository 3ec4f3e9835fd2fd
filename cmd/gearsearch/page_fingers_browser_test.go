package main

import (
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// small lists what can be pressed on the screen that is shown and is smaller than a
// finger: buttons, fields, what opens and closes, and links that stand alone. A box
// and its label are pressed as one.
const small = `[...document.querySelectorAll("button, select, input:not([type=file]), summary, nav a, footer a, #status a, li > a")].filter((e) => e.checkVisibility({ visibilityProperty: true })).flatMap((e) => {
	const pressed = e.matches("[type=checkbox], [type=radio]") ? e.closest("label") || e : e;
	const { width, height } = pressed.getBoundingClientRect();
	const least = 43.5;
	return width >= least && height >= least ? [] : [e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + "." + e.className + " " + (e.textContent || e.getAttribute("aria-label") || "").trim().slice(0, 30) + ": " + width.toFixed(0) + " x " + height.toFixed(0)];
})`

// TestPageForFingers measures everything that can be pressed, on a phone.
func TestPageForFingers(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.Screen(390, 844, "light")
	measure := func(what string) {
		t.Helper()
		for _, found := range browsertest.Value[[]string](p.Tab, small) {
			t.Errorf("%s: %s", what, found)
		}
	}
	p.text(`(document.getElementById("fine").open = true, document.getElementById("boards").open = true, "")`)
	measure("the ride")
	p.Shot(*shots, "fingers-ride", true)
	p.goTo("parts")
	p.Wait("document.querySelector('#shelves table')")
	measure("the parts")
	p.Shot(*shots, "fingers-parts", true)
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	measure("the builds")
	p.Shot(*shots, "fingers-builds", true)
}
