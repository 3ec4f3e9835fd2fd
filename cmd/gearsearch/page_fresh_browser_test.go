package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// green reports whether the sign of an answer to the question as it stands is
// shown: a filled dot.
const green = `(() => {
	const beat = getComputedStyle(document.querySelector('.beat'));
	return beat.borderRadius === '50%' && beat.backgroundColor !== 'rgba(0, 0, 0, 0)';
})()`

// looksOld reports whether the builds that are shown look like those of an
// earlier question.
const looksOld = `document.body.dataset.ranking === 'old' && getComputedStyle(document.getElementById('list')).outlineStyle === 'dashed'
	&& getComputedStyle(document.querySelector('.headline .before')).display !== 'none'
	&& getComputedStyle(document.querySelector('.headline .now')).display === 'none'`

// oldWithin does something on the page, as an expression, and returns how many
// milliseconds later the builds look old; -1 where the answer came first.
func (p *onPage) oldWithin(what string) float64 {
	p.t.Helper()
	return browsertest.Value[float64](p.Tab, `(async () => {
		const begun = performance.now();
		`+what+`
		for (;;) {
			if (`+looksOld+`) return performance.now() - begun;
			if (performance.now() - begun > 30000) return Infinity;
			if (document.body.dataset.busy === 'false' && document.body.dataset.ranking === 'current' && performance.now() - begun > 200) return -1;
			await new Promise((turn) => setTimeout(turn, 2));
		}
	})()`)
}

// oldSoon does something on the page, and holds the page to looking old before
// the next answer is there. How soon it does is logged: it waits for 30 ms itself.
func (p *onPage) oldSoon(why, what string) {
	p.t.Helper()
	const most = 10_000 // ms: else it hangs
	ms := p.oldWithin(what)
	p.t.Logf("%s: old after %.0f ms", why, ms)
	if ms < 0 || ms > most {
		p.t.Errorf("%s: the builds look old after %.0f ms", why, ms)
	}
}

// dropping is an expression that drops a file.
func dropping(name, content string) string {
	text, _ := json.Marshal(content)
	return fmt.Sprintf(`{
		const carried = new DataTransfer();
		carried.items.add(new File([%s], %q));
		for (const type of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(type, { dataTransfer: carried, bubbles: true, cancelable: true }));
	}`, text, name)
}

// TestPageAnswersTheQuestion: an answer to an earlier question looks old at
// once, whether or not another comes, and the green dot stands beside none.
func TestPageAnswersTheQuestion(t *testing.T) {
	t.Parallel()
	huge, err := os.ReadFile("testdata/shop/huge.toml")
	if err != nil {
		t.Fatal(err)
	}
	empty := `document.querySelector("#begin").value = "nothing"; document.querySelector("#begin").dispatchEvent(new Event("change", { bubbles: true }));`
	p := servedPage(t)
	for _, tt := range []struct {
		why, do string
		place   string // where "go there" leads, "" for nowhere: the answer is on its way
	}{
		{"all blanks are emptied", empty, "ride"},
		{"motors alone are dropped", dropping("motor.csv", "id,kv\nm,90\n"), "parts"},
		{"a search does not end", empty + `document.querySelector('` + keyField("target.top_speed_kmh") + `').value = "10"; document.querySelector('` + keyField("target.top_speed_kmh") + `').dispatchEvent(new Event("input"));` + dropping("huge.toml", string(huge)), ""},
	} {
		p.goTo("builds")
		if !browsertest.Value[bool](p.Tab, green+" && !("+looksOld+")") {
			t.Fatalf("before %s the answer looks old", tt.why)
		}
		p.oldSoon(tt.why, tt.do)
		if tt.place == "" {
			p.Wait(pageBusy)
		} else {
			p.Wait("document.body.dataset.busy === 'false'")
		}
		if browsertest.Value[bool](p.Tab, green) {
			t.Errorf("%s: the dot is green", tt.why)
		}
		if !browsertest.Value[bool](p.Tab, looksOld) {
			t.Errorf("%s: the builds look current", tt.why)
		}
		if tt.place == "" {
			p.picture("old")
			continue
		}
		if says := p.shown("#older"); !strings.Contains(says, "This question has no answer") {
			t.Errorf("%s: over the builds stands %q", tt.why, says)
		}
		p.Press("#older a")
		p.Wait("document.body.dataset.screen === '" + tt.place + "'")
		p.goTo("builds")
		p.Press("#status-text a")
		p.Wait("document.body.dataset.screen === '" + tt.place + "'")
		p.change(func() {
			if tt.place == "parts" {
				p.Press("[aria-label='remove motor.csv']")
			}
			p.text(`(document.querySelector("#begin").value = "harbour", document.querySelector("#begin").dispatchEvent(new Event("change", { bubbles: true })), "")`)
		})
	}
}

