package main

import (
	"strings"
	"testing"
)

// TestPageFinePrint answers what is yes or no with that, and puts words on a list and
// takes them off.
func TestPageFinePrint(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.text(`(document.getElementById("fine").open = true, "")`)
	options := func(key string) string {
		return p.text("[...document.querySelectorAll('" + keyField(key) + " option')].map((o) => o.textContent).join('|')")
	}
	if got := options("ground.wet"); got != "no|yes" {
		t.Errorf("wet ground is answered with %q", got)
	}
	if got := options("board.sensored"); got != "not asked for|yes|no" {
		t.Errorf("sensors are answered with %q", got)
	}
	p.change(func() { p.choose(keyField("ground.wet"), "true") })
	if got := p.text("state.brief['ground.wet']"); got != "true" {
		t.Errorf("wet ground is %q", got)
	}
	demote := keyField("limit.demote")
	p.change(func() { p.choose(demote, "price") })
	p.change(func() { p.choose(demote, "range") })
	if got := p.text("state.brief['limit.demote']"); got != "price,range" {
		t.Errorf("only cautions are %q", got)
	}
	p.Shot(*shots, "listed", false)
	p.change(func() { p.Press(".listed button") })
	if got := p.text("state.brief['limit.demote']"); got != "range" {
		t.Errorf("with the first taken off, only cautions are %q", got)
	}
	if got := p.text("document.activeElement.dataset.key"); got != "limit.demote" {
		t.Errorf("the focus is on %q", got)
	}

	// A comma is that of a decimal in every number, and one between the items of a list.
	for key, want := range map[string]string{"rider.mass_kg": "84.5", "limit.erpm_headroom_pct": "1.5", "tolerance.kv_pct": "2.5"} {
		if p.text("String(document.querySelectorAll('"+keyField(key)+"').length)") == "0" {
			t.Errorf("there is no blank for %s", key)
			continue
		}
		text := map[string]string{"84.5": "84,5", "1.5": "1,5", "2.5": "2,5 %"}[want]
		p.change(func() { p.Type(keyField(key), text) })
		saved := p.text(`(async () => (await wire.ask(state.question("save", { what: "brief" }))).answer.text)()`)
		_, name, _ := strings.Cut(key, ".")
		if !strings.Contains(saved, "\n"+name+" = "+want+"\n") {
			t.Errorf("%q in a blank is read as\n%s\nwant %s = %s", text, saved, name, want)
		}
	}
}
