package main

import (
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// rowsSeen is how many builds of a table fit below its head into a window, above what
// is fixed at its foot.
const rowsSeen = `(() => {
	const table = document.querySelector("table.builds"), status = document.getElementById("status");
	table.scrollIntoView();
	const from = table.tHead.getBoundingClientRect();
	const room = (status ? status.getBoundingClientRect().top : innerHeight) - from.height;
	const first = table.tBodies[0].getBoundingClientRect().top;
	return [...table.tBodies].filter((x) => x.getBoundingClientRect().bottom - first <= room).length;
})()`

// TestTableNamesParts: page and report name parts by their names, a dozen designs on
// the screen of a laptop, and readable on a phone.
func TestTableNamesParts(t *testing.T) {
	t.Parallel()
	report := open(t, pageOf(t, ""))
	report.Screen(1280, 800, "light")
	page := servedPage(t)
	page.goTo("builds")
	page.Wait("document.querySelectorAll('table.builds tbody').length >= 12")
	for where, tab := range map[string]*browsertest.Tab{"page": page.Tab, "report": report} {
		const want = "battery: Touring pack 12s4p →controller: 2 × Tolvane single 50 →motor: 2 × Ostrivel 63 long 145 →drive: Ulmswick spur drive, street 3.4:1 →wheel: Yarrowin street urethane 107"
		if got := browsertest.Value[string](tab, `document.querySelector("table.builds tbody .chain").textContent.trim().replace(/\s+/g, " ")`); got != want {
			t.Errorf("%s: the first build is %q", where, got)
		}
		const dozen = 12
		if n := browsertest.Value[int](tab, rowsSeen); n < dozen {
			t.Errorf("%s: %d designs fit on the screen of a laptop", where, n)
		}
		tab.Screen(390, 844, "light")
		if small := browsertest.Value[float64](tab, `parseFloat(getComputedStyle(document.querySelector("table.builds tbody .part")).fontSize)`); small < 14 {
			t.Errorf("%s: names on a phone are of %v px", where, small)
		}
		if wide := browsertest.Value[int](tab, "document.documentElement.scrollWidth"); wide > 390 {
			t.Errorf("%s: %d pixels wide on a phone", where, wide)
		}
		tab.Screen(1280, 800, "light")
	}
}
