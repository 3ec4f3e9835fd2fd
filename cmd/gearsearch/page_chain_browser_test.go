package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/rogpeppe/go-internal/txtar"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// scriptFile is a file of a script of the program.
func scriptFile(t testing.TB, script, name string) string {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join("testdata", "script", script+".txtar"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range archive.Files {
		if f.Name == name {
			return string(f.Data)
		}
	}
	t.Fatalf("%s has no file %s", script, name)
	return ""
}

// TestPageTakesChains does with sprockets and chains what is done with pulleys and belts:
// looks at them, sets them aside, enters and pastes some, asks about them.
func TestPageTakesChains(t *testing.T) {
	parts, brief := scriptFile(t, "chain", "chains.toml"), scriptFile(t, "chain", "hill.toml")
	p := servedPage(t)
	t.Chdir(t.TempDir())
	p.change(func() { p.drop("chains.toml", parts, "hill.toml", brief) })
	p.goTo("parts")
	p.Wait("document.getElementById('face-star-40')")
	shelf := func(name string) string {
		return p.text("document.querySelector('[aria-labelledby=shelf-" + name + "]').innerText")
	}
	if says := shelf("motor_sprocket"); !strings.Contains(says, "pin-11") || strings.Contains(says, "cog") || strings.Contains(says, "width") {
		t.Errorf("on the shelf of motor sprockets stands\n%s", says)
	}
	if says := shelf("chain"); !strings.Contains(says, "links") || !strings.Contains(says, "8200") {
		t.Errorf("on the shelf of chains stands\n%s", says)
	}
	if says := p.shown("#crate"); !strings.Contains(says, "25 parts in use") {
		t.Errorf("of how many parts there are the page says %q", says)
	}

	// One alone in play: both shelves of its slot say so, and builds have it.
	p.Press("#more-pin-12")
	p.change(func() { p.Press("#only-pin-12") })
	for _, name := range []string{"motor_pulley", "motor_sprocket"} {
		if says := shelf(name); !strings.Contains(says, "only 1 of motor pulleys and motor sprockets in play") {
			t.Errorf("with one sprocket in play the shelf %s says\n%s", name, says)
		}
	}
	p.change(func() { p.Press("#all-motor_pulley") })

	// Those of the reader's own: filled in, and pasted.
	p.Press("#add-chain")
	p.change(func() {
		p.fillOwn(0, "name", "Own chain", "profile", "chain-06c", "links", "46", "price", "8")
		p.Do(chromedp.KeyEvent(kb.Tab))
		p.Wait("document.querySelector('#face-own-chain')")
	})
	p.pasteOn("#add-wheel_sprocket", "Name\tTeeth\tChain\tHub\nOwn star\t38\tchain-06c\tspoke\n")
	p.Wait("document.getElementById('intake-take')")
	p.choose("#column-2", "profile")
	p.Wait("document.getElementById('intake-take') && document.getElementById('column-2').value === 'profile'")
	p.take()
	if at := p.text("document.activeElement.id"); at != "add-wheel_sprocket" {
		t.Errorf("with the sprocket taken the focus is at %q", at)
	}
	if says := shelf("wheel_sprocket"); !strings.Contains(says, "own-star") {
		t.Errorf("on the shelf of wheel sprockets stands\n%s", says)
	}
	p.picture("chains")
	p.Press("#save-own")
	saveAs(t, "own.toml", p.save("own.toml"))
	saveAs(t, "chains.toml", parts)
	p.Press("#more-own-chain")
	p.change(func() { p.Press("#away-0"); p.Wait("document.getElementById('back-chain')") })
	p.change(func() { p.Press("#back-chain"); p.Wait("document.querySelector('#face-own-chain')") })

	// Questions name what stands in the slots, and have the command line's answers.
	p.goTo("ride")
	p.Press("#ride-deeds button")
	saveAs(t, "brief.toml", p.save("brief.toml"))
	p.goTo("more")
	p.choose(`[data-question="shortlist"] [data-blank="slot"]`, "belt")
	if says := p.text(`document.querySelector('[data-question="shortlist"] select').selectedOptions[0].text`); says != "belt or chain" {
		t.Errorf("the slot of belts is called %q", says)
	}
	p.askIn("shortlist")
	p.agree("shortlist")
	if says := p.replied("shortlist"); !strings.Contains(says, "own-chain") || !strings.Contains(says, "loop-80") {
		t.Errorf("of belts and chains the page says\n%s", says)
	}
	p.askIn("teeth")
	p.change(func() { p.Press(`[data-question="teeth"] .teeth-pair[aria-label$="chain-06c"]`) })
	p.Wait("!document.getElementById('builds').hidden && document.querySelector('#list .look')")
	if keep := p.text(`state.brief["keep.motor_pulley"]`); !strings.HasPrefix(keep, "pin-") {
		t.Errorf("a press on teeth of a chain keeps %q", keep)
	}
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card .questions')")
	got := browsertest.Value[[]string](p.Tab, `[...document.querySelectorAll('[data-question="swap"] option')].map((o) => o.text)`)
	if says := strings.Join(got, "|"); !strings.HasSuffix(says, "|motor sprocket|wheel sprocket|mount|chain") {
		t.Errorf("of a build with a chain may be changed: %s", says)
	}
	p.picture("chain-sheet")
}