// TestPageWithoutABrokenFile: what a file with mistakes is left out of is
// computed, and says so.
func TestPageWithoutABrokenFile(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	before := p.shown("#status-text b")
	p.oldSoon("a file with mistakes is dropped", dropping("broken.toml", "schema = 1\n[[motor]]\nid = \"m\"\nkvv = 3\n"))
	p.Wait("document.querySelector('#file-problems pre') && " + pageReady)
	if browsertest.Value[bool](p.Tab, green) {
		t.Error("the dot is green")
	}
	if says := p.shown("#status"); !strings.Contains(says, before) || !strings.Contains(says, "without broken.toml") {
		t.Errorf("the page says %q", says)
	}
	p.goTo("builds")
	if says := p.shown("#older"); !strings.Contains(says, "broken.toml") || !strings.Contains(says, "All answers use the parts from before") {
		t.Errorf("over the builds stands %q", says)
	}
	p.Shot(*shots, "without", false)
	p.goTo("parts")
	p.change(func() { p.Press("[aria-label='remove broken.toml']") })
	if !browsertest.Value[bool](p.Tab, green) || p.shown("#older") != "" || strings.Contains(p.shown("#status"), "without") {
		t.Errorf("with the file taken away the page says %q and %q", p.shown("#status"), p.shown("#older"))
	}
}

// TestPageLeadsToTheField: "go there" puts the focus into the blank that is
// wrong, from another screen too.
func TestPageLeadsToTheField(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	for _, key := range []string{"target.climb_grade_pct", "limit.heat_factor"} {
		p.text(`(document.getElementById("fine").open = true, "")`)
		p.Type(keyField(key), "4000")
		p.Wait("document.querySelector('" + keyField(key) + "[aria-invalid]')")
		p.text(`(document.getElementById("fine").open = false, "")`)
		p.goTo("builds")
		p.Press("#status-text a")
		p.Wait(fmt.Sprintf("document.activeElement.dataset.key === %q", key))
		p.change(func() { p.Type(keyField(key), "1") })
	}
}

// TestPageKeepsTheFocus presses Space on what is drawn anew by it.
func TestPageKeepsTheFocus(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	press := func(what, selector string) {
		t.Helper()
		p.text(fmt.Sprintf("(document.querySelector(%q).focus(), '')", selector))
		id := p.text("document.activeElement.id")
		p.change(func() { p.Do(chromedp.KeyEvent(" ")) })
		if now := p.text("document.activeElement.id"); now != id || id == "" {
			t.Errorf("%s: the focus goes from %q to %q", what, id, now)
		}
	}
	p.goTo("builds")
	press("turn down what is undecided", "#strict")
	press("and back", "#strict")
	press("every build", "#every")
	press("and back", "#every")
	p.goTo("parts")
	p.Wait("document.querySelector('tr.part .face')")
	press("the first part aside, which puts a way back before it", "tr.part .face")
	press("and back", "tr.part .face")
	p.Press("tr.part:nth-child(2) .more")
	press("the only one", "tr.part:nth-child(2) .under .quiet")
	p.Do(chromedp.KeyEvent(kb.Tab))
	p.drop("more.toml", "schema = 1\n[[wheel]]\nid = \"own\"\ndiameter_mm = 100\n")
	p.Wait("!document.getElementById('with-demo').disabled && " + pageReady)
	press("the demo parts too", "#with-demo")
}

// TestPageListsDesigns: the page lists what rank does, the best of each design with
// how many are like it, and with a switch every build.
func TestPageListsDesigns(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	scores := func() string {
		return p.text("[...document.querySelectorAll('#list [data-score]')].map((b) => b.textContent).join(' ')")
	}
	want := func(flags string) string {
		var out struct {
			Builds []struct{ Score float64 }
		}
		r := answerTo(context.Background(), "rank --format json --quiet"+flags)
		if err := json.Unmarshal([]byte(r.stdout), &out); err != nil {
			t.Fatalf("%v: %s", err, r.stderr)
		}
		var list []string
		for _, b := range out.Builds {
			list = append(list, fmt.Sprintf("%.1f", b.Score))
		}
		return strings.Join(list, " ")
	}
	const like = "document.getElementById('list').innerText.match(/and \\S+ like it/g)?.length || 0"
	p.goTo("builds")
	if got, want := scores(), want(""); got != want {
		t.Errorf("the page lists %s, rank %s", got, want)
	}
	if p.text("String("+like+")") == "0" {
		t.Error("no build says how many are like it")
	}
	p.change(func() { p.Press("#every") })
	if got, want := scores(), want(" --apart none"); got != want {
		t.Errorf("with every build the page lists %s, rank %s", got, want)
	}
	if n := p.text("String(" + like + ")"); n != "0" {
		t.Errorf("with every build, %s say how many are like them", n)
	}
}

