package main

import (
	"cmp"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

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
		for _, wide := range []int64{390, 820, 1000, 1440} {
			tab.Screen(wide, 900, "light")
			if over := browsertest.Value[int](tab, `(() => { const t = document.querySelector("table.builds"); return t.offsetWidth - t.parentNode.clientWidth; })()`); over > 0 {
				t.Errorf("%s: on a screen of %d pixels the table is %d wider than its place", where, wide, over)
			}
		}
	}
}

// TestPageUnfoldsAlike: what a row stands for unfolds below it, twenty at a time, each
// with a sheet of its own, and folds up again.
func TestPageUnfoldsAlike(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	const row = "#list tbody[data-number='1'] "
	p.Wait("document.querySelector(\"" + row + ".like\")")
	if says := p.shown(row + ".like"); !strings.HasPrefix(says, "and 386 like it") {
		t.Fatalf("the first build says %q", says)
	}
	count := func() int {
		return browsertest.Value[int](p.Tab, "document.querySelectorAll(\""+row+".variants tbody\").length")
	}
	p.Do(chromedp.Focus(chromedp.CSS(row+".like")), chromedp.KeyEvent(kb.Enter))
	p.Wait("document.querySelector(\"" + row + ".variants\")")
	if n := count(); n != 20 {
		t.Errorf("%d builds unfold", n)
	}
	scores := browsertest.Value[[]float64](p.Tab, `[...document.querySelectorAll("#list tbody[data-number='1'] .variants .numbers td:first-child")].map((x) => Number(x.textContent))`)
	if best := browsertest.Value[float64](p.Tab, `Number(document.querySelector("#list tbody[data-number='1'] [data-score]").textContent)`); scores[0] > best || !slices.IsSortedFunc(scores, func(a, b float64) int { return cmp.Compare(b, a) }) {
		t.Errorf("below a build of %v points are those of %v", best, scores)
	}
	if says := p.shown(row + ".variants th[scope=rowgroup]"); !strings.HasPrefix(says, "wheel Yarrowin cruiser urethane") {
		t.Errorf("the first like it has other %q", says)
	}
	p.Press(row + ".more-alike")
	p.Wait("document.querySelectorAll(\"" + row + ".variants tbody\").length === 40")
	p.Press(row + ".variants tbody:nth-of-type(2) .look")
	p.Wait("document.querySelector(\"" + row + ".variants .card\")")
	if title := p.shown(row + ".variants .card .title"); title != "No. 1, 3 of its design" {
		t.Errorf("its sheet is %q", title)
	}
	if parts := p.shown(row + ".variants .card .chain"); !strings.Contains(parts, "Tolvane dual 60") {
		t.Errorf("its sheet is that of %s", parts)
	}
	p.picture("alike")
	p.Press(row + ".like")
	if n := count(); n != 0 {
		t.Errorf("%d builds stay", n)
	}
}

// TestReportNamesAlike: a report, which cannot ask, names the command that lists what a
// row stands for, and that command does.
func TestReportNamesAlike(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(strings.TrimPrefix(pageOf(t, "--top 3"), "file://"))
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`and ([0-9]+) like it</summary><p>[^<]*<code>gearsearch ([^<]*)</code>`).FindAllStringSubmatch(string(data), -1)
	if len(found) != 3 {
		t.Fatalf("%d of three builds name a command", len(found))
	}
	for _, x := range found {
		r := answerTo(t.Context(), x[2]+" --quiet --top 1")
		var n int
		if _, err := fmt.Sscanf(r.stdout, "1 of %d feasible builds", &n); err != nil || strconv.Itoa(n-1) != x[1] {
			t.Errorf("%s: %v, %.60q, want %s and one", x[2], err, r.stdout, x[1])
		}
	}
}
