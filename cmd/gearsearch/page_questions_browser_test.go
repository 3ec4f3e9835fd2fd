package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/site"
)

// askIn presses Ask behind a question, and waits for the answer.
func (p *onPage) askIn(question string) {
	p.t.Helper()
	place := `[data-question="` + question + `"]`
	p.Press(place + " .ask")
	p.Wait(fmt.Sprintf("document.querySelector('%s > .said').dataset.reply === 'current'", place))
}

// fill puts a text into a blank of a question.
func (p *onPage) fill(question, name, text string) {
	p.t.Helper()
	p.Type(`[data-question="`+question+`"] [data-blank="`+name+`"]`, text)
}

// replied is the text of what is answered to a question, without the command that gives the
// same.
func (p *onPage) replied(question string) string {
	p.t.Helper()
	return p.text(fmt.Sprintf(`(document.querySelector('[data-question="%s"] > .said .fragment') || document.querySelector('[data-question="%[1]s"] > .said')).textContent`, question))
}

// pieces are JavaScript for the headings, the paragraphs and the rows of cells in a node.
const pieces = `((node) => [...node.querySelectorAll("h2, h3, p, tr")].map((e) => e.localName === "tr" ? [...e.children].map((c) => c.textContent) : [e.textContent]))`

// piecesOf are those of what is answered to a question.
func (p *onPage) piecesOf(question string) [][]string {
	p.t.Helper()
	return browsertest.Value[[][]string](p.Tab, fmt.Sprintf(`%s(document.querySelector('[data-question="%s"] > .said .fragment'))`, pieces, question))
}

// piecesIn are those of an answer in HTML, read by the browser without any script of the page.
func (p *onPage) piecesIn(answer string) [][]string {
	p.t.Helper()
	quoted, err := json.Marshal(answer)
	if err != nil {
		p.t.Fatal(err)
	}
	return browsertest.Value[[][]string](p.Tab, fmt.Sprintf(`%s(new DOMParser().parseFromString(%s, "text/html").body)`, pieces, quoted))
}

// agree holds what is answered to a question to what the program answers to the command line
// that the page names, run on files of a folder.
func (p *onPage) agree(question string) {
	p.t.Helper()
	line := p.shown(`[data-question="` + question + `"] > .said .same code`)
	words, ok := strings.CutPrefix(line, "gearsearch ")
	if !ok {
		p.t.Fatalf("%s: the page names the command %q", question, line)
	}
	r := answerTo(context.Background(), words+" --format html")
	if r.code > outcome.ExitInfeasible {
		p.t.Fatalf("%s: exit code %d, %s", line, r.code, r.stderr)
	}
	want, got := p.piecesIn(r.stdout), p.piecesOf(question)
	if len(want) < 3 {
		p.t.Errorf("%s: the program answers with %d pieces", line, len(want))
	}
	if d := cmp.Diff(want, got); d != "" {
		p.t.Errorf("%s is answered otherwise on the page (-program +page):\n%s", line, d)
	}
}