// TestPageCosts: under a sentence stands what each of its wishes costs: as many
// builds as the program counts more without it.
func TestPageCosts(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	feasible := func(line string) (n float64) {
		t.Helper()
		var out struct{ Feasible float64 }
		r := answerTo(context.Background(), "rank --format json --quiet "+line)
		if err := json.Unmarshal([]byte(r.stdout), &out); err != nil {
			t.Fatalf("%v: %s", err, r.stderr)
		}
		return out.Feasible
	}
	now := feasible("")
	without := feasible("--set limit.erpm_headroom_pct=0") - now
	if without <= 0 {
		t.Fatal("the headroom costs nothing")
	}
	says := p.text("[...document.querySelectorAll('#sentences .sentence')].find((s) => s.querySelector('" + keyField("limit.erpm_headroom_pct") + "')).querySelector('.price').textContent")
	says = strings.ReplaceAll(says, "\u202f", "")
	if want := fmt.Sprintf("without erpm headroom: %.0f more builds", without); !strings.Contains(says, want) {
		t.Errorf("under the headroom stands %q, want %q", says, want)
	}
}

// TestPageSidesOfMargins: the bar of a failed check ends at the line of its limit,
// that of a passed one begins there; and a dropped build has no number.
func TestPageSidesOfMargins(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("#list .card .save")
	p.drop("build.toml", p.save("build.toml"))
	p.Wait("document.querySelector('#looked-at .score')")
	if says := p.shown("#looked-at h2.title"); says != "Your build" {
		t.Errorf("your build begins with %q", says)
	}
	p.goTo("ride")
	p.change(func() { p.Type(keyField("target.range_km"), "120") })
	p.goTo("builds")
	p.Wait("document.querySelector('#list .margins') && !document.querySelector('#looked-at.old')")
	sides := browsertest.Value[[]string](p.Tab, `[...document.querySelectorAll('#list .margins tbody tr, #looked-at .margins tbody tr')].filter((row) => row.querySelector('.rest')).map((row) => {
		const line = row.querySelector('.limit').getBoundingClientRect();
		const bar = row.querySelector('.rest').getBoundingClientRect();
		const failed = row.cells[4].textContent.startsWith('−');
		return (failed ? bar.right <= line.right && bar.width > 0 : bar.left >= line.left) ? (failed ? "before" : "beyond") : "wrong: " + row.textContent;
	})`)
	count := map[string]int{}
	for _, s := range sides {
		count[s]++
		if strings.HasPrefix(s, "wrong") {
			t.Error(s)
		}
	}
	if count["before"] == 0 || count["beyond"] == 0 {
		t.Errorf("the bars are %v", count)
	}
	p.Shot(*shots, "below", false)
}

// TestPageMarks prints the page and forces colours on it: what is drawn is still
// there.
func TestPageMarks(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	visible := `(() => {
		const clear = ["rgba(0, 0, 0, 0)", getComputedStyle(document.body).backgroundColor];
		const bars = [...document.querySelectorAll('.strip rect:not(.track), .bar .rest')];
		return bars.length > 100 && bars.every((b) => !clear.includes(getComputedStyle(b).fill));
	})()`
	p.ForcedColors(true)
	if !browsertest.Value[bool](p.Tab, "matchMedia('(forced-colors: active)').matches && "+visible) {
		t.Error("under forced colours the marks or the bars are gone")
	}
	if !browsertest.Value[bool](p.Tab, "getComputedStyle(document.getElementById('report')).color !== getComputedStyle(document.body).backgroundColor") { // behind words the browser paints the page's ground
		t.Error("under forced colours a button has no words")
	}
	p.Shot(*shots, "forced-colours", false)
	p.ForcedColors(false)
	p.Paper(700, 1000)
	if !browsertest.Value[bool](p.Tab, visible+" && [...document.querySelectorAll('.strip rect, .bar .rest')].every((b) => getComputedStyle(b).printColorAdjust === 'exact')") {
		t.Error("on paper the marks or the bars are gone")
	}
	p.Shot(*shots, "paper", false)
}

// TestPageSaysWhatIsInvented: wherever a price or a list of the demo's parts
// stands on the page it is marked.
func TestPageSaysWhatIsInvented(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	marks := func() map[string]bool {
		out := map[string]bool{}
		for name, selector := range map[string]string{
			"the list": "#verdict", "a build": "#list thead", "the shopping list": ".card h3:has(+ .shopping)", "its sum": ".card .shopping tfoot",
			"what is around it": ".card h3:has(+ .around)", "the sum of all": ".card .around tfoot", "a shelf": ".shelf h2", "the crate": "#crate p:nth-of-type(2)",
		} {
			out[name] = strings.Contains(p.shown(selector), "invented")
		}
		return out
	}
	for where, is := range marks() {
		if !is {
			t.Errorf("%s of the demo does not say that it is invented", where)
		}
	}
	good, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	p.goTo("ride")
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	p.change(func() { p.drop("parts.toml", string(good)) })
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	for where, is := range marks() {
		if is {
			t.Errorf("%s of own parts says that it is invented", where)
		}
	}
}
