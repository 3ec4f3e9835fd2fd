package browsertest

import (
	"os"

	"github.com/chromedp/chromedp"
)

// axeEnvironment names the file axe.min.js of the npm package axe-core, the
// accessibility checker that Axe runs.
const axeEnvironment = "AXE_CORE"

// Axe fails the test with what axe-core finds wrong with the page as it is. It
// does nothing where the environment does not name axe-core's file; Axe tells
// whether it looked.
func (b *Tab) Axe(what string) (looked bool) {
	b.t.Helper()
	file := os.Getenv(axeEnvironment)
	if file == "" {
		return false
	}
	script, err := os.ReadFile(file)
	if err != nil {
		b.t.Fatal(err)
	}
	b.Do(chromedp.Evaluate[chromedp.Void](string(script)))
	for _, found := range Value[[]string](b, `axe.run({ resultTypes: ["violations"] }).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + v.help + ": " + n.target.join(" ") + ": " + (n.any[0] || n.all[0] || n.none[0] || {}).message)))`) {
		b.t.Errorf("%s: axe-core: %s", what, found)
	}
	return true
}