// TestPageAsksOfABuild asks all questions about a build on its sheet.
func TestPageAsksOfABuild(t *testing.T) {
	p := servedPage(t)
	t.Chdir(t.TempDir())
	p.goTo("ride")
	p.Press("#ride-deeds button")
	saveAs(t, "brief.toml", p.save("brief.toml"))
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card .questions')")
	p.Press("#list .card .save")
	saveAs(t, "build.toml", p.save("build.toml"))
	fetched := func(url string) bool { return strings.HasSuffix(url, "/"+site.ProgramWasm) }
	if slices.ContainsFunc(p.AskedOutside(), fetched) {
		t.Error("the program is fetched before it is asked anything")
	}

	p.choose(`[data-question="swap"] select`, "wheel")
	p.askIn("swap")
	if line := p.shown(`[data-question="swap"] > .said .same code`); line != "gearsearch swap build.toml --change wheel --all --catalog demo --brief brief.toml" {
		t.Errorf("the page teaches %q", line)
	}
	p.agree("swap")

	// What an answer advises is asked in its place, with what was saved before.
	here := `[data-question="swap"] > .said .commands > li:nth-child(%d)`
	for i, says := range []string{"15 changes", "Checks"} {
		item := fmt.Sprintf(here, i+1)
		p.Press(item + " > .here")
		p.Wait(fmt.Sprintf(`document.querySelector('%s > .said').dataset.reply === "current"`, item))
		if got := p.shown(item + " > .said"); !strings.Contains(got, says) {
			t.Errorf("to %s the page says\n%s", p.shown(item+" > code"), got)
		}
	}
	p.Press(fmt.Sprintf(here, 1) + " .open-build")
	p.Wait(`document.querySelector("#looked-at .questions")`)
	if says := p.text("document.getElementById('looked-at').innerText"); !strings.Contains(says, "pier-102") {
		t.Errorf("of the build with another wheel the page says\n%s", says)
	}
	p.Press("#looked-at h2 button")
	p.Press(`[data-question="vary"] .ask`)
	p.Wait(`document.querySelector('[data-question="vary"] > .wrong').textContent.startsWith("Fill in a blank")`)
	p.fill("vary", "kv", "150, 180")
	p.fill("vary", "wheel-size", "100")
	p.askIn("vary")
	p.agree("vary")
	p.askIn("parts")
	p.agree("parts")
	p.askIn("why")
	if says := p.replied("why"); !strings.Contains(says, "formula") || !strings.Contains(says, "source") {
		t.Errorf("of how figures are computed the page says\n%s", says)
	}
	p.askIn("stands")
	if n := browsertest.Value[int](p.Tab, `document.querySelectorAll('[data-question="stands"] figure svg path').length`); n < 10 {
		t.Errorf("a drawing of all builds has %d paths", n)
	}
	p.text(`(document.querySelector('[data-question="swap"]').scrollIntoView(), "")`)
	p.picture("questions-of-a-build")
	p.Screen(390, 844, "light")
	if wide := browsertest.Value[float64](p.Tab, `document.querySelector('[data-question="swap"] .reply').getBoundingClientRect().right`); wide > 390 {
		t.Errorf("on a phone of 390 pixels an answer goes to %g", wide)
	}
	p.Screen(1280, 800, "light")

	// What is wrong is said as the program says it.
	p.fill("vary", "kv", "fast")
	p.Press(`[data-question="vary"] .ask`)
	p.Wait(`document.querySelector('[data-question="vary"] > .said pre.bad')`)
	r := answerTo(context.Background(), "vary build.toml --kv fast --wheel-size 100mm --catalog demo --brief brief.toml")
	if d := cmp.Diff(strings.TrimSpace(r.stderr), p.shown(`[data-question="vary"] > .said pre.bad`)); r.code != outcome.ExitUsage || d != "" {
		t.Errorf("exit code %d; the page complains otherwise (-program +page):\n%s", r.code, d)
	}

	// A change of the brief makes answers old at once; they are asked again.
	p.goTo("ride")
	p.change(func() { p.Type(keyField("rider.mass_kg"), "83") })
	p.goTo("builds")
	if n := browsertest.Value[int](p.Tab, `document.querySelectorAll('#list .said[data-reply="current"]').length`); n != 0 {
		t.Errorf("%d answers about the brief before look current", n)
	}
}

func saveAs(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestPageAsksMore asks the questions about all builds, of the shop's own parts.
func TestPageAsksMore(t *testing.T) {
	parts, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	p := servedPage(t)
	t.Chdir(t.TempDir())
	saveAs(t, "parts.toml", string(parts))
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	p.change(func() { p.drop("parts.toml", string(parts)) })
	p.goTo("ride")
	p.Press("#ride-deeds button")
	brief := p.save("brief.toml")
	saveAs(t, "brief.toml", brief)
	p.goTo("more")
	p.picture("more")
	for _, question := range []string{"shortlist", "relax", "ideal", "front", "stability", "tolerance", "check", "teeth"} {
		p.askIn(question)
		p.agree(question)
	}
	p.picture("more-answered")
	p.fill("share", "slots", "battery")
	p.askIn("share")
	p.agree("share")
	p.askIn("convert")
	p.text(`([...document.querySelectorAll('[data-question="convert"] .save-file')].find((b) => b.textContent.endsWith("/battery.csv")).click(), "")`)
	if csv := p.save("battery.csv"); !strings.HasPrefix(csv, "id,") {
		t.Errorf("the batteries as CSV are %.80q", csv)
	}
	p.fill("typed", "line", "catalog show motor --where 'kv > 100'")
	p.askIn("typed")
	if says := p.replied("typed"); !strings.Contains(says, "kv") {
		t.Errorf("to a typed question the page says\n%s", says)
	}
	p.fill("typed", "line", "rank --hepl")
	p.Press(`[data-question="typed"] .ask`)
	p.Wait(`document.querySelector('[data-question="typed"] > .said pre.bad')`)
	if says := p.shown(`[data-question="typed"] > .said pre.bad`); !strings.Contains(says, "did you mean --help?") {
		t.Errorf("of a wrong flag the page says\n%s", says)
	}

	// Every answer is old as soon as the brief is another, and is asked again.
	p.text(`(document.querySelector('` + keyField("target.top_speed_kmh") + `').value = "24", document.querySelector('` + keyField("target.top_speed_kmh") + `').dispatchEvent(new Event("input", { bubbles: true })), "")`)
	if n := browsertest.Value[int](p.Tab, `document.querySelectorAll('#questions .said[data-reply="current"]').length`); n != 0 {
		t.Errorf("%d answers look current at once after a change", n)
	}
	p.picture("more-old")
	p.Wait(pageReady)
	p.Press(`[data-question="shortlist"] .again`)
	p.Wait(`document.querySelector('[data-question="shortlist"] > .said').dataset.reply === "current"`)

	// Where nothing does it, it is said on what to give way.
	p.goTo("ride")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "90") })
	saveAs(t, "brief.toml", strings.Replace(brief, "top_speed_kmh = 25", "top_speed_kmh = 90", 1))
	p.goTo("more")
	p.askIn("relax")
	p.agree("relax")
	p.picture("more-nothing")
	p.goTo("ride")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "25") })
	p.goTo("more")

	// A press on a pair of teeth ranks the builds that have it.
	p.askIn("teeth")
	p.change(func() { p.Press(`[data-question="teeth"] .teeth-pair`) })
	p.Wait("!document.getElementById('builds').hidden")
	if keeps := p.text(`state.brief["keep.motor_pulley"] + " " + state.brief["keep.wheel_pulley"]`); strings.Contains(keeps, "undefined") {
		t.Errorf("a press on a pair keeps %s", keeps)
	}
}

