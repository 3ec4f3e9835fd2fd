package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// reading is what a drawing of curves of several builds says below itself, and to those
// who hear it.
type reading struct {
	At     string
	Builds []string
	Values [][]string
	Heard  string
}

func read(b *browsertest.Tab) reading {
	return browsertest.Value[reading](b, `(() => {
		const table = document.querySelector(".laid .reading"), rows = [...table.tBodies[0].rows];
		return {
			At: table.caption.textContent, Builds: rows.map((r) => r.cells[0].textContent.trim()),
			Values: rows.map((r) => [...r.cells].slice(1).map((c) => c.textContent)),
			Heard: document.querySelector(".laid figure > svg").getAttribute("aria-valuetext"),
		};
	})()`)
}

// TestCurvesLieOverOneAnother: the curves of builds side by side are on one drawing, in
// the order in which the builds were taken, and are read by keys, a finger and the
// pointer; page and report alike.
func TestCurvesLieOverOneAnother(t *testing.T) {
	t.Parallel()
	report := open(t, pageOf(t, ""))
	page := servedPage(t)
	page.goTo("builds")
	page.Wait("document.querySelectorAll('table.builds tbody .pin input').length > 8")
	readings := map[string]reading{}
	for where, b := range map[string]*browsertest.Tab{"page": page.Tab, "report": report} {
		for _, n := range []int{3, 1, 5, 8} {
			b.Press(fmt.Sprintf("table.builds tbody[data-number='%d'] .pin input", n))
		}
		b.Wait("document.querySelectorAll('.laid .reading tbody tr').length === 8")
		b.Do(chromedp.Focus(chromedp.CSS(".laid figure > svg")), chromedp.KeyEvent(kb.Home))
		first := read(b)
		if first.At != "At 0.0 km/h" || strings.Join(first.Builds, ", ") != "No. 3, No. 1, No. 5, No. 8" {
			t.Errorf("%s: %+v", where, first)
		}
		b.Do(chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.PageUp), chromedp.KeyEvent(kb.ArrowRight))
		readings[where] = read(b)
		if got := readings[where]; got.At != "At 10.5 km/h" || !strings.HasPrefix(got.Heard, "At 10.5 km/h: No. 3, thrust "+got.Values[0][0]+", load on the flat "+got.Values[0][1]+"; No. 1, ") {
			t.Errorf("%s: %+v", where, got)
		}
		b.Do(chromedp.KeyEvent(kb.End))
		if last := read(b); last.Values[1][0] != "–" && last.Values[1][0] != "0" {
			t.Errorf("%s: at the end there are %s of thrust", where, last.Values[1][0])
		}
		for _, pointer := range []string{"mouse", "touch"} {
			at := browsertest.Value[string](b, `(() => {
				const svg = document.querySelector(".laid figure > svg"), box = svg.getBoundingClientRect();
				svg.dispatchEvent(new PointerEvent("pointerdown", { clientX: box.left + box.width / 3, clientY: box.top + 50, pointerType: "`+pointer+`", bubbles: true }));
				return document.querySelector(".laid caption").textContent;
			})()`)
			var v float64
			if _, err := fmt.Sscanf(at, "At %f km/h", &v); err != nil || v < 8 || v > 18 {
				t.Errorf("%s: a %s at a third reads %q", where, pointer, at)
			}
		}
		// Whose a curve is stands on it, and in its dashes.
		marks := browsertest.Value[[]string](b, `[0, 1, 2, 3].map((i) => getComputedStyle(document.querySelector(".laid figure > svg .of" + i)).strokeDasharray + " " + document.querySelectorAll(".laid figure > svg .named")[i].textContent)`)
		if fmt.Sprint(marks) != "[none No. 3 9px, 4px No. 1 2.5px, 3px No. 5 11px, 3px, 2.5px, 3px No. 8]" {
			t.Errorf("%s: the curves are told by %q", where, marks)
		}
		b.ForcedColors(true)
		if strokes := browsertest.Value[[]string](b, `[0, 3].map((i) => getComputedStyle(document.querySelector(".laid figure > svg .of" + i)).stroke)`); strokes[0] != strokes[1] {
			t.Errorf("%s: in forced colours curves are of %q", where, strokes)
		}
		b.ForcedColors(false)
	}
	if p, r := fmt.Sprint(readings["page"]), fmt.Sprint(readings["report"]); p != r {
		t.Errorf("the page reads %s, the report %s", p, r)
	}
	page.picture("laid")
}
