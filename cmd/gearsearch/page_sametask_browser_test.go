package main

import (
	"fmt"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestPageLooksOldInTheSameTask edits the question in each way there is: what answers
// the question before looks old when the edit's own task ends, and did so before the
// engine was asked anything and before anything was drawn.
func TestPageLooksOldInTheSameTask(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("parts")
	p.Wait("document.querySelector('tr.part .face')")
	p.goTo("builds")
	const all = pageReady + " && document.body.dataset.prices === 'current' && !document.body.classList.contains('busy')"
	for _, x := range []struct{ why, edit string }{
		{"a number typed", `{ const f = blank.find("target.range_km"); f.value = "31"; f.dispatchEvent(new Event("input", { bubbles: true })); }`},
		{"a number stepped", `blank.find("target.range_km").dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowDown", bubbles: true, cancelable: true }));`},
		{"a handle moved", `{ const h = document.querySelector("[data-wish='target.range_km'] input"); h.value = Number(h.value) + Number(h.step); h.dispatchEvent(new Event("input", { bubbles: true })); }`},
		{"a word chosen", `{ const f = blank.find("ground.surface"); f.value = "rough"; f.dispatchEvent(new Event("change", { bubbles: true })); }`},
		{"every build", `document.getElementById("every").click();`},
		{"how many", `{ const f = document.getElementById("top"); f.value = "10"; f.dispatchEvent(new Event("change", { bubbles: true })); }`},
		{"units", `{ const f = document.getElementById("units"); f.value = "imperial"; f.dispatchEvent(new Event("change", { bubbles: true })); }`},
		{"a part set aside", `document.querySelector("tr.part .face").click();`},
	} {
		p.Wait(all)
		if x.why == "a handle moved" {
			p.Wait("document.querySelector(\"[data-wish='target.range_km'] input\")")
		}
		got := browsertest.Value[struct {
			Before, After bool
			Asked         []string
			Drawn         int
		}](p.Tab, `(() => {
			const out = { Before: `+looksOld+`, Asked: [], Drawn: 0 };
			const ask = wire.ask, draw = drawing.draw;
			wire.ask = (question, tell) => { out.Asked.push(question.ask + " " + document.body.dataset.ranking); return ask(question, tell); };
			drawing.draw = () => { out.Drawn++; draw(); };
			`+x.edit+`
			out.After = `+looksOld+`;
			wire.ask = ask;
			drawing.draw = draw;
			return { ...out };
		})()`)
		if got.Before || !got.After {
			t.Errorf("%s: the builds look old before it %v, after it %v", x.why, got.Before, got.After)
		}
		if got.Drawn > 0 {
			t.Errorf("%s: the ride is drawn in the same task", x.why)
		}
		if text := fmt.Sprint(got.Asked); !strings.HasPrefix(text, "[rank old") {
			t.Errorf("%s: the engine is asked %s", x.why, text)
		}
	}
}