// TestPageStopsQuestions stops a question that takes minutes, and asks another.
func TestPageStopsQuestions(t *testing.T) {
	huge, err := os.ReadFile("testdata/shop/huge.toml")
	if err != nil {
		t.Fatal(err)
	}
	t.Parallel()
	p := servedPage(t)
	p.choose("#begin", "nothing")
	p.Type(keyField("target.top_speed_kmh"), "10")
	p.Wait(pageReady)
	p.drop("huge.toml", string(huge))
	p.Wait("state.contents.files && state.contents.files.includes('huge.toml')")
	p.goTo("more")
	p.Press(`[data-question="shortlist"] .ask`)
	p.Wait(`/Computing … [1-9]/.test(document.querySelector('[data-question="shortlist"] > .said').textContent)`)
	p.picture("more-computing")
	p.Press(`[data-question="shortlist"] .halt`)
	if says := p.replied("shortlist"); !strings.Contains(says, "Stopped: there is no answer.") {
		t.Errorf("after a stop the page says %q", says)
	}
	p.fill("typed", "line", "vary --kv 150 --series 11 --teeth 14:48 --wheel-size 120mm")
	p.askIn("typed")
	if says := p.replied("typed"); !strings.Contains(says, "150") {
		t.Errorf("after a stop the page answers %q", says)
	}

	// Other parts make an answer old as another brief does.
	p.goTo("parts")
	p.change(func() { p.Press("[aria-label='remove huge.toml']") })
	if mark := p.text(`document.querySelector('[data-question="typed"] > .said').dataset.reply`); mark != "old" {
		t.Errorf("with other parts the answer is marked %s", mark)
	}
}

// TestPageDrawsTheFront: the front of all builds is drawn without a build in hand, in the
// plane of the two figures that are asked about; and a page or a drawing that a command
// line would print is a file to save, not markup to read.
func TestPageDrawsTheFront(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("more")
	p.choose(`[data-question="front"] [data-blank="x"]`, "mass_kg")
	p.choose(`[data-question="front"] [data-blank="y"]`, "climb_limit_pct")
	p.askIn("front")
	const drawing = `document.querySelector('[data-question="front"] > .said .reply > figure.field')`
	p.Wait(drawing)
	if axes := p.text(drawing + `.dataset.x + " " + ` + drawing + `.dataset.y`); axes != "mass_kg climb_limit_pct" {
		t.Errorf("the front is drawn over %s", axes)
	}
	if line := p.text(drawing + `.querySelector(".front").getAttribute("d")`); strings.Count(line, "V") < 3 {
		t.Errorf("the front that is drawn is %s", line)
	}
	p.picture("front")
	const line = "report --top 2"
	p.fill("typed", "line", line)
	p.askIn("typed")
	if says := p.replied("typed"); strings.Contains(says, "<") || !strings.Contains(says, "a page of its own") {
		t.Errorf("%s is answered with %.200s", line, says)
	}
	p.Press(`[data-question="typed"] > .said .save-file`)
	if text := p.save("report.html"); !strings.HasPrefix(text, "<!doctype html>") {
		t.Errorf("%s saves %.100s", line, text)
	}
}
