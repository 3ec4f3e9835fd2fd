package main

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

// TestPageOpensABuildWithItsParts drops the one file that a friend sends: the page shows
// that build of those parts under that brief, as the program does, and leads back to what
// was there. It saves such a file too.
func TestPageOpensABuildWithItsParts(t *testing.T) {
	shop, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	chains, hill := scriptFile(t, "chain", "chains.toml"), scriptFile(t, "chain", "hill.toml")
	p := servedPage(t)
	t.Chdir(t.TempDir())
	saveAs(t, "chains.toml", chains)
	saveAs(t, "hill.toml", hill)
	if r := answerTo(context.Background(), "rank --catalog chains.toml --brief hill.toml --keep belt=run --save 1=board.toml --with-parts --quiet"); r.code != outcome.ExitAnswered {
		t.Fatalf("exit code %d, %s", r.code, r.stderr)
	}
	board, err := os.ReadFile("board.toml")
	if err != nil {
		t.Fatal(err)
	}

	// What is there before: other parts, one of the reader's own that is not finished.
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	p.change(func() { p.drop("parts.toml", string(shop)) })
	p.goTo("parts")
	p.Wait("document.getElementById('add-wheel')")
	p.Press("#add-wheel")
	p.fillOwn(0, "name", "Mine")
	p.Do(chromedp.KeyEvent(kb.Tab))
	before := p.shown("#status-text b")

	p.change(func() { p.drop("board.toml", string(board)) })
	p.Wait("!document.getElementById('builds').hidden && document.querySelector('#carried') && document.querySelector('#looked-at .card')")
	if says := p.text("document.getElementById('looked-at').innerText"); !strings.Contains(says, "board.toml has brought its parts and its brief") || !strings.Contains(says, "chain-06c") {
		t.Errorf("of the build the page says\n%s", says)
	}
	p.text("([...document.querySelectorAll('#looked-at .card button')].find((b) => b.textContent === 'All of it as JSON').click(), '')")
	want := answerTo(context.Background(), "sheet board.toml --quiet --why --format json").stdout
	if d := cmp.Diff(want, p.save("build.json")); d != "" {
		t.Errorf("the page shows the build otherwise than the program (-program +page):\n%s", d)
	}
	if back := p.shown("#carried-back"); back != "Back to it" {
		t.Errorf("the way back is called %q", back)
	}
	if speed := p.text("document.querySelector('" + keyField("target.top_speed_kmh") + "').value"); speed != "30" {
		t.Errorf("the brief that came asks 30 km/h, the blank %q", speed)
	}
	p.goTo("parts")
	if says := p.text("document.querySelector('.files').innerText"); !strings.Contains(says, "board.toml") || strings.Contains(says, "parts.toml") {
		t.Errorf("the files in use are %q", says)
	}
	p.Wait("document.querySelector('[aria-labelledby=shelf-chain]').innerText.includes('run-4')")
	p.reload()
	p.goTo("builds")
	p.Wait("document.querySelector('#looked-at .card')")

	// And back to what was there before it.
	p.goTo("ride")
	p.text("(document.getElementById('boards').open = true, '')")
	p.change(func() { p.Press("[id='open-before board.toml']") })
	if now := p.shown("#status-text b"); now != before || p.owned() != 1 {
		t.Errorf("gone back, the page says %q with %d own parts; at first it said %q", now, p.owned(), before)
	}

	// A build of these parts goes out in the same way.
	p.goTo("builds")
	p.Wait("document.querySelector('#list .look')")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("#list .card .with-parts")
	saveAs(t, "sent.toml", p.save("build-with-parts.toml"))
	if r := answerTo(context.Background(), "sheet sent.toml --format json"); r.code != outcome.ExitAnswered || !strings.Contains(r.stderr, "parts and brief are those that sent.toml carries") {
		t.Errorf("of the saved build the program says: exit code %d, %s", r.code, r.stderr)
	}
}
