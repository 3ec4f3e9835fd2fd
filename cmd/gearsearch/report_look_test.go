package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestReportIsKind lets axe-core look at pages in both themes, on a laptop and
// on a phone, with everything opened and builds side by side, and holds them to
// the width of the narrowest phone.
func TestReportIsKind(t *testing.T) {
	t.Parallel()
	const narrow = 320 // CSS pixels: what pages must fit into, WCAG 2.2, 1.4.10
	b, looked := browserFor(t), true
	for _, page := range []struct{ name, question string }{
		{"a shortlist", "--top 2"},
		{"nothing feasible", "--price-limit 300"},
	} {
		b.Do(chromedp.Navigate(pageOf(t, page.question)))
		openAll(b)
		b.Screen(narrow, 640, "light")
		if wide := browsertest.Value[int](b, "document.documentElement.scrollWidth"); wide > narrow {
			t.Errorf("%s is %d wide on a screen of %d: %q", page.name, wide, narrow, browsertest.Value[[]string](b,
				"[...document.querySelectorAll('body *')].filter(x => !x.closest('.scroll, pre') && x.getBoundingClientRect().right > innerWidth).map(x => x.tagName + ' ' + x.className)"))
		}
		for _, s := range []struct {
			width, height int64
			scheme        string
		}{{1280, 900, "light"}, {390, 844, "dark"}} {
			b.Screen(s.width, s.height, s.scheme)
			looked = b.Axe(fmt.Sprintf("%s, %d wide, %s", page.name, s.width, s.scheme))
		}
	}
	if !looked {
		t.Skip("axe-core is not at hand, so it has not looked at the pages")
	}
}

// openAll opens everything and puts two builds side by side.
func openAll(b *browsertest.Tab) {
	browsertest.Value[bool](b, `(document.querySelectorAll('.pin input').forEach((x, i) => { if (i < 2) x.click() }),
		document.querySelectorAll('details').forEach(x => { x.open = true }), true)`)
}

// TestReportShots takes pictures of the page, for people to look at.
func TestReportShots(t *testing.T) {
	if *shots == "" {
		t.Skip("-shots names no folder for pictures")
	}
	for name, question := range map[string]string{"demo": "", "nothing": "--price-limit 300", "trail": "--brief demo:trail --units imperial"} {
		address := pageOf(t, question)
		b := open(t, address)
		for _, s := range []struct {
			name          string
			width, height int64
			scheme        string
		}{{"laptop", 1280, 900, "light"}, {"dark", 1280, 900, "dark"}, {"phone", 390, 844, "light"}} {
			b.Screen(s.width, s.height, s.scheme)
			b.Do(chromedp.Navigate(address))
			b.Shot(*shots, name+"-"+s.name, false)
			openAll(b)
			for _, part := range []string{".weights", "table.builds", ".bench", ".card", ".card .margins", ".card .shopping", ".card .more", ".gates", ".notes"} {
				if browsertest.Value[bool](b, "(x => x && (x.scrollIntoView({behavior: 'instant'}), true) || false)(document.querySelector('"+part+"'))") {
					b.Shot(*shots, name+"-"+s.name+strings.NewReplacer("#", "-", ".", "-", " ", "").Replace(part), false)
				}
			}
		}
		b.Paper(int64(math.Round(sheetWidth)), int64(math.Round(sheetHeight)))
		b.Do(chromedp.Navigate(address))
		b.Shot(*shots, name+"-paper", false)
		browsertest.Value[bool](b, "document.querySelector('.card').scrollIntoView({behavior: 'instant'}), true")
		b.Shot(*shots, name+"-paper-card", false)
		if err := os.WriteFile(filepath.Join(*shots, name+".pdf"), b.Print(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// A sheet of paper between the margins that the page sets, in CSS pixels.
const (
	sheetWidth  = (210 - 2*13) * 96 / 25.4
	sheetHeight = (297 - 2*12) * 96 / 25.4
)

// TestReportOnPaper prints the page: each card fits a sheet of its own, and what
// is for the screen alone is not on paper.
func TestReportOnPaper(t *testing.T) {
	t.Parallel()
	b := open(t, pageOf(t, "--brief demo:trail"))
	cards := browsertest.Value[int](b, "document.querySelectorAll('.card').length")
	sheets := len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(b.Print(), -1))
	if cards != 10 || sheets < cards+2 || sheets > cards+7 { // before them the question, the field, the table and the curves
		t.Errorf("%d cards on %d sheets", cards, sheets)
	}
	b.Paper(int64(math.Round(sheetWidth)), int64(math.Round(sheetHeight)))
	for i, height := range browsertest.Value[[]float64](b, "[...document.querySelectorAll('.card')].map(x => x.getBoundingClientRect().height)") {
		if height > sheetHeight {
			t.Errorf("card %d is %.0f high, a sheet %.0f", i+1, height, sheetHeight)
		}
	}
	for _, selector := range []string{"#filter", ".weights", ".pin", "details:not(.tight)", ".skip"} {
		if shown := browsertest.Value[int](b, "[...document.querySelectorAll('"+selector+"')].filter(x => x.getClientRects().length > 0).length"); shown > 0 {
			t.Errorf("%d of %s are on paper", shown, selector)
		}
	}
}
