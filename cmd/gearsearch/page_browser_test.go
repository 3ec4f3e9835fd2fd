package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/site"
	"gearsearch/constraints"
)

var shots = flag.String("shots", "", "a folder to put pictures of the static page into")

// Conditions of the page.
const (
	pageReady = "document.body.dataset.took && document.body.dataset.busy === 'false'"
	pageBusy  = "document.body.classList.contains('busy')"
)

// onPage is the page in a browser.
type onPage struct {
	*browsertest.Tab
	t    testing.TB
	save func(name string) string // waits for what the page saves
}

// openPage opens an address of the page and waits for its first answer. What
// it complains about, and what it asks for beyond inside, fails the test.
func openPage(t testing.TB, address string, inside ...string) *onPage {
	t.Helper()
	p := &onPage{Tab: browsertest.Open(t), t: t}
	p.save = p.Downloads()
	p.Screen(1280, 800, "light")
	p.Do(chromedp.Navigate(address))
	p.Wait(pageReady)
	t.Cleanup(func() {
		for _, c := range p.Complaints() {
			t.Errorf("the page complains: %s", c)
		}
		for _, url := range p.AskedOutside(inside...) {
			t.Errorf("the page asks for %s", url)
		}
	})
	return p
}

// change does something that changes the answer, and waits for it.
func (p *onPage) change(what func()) {
	p.t.Helper()
	p.text("(delete document.body.dataset.took, '')")
	what()
	p.Wait(pageReady)
}

// text is a JavaScript expression that is a text.
func (p *onPage) text(expression string) string {
	p.t.Helper()
	return browsertest.Value[string](p.Tab, expression)
}

// shown is the text of the first element that a selector finds.
func (p *onPage) shown(selector string) string {
	p.t.Helper()
	return p.text(fmt.Sprintf("document.querySelector(%q).textContent", selector))
}

func (p *onPage) goTo(screen string) {
	p.t.Helper()
	shown := "!document.getElementById('" + screen + "').hidden"
	for range 5 { // what comes in meanwhile may move the page under the pointer
		p.Press("nav a[href='#" + screen + "']")
		for begun := time.Now(); time.Since(begun) < 5*time.Second; time.Sleep(10 * time.Millisecond) {
			if browsertest.Value[bool](p.Tab, shown) {
				return
			}
		}
	}
	p.Wait(shown)
}

// field is the selector of the blank of a key.
func keyField(key string) string { return `[data-key="` + key + `"]` }

// drop drops files on the page, by name and content.
func (p *onPage) drop(files ...string) {
	p.t.Helper()
	list, err := json.Marshal(files)
	if err != nil {
		p.t.Fatal(err)
	}
	p.text(fmt.Sprintf(`(() => {
		const files = %s, carried = new DataTransfer();
		for (let i = 0; i < files.length; i += 2) carried.items.add(new File([files[i + 1]], files[i]));
		for (const type of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(type, { dataTransfer: carried, bubbles: true, cancelable: true }));
		return "";
	})()`, list))
}

// picture looks at a screen at the sizes of a phone and a laptop, in both
// themes: takes pictures of it, and lets axe-core look for barriers. It holds
// the page to the width of the narrowest phone.
func (p *onPage) picture(name string) {
	p.t.Helper()
	const narrow = 320 // CSS pixels: what pages must fit into, WCAG 2.2, 1.4.10
	p.Screen(narrow, 640, "light")
	if wide := browsertest.Value[int](p.Tab, "document.documentElement.scrollWidth"); wide > narrow {
		p.t.Errorf("%s is %d pixels wide on a screen of %d: %s", name, wide, narrow, p.text(`
			[...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 5).map((e) => e.tagName + "." + e.className).join(" ")`))
	}
	for _, size := range []struct {
		name          string
		width, height int64
	}{{"phone", 390, 844}, {"laptop", 1280, 800}} {
		for _, theme := range []string{"light", "dark"} {
			p.Screen(size.width, size.height, theme)
			p.Shot(*shots, fmt.Sprintf("%s-%s-%s", name, size.name, theme), false)
			if (size.name == "phone") == (theme == "dark") { // each size and each theme once
				p.Axe(fmt.Sprintf("%s, %s, %s", name, size.name, theme))
			}
		}
	}
	p.Screen(1280, 800, "light")
}

// servedPage serves the page on a loopback address and opens it.
func servedPage(t testing.TB) *onPage {
	t.Helper()
	server := httptest.NewServer(http.FileServer(http.Dir(pageSite(t))))
	t.Cleanup(server.Close)
	return openPage(t, server.URL+"/", server.URL+"/", "blob:"+server.URL+"/")
}

// TestPage drives the whole job in a browser, as someone does who never opens
// a terminal.
func TestPage(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.picture("ride")

	// A change of a target is answered as the program answers it.
	first := p.shown("#status-text b")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "30") })
	if now := p.shown("#status-text b"); now == first || !strings.HasSuffix(now, " builds do it") {
		t.Errorf("with another top speed %q, before it %q", now, first)
	}
	if !strings.Contains(p.text("document.getElementById('sentences').innerText"), " more build") {
		t.Error("no sentence says what its wishes cost")
	}
	p.goTo("builds")
	p.picture("builds")
	p.Press("#as-json")
	want := answerTo(context.Background(), "rank --format json --quiet --top-speed 30km/h")
	if d := cmp.Diff(want.stdout, p.save("builds.json")); d != "" {
		t.Errorf("the page answers otherwise than the program (-program +page):\n%s", d)
	}
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('#list tbody[data-number]').length"); n != ask.DefaultTop {
		t.Errorf("%d builds are shown, want %d", n, ask.DefaultTop)
	}

	// A figure explains itself; the build is saved as the program saves it.
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press(".card .figures > summary")
	p.Press("[data-figure='top_speed_kmh'] summary")
	figure, _ := constraints.FigureNamed("top_speed_kmh")
	for _, part := range []string{figure.Meaning, figure.Formula, figure.Source} {
		if !strings.Contains(p.text("document.querySelector('[data-figure=top_speed_kmh]').innerText"), part) {
			t.Errorf("the top speed is not explained by %q", part)
		}
	}
	p.picture("sheet")
	p.Press("#list .card .save")
	build := filepath.Join(t.TempDir(), "build.toml")
	if err := os.WriteFile(build, []byte(p.save("build.toml")), 0o600); err != nil {
		t.Fatal(err)
	}
	if r := answerTo(context.Background(), "sheet --quiet --top-speed 30km/h "+build); r.code != outcome.ExitAnswered {
		t.Errorf("the program says of the saved build: exit code %d, %s", r.code, r.stderr)
	}

	// A decimal comma is understood, here and by the arrow keys.
	p.goTo("ride")
	p.change(func() { p.Type(keyField("target.top_speed_kmh"), "30,5") })
	if p.text("document.querySelectorAll('[aria-invalid]').length.toString()") != "0" {
		t.Error("30,5 is not understood")
	}
	p.change(func() { p.Do(chromedp.KeyEvent(kb.ArrowDown)) })
	if got := p.text("document.activeElement.value"); got != "30,4" {
		t.Errorf("an arrow key makes 30,5 %q", got)
	}

	// A mistake in the brief is said where it stands, and the last answer stays.
	p.goTo("ride")
	p.Type(keyField("target.climb_grade_pct"), "400")
	p.Wait("document.querySelector('" + keyField("target.climb_grade_pct") + "[aria-invalid]')")
	if says := p.text("document.querySelector('#sentences').innerText"); !strings.Contains(says, "climb_grade_pct is 400, must be 0 to 200 %") {
		t.Errorf("of a grade of 400 %% the page says\n%s", says)
	}
	p.picture("mistake")
	p.change(func() { p.Type(keyField("target.climb_grade_pct"), "8.5deg") })
	if p.text("document.querySelectorAll('[aria-invalid]').length.toString()") != "0" {
		t.Error("a field is marked wrong that is right")
	}
}

// TestPageTakesCatalogs drops files on the page.
func TestPageTakesCatalogs(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	good, err := os.ReadFile("testdata/shop/parts.toml")
	if err != nil {
		t.Fatal(err)
	}
	before := p.shown("#status-text b")

	// One with mistakes: they are shown as the program prints them.
	bad := bytes.Replace(good, []byte("kv = "), []byte("kvv = "), 1)
	p.drop("parts.toml", string(bad))
	p.Wait("document.querySelector('#file-problems pre')")
	_, err = catalog.Read(field.Source{Name: "parts.toml", Data: bad})
	if err == nil {
		t.Fatal("nothing is wrong with the file")
	}
	if d := cmp.Diff(err.Error(), p.shown("#file-problems pre")); d != "" {
		t.Errorf("the page shows the mistakes otherwise than the program (-program +page):\n%s", d)
	}
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("a file with mistakes changes the answer from %q to %q", before, now)
	}
	p.picture("mistakes")

	// The same put right: its builds.
	p.goTo("ride")
	p.Wait("document.getElementById('begin')")
	p.change(func() { p.choose("#begin", "nothing"); p.Type(keyField("target.top_speed_kmh"), "25") })
	p.change(func() { p.drop("parts.toml", string(good)) })
	p.goTo("builds")
	p.Press("#as-json")
	want := answerTo(context.Background(), "rank --format json --quiet --top-speed 25km/h --catalog testdata/shop/parts.toml")
	if d := cmp.Diff(unplaced(want.stdout), unplaced(p.save("builds.json"))); d != "" {
		t.Errorf("of the dropped catalog the page says something else (-program +page):\n%s", d)
	}

	// A brief fills the blanks, a build has its sheet, and names stay text.
	p.change(func() {
		p.drop("my.toml", "schema = 1\n[target]\ntop_speed_kmh = 22\nrange_km = 9\n[limit]\ndemote = [\"price\", \"range\"]\nprice = 5000\n")
	})
	if got := p.text("document.querySelector('" + keyField("target.range_km") + "').value"); got != "9" {
		t.Errorf("the brief says 9 km, the blank %q", got)
	}
	hostile := strings.Replace(string(good), "[[motor]]\n", "[[motor]]\nname = \"<img src=x onerror=alert(1)><b>bold</b>\"\nnote = \"</p><script>alert(2)</script>\"\nlink = \"javascript:alert(3)\"\n", 1)
	p.change(func() { p.drop("parts.toml", withoutNames(hostile)) })
	p.goTo("builds")
	p.Wait("document.querySelector('#list .look')")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	for _, name := range []string{"curves", "vary"} {
		p.Press("[data-unfold=" + name + "] summary")
		p.Wait("document.querySelector('[data-unfold=" + name + "] [data-done]')")
	}
	p.Press("#report")
	if report := p.save("shortlist.html"); strings.Contains(report, "<img") || strings.Contains(report, "alert(2)</script>") ||
		strings.Contains(report, `href="javascript`) || !strings.Contains(report, "&lt;img src=x onerror=alert(1)&gt;") {
		t.Error("the report of the catalog has its names as markup, or not at all")
	}
	p.goTo("parts")
	p.Wait("document.querySelector('tr.part')")
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('bdi *, img, script:not([src]), a[href^=\"javascript\" i]').length"); n != 0 {
		t.Errorf("%d elements are made of what a catalog says", n)
	}
	if !strings.Contains(p.text("document.getElementById('shelves').innerText"), "<img src=x onerror=alert(1)><b>bold</b>") {
		t.Error("the name is not shown as it is")
	}
	p.picture("own-parts")

	// A file's own name is text too, and writing that runs the other way is
	// refused and shown by its number.
	p.drop("<img src=x onerror=alert(4)>.toml", "schema = 1\ntitle = \"a\u202eb\"\n")
	p.Wait("document.querySelector('#file-problems pre')")
	says := p.shown("#file-problems pre")
	if !strings.Contains(says, "<img src=x onerror=alert(4)>.toml:2:") || !strings.Contains(says, "U+202E") || strings.Contains(says, "\u202e") {
		t.Errorf("of a title that runs the other way the page says\n%s", says)
	}
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('img').length"); n != 0 {
		t.Errorf("%d elements are made of a file's name", n)
	}
}

// choose chooses an option of a select.
func (p *onPage) choose(selector, value string) {
	p.t.Helper()
	p.text(fmt.Sprintf(`(() => {
		const select = document.querySelector(%q);
		select.value = %q;
		select.dispatchEvent(new Event("change", { bubbles: true }));
		return "";
	})()`, selector, value))
}

// unplaced is an answer without the names of its files, which on a page have no
// folders.
func unplaced(answer string) string {
	return strings.ReplaceAll(answer, "testdata/shop/", "")
}

// withoutNames takes the lines out of a catalog that would name its first
// motor a second time.
func withoutNames(text string) string {
	head, rest, _ := strings.Cut(text, "link = \"javascript:alert(3)\"\n")
	first, others, _ := strings.Cut(rest, "\n[[")
	var kept []string
	for _, line := range strings.Split(first, "\n") {
		if !strings.HasPrefix(line, "name") && !strings.HasPrefix(line, "note") && !strings.HasPrefix(line, "link") {
			kept = append(kept, line)
		}
	}
	return head + "link = \"javascript:alert(3)\"\n" + strings.Join(kept, "\n") + "\n[[" + others
}

// TestPageDoesNotFreeze drops a catalog whose search takes minutes: the page
// goes on, and a newer question ends the search.
func TestPageDoesNotFreeze(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	huge, err := os.ReadFile("testdata/shop/huge.toml")
	if err != nil {
		t.Fatal(err)
	}
	p.choose("#begin", "nothing")
	p.Type(keyField("target.top_speed_kmh"), "10")
	p.Wait(pageReady)
	p.drop("huge.toml", string(huge))
	p.Wait(pageBusy)
	p.goTo("ride")
	// While it is busy, a hundred turns of the page's own loop, one after the
	// other, are over at once.
	if ms := browsertest.Value[float64](p.Tab, `(async () => {
		const begun = performance.now();
		for (let i = 0; i < 100; i++) await new Promise((turn) => { const c = new MessageChannel(); c.port1.onmessage = turn; c.port2.postMessage(0); });
		return performance.now() - begun;
	})()`); ms > 2000 {
		t.Errorf("the page is held up for %.0f ms", ms)
	}
	if !browsertest.Value[bool](p.Tab, pageBusy) {
		t.Error("the page is not busy any more, or does not say so")
	}
	// A report of it can be stopped. The best so far are said to be that above its button,
	// once, which moves it.
	p.goTo("builds")
	p.Wait("document.body.dataset.ranking === 'partial'")
	p.Press("#report")
	p.Press("#report-stop")
	p.Wait("document.getElementById('report-says').textContent.startsWith('Stopped')")
	p.goTo("parts")
	p.picture("busy")
	p.change(func() { p.Press("[aria-label='remove huge.toml']") })
	if now := p.shown("#status-text b"); !strings.HasSuffix(now, " builds do it") {
		t.Errorf("with the demo parts again: %q", now)
	}
	p.goTo("builds")
	p.Press("#report")
	if report := p.save("shortlist.html"); !strings.Contains(report, "<title>Shortlist: 20 of ") {
		t.Errorf("after a stop the report is %.100q", report)
	}
}

// TestPageGivesWay asks for what nothing does, and takes what the page offers.
func TestPageGivesWay(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.change(func() { p.Press("#verdict input[type=checkbox]") })
	p.goTo("ride")
	p.change(func() { p.Type(keyField("target.range_km"), "120") })
	if says := p.shown("#status-text b"); says != "Nothing does it" {
		t.Fatalf("120 km: %q", says)
	}
	p.goTo("builds")
	p.Wait("document.querySelector('#give button')")
	if says := p.text("document.getElementById('verdict').innerText"); !strings.Contains(says, "The nearest build misses: ") {
		t.Errorf("what is missed is not said:\n%s", says)
	}
	// Arrows lead to what the list says, on the axes that the reader chooses.
	drawn := func() []int {
		return browsertest.Value[[]int](p.Tab, `[".gives > li", ".pick", ".arrow", ".near", ".wish"].map((x) => document.querySelectorAll("#give " + x).length)`)
	}
	if n := drawn(); n[0] == 0 || n[1] == 0 || n[2] != n[1] || n[3] != 1 || n[4] == 0 {
		t.Errorf("concessions, dots, arrows, nearest builds and wishes: %v", n)
	}
	p.choose("#give-y", "mass_kg")
	p.Wait("[...document.querySelectorAll('#give svg text')].some((x) => x.textContent.startsWith('mass, kg'))")
	if n := drawn(); n[0] == 0 || n[1] == 0 || n[3] != 1 {
		t.Errorf("on other axes: %v", n)
	}
	p.picture("nothing")
	p.Press("#give .look-at") // what a concession opens passes everything
	p.Wait("document.querySelector('#give .card')")
	if n := browsertest.Value[int](p.Tab, "[...document.querySelectorAll('#give .margins tbody tr')].filter((row) => row.cells[4].textContent.startsWith('−')).length"); n != 0 {
		t.Errorf("the build that a concession opens fails %d checks", n)
	}
	p.picture("opened")
	p.change(func() { p.Press("#give .take") })
	if n := browsertest.Value[int](p.Tab, "document.querySelectorAll('#list tbody[data-number]').length"); n == 0 {
		t.Error("giving way opens nothing")
	}

	// A part is set aside and taken back.
	p.goTo("parts")
	p.Wait("document.querySelector('tr.part .face')")
	id := p.shown("tr.part .face .id")
	p.change(func() { p.Press("tr.part .face") })
	if p.text("document.querySelector('tr.part .face').getAttribute('aria-pressed')") != "false" {
		t.Errorf("%s is not set aside", id)
	}
	p.picture("aside")
	p.change(func() { p.Press(".limits button") })
	if p.text("document.querySelector('tr.part .face').getAttribute('aria-pressed')") != "true" {
		t.Errorf("%s is not taken back", id)
	}
}

// TestPageByKeyboard uses no mouse.
func TestPageByKeyboard(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	tab := func(until string) {
		t.Helper()
		const most = 150
		for range most {
			p.Do(chromedp.KeyEvent(kb.Tab))
			if browsertest.Value[bool](p.Tab, "document.activeElement.matches("+fmt.Sprintf("%q", until)+")") {
				return
			}
		}
		t.Fatalf("the tabulator key does not come to %s", until)
	}
	tab(keyField("target.top_speed_kmh"))
	p.change(func() { p.Do(chromedp.KeyEvent(kb.ArrowDown)) })
	if got := p.text("document.activeElement.value"); got != "31" {
		t.Errorf("an arrow key makes %q of 32 km/h, want 31", got)
	}
	p.text("(document.activeElement.blur(), scrollTo(0, 0), '')")
	tab("nav a[href='#builds']")
	p.Do(chromedp.KeyEvent(kb.Enter))
	p.Wait("document.activeElement.id === 'builds-title'")
	tab("#list .look")
	p.Do(chromedp.KeyEvent(kb.Enter))
	p.Wait("document.querySelector('#list .card')")
	tab(".card .figures > summary")
	p.Do(chromedp.KeyEvent(kb.Enter))
	tab(".figure summary")
	p.Do(chromedp.KeyEvent(kb.Enter))
	p.Wait("document.querySelector('.figure[open]')")
}

// TestPageFromDisk opens the page as a file, without a server.
func TestPageFromDisk(t *testing.T) {
	t.Parallel()
	address := "file://" + filepath.ToSlash(pageSite(t)) + "/"
	p := openPage(t, address+site.IndexName, address, "blob:null/")
	before := p.shown("#status-text b")
	p.change(func() { p.Type(keyField("limit.price"), "1000") })
	if now := p.shown("#status-text b"); now == before {
		t.Errorf("another price limit changes nothing: %q", now)
	}
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("[data-unfold=curves] summary")
	p.Wait("document.querySelector('.curves[data-done] svg')") // its engine comes from the disk too
	before = p.shown("#status-text b")
	p.reload()
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("after a reload %q, before it %q", now, before)
	}
}

// BenchmarkPageChange measures how long the page takes to answer a change of
// the demo's first brief: to the new ranking, and to the counts as well.
func BenchmarkPageChange(b *testing.B) {
	p := servedPage(b)
	speeds := []string{"33", "34"}
	var first, all float64
	n := 0
	for b.Loop() {
		n++
		p.change(func() { p.Type(keyField("target.top_speed_kmh"), speeds[n%2]) })
		first += browsertest.Value[float64](p.Tab, "Number(document.body.dataset.first)")
		all += browsertest.Value[float64](p.Tab, "Number(document.body.dataset.took)")
	}
	b.ReportMetric(first/float64(n), "ms-to-ranking")
	b.ReportMetric(all/float64(n), "ms-to-counts")
	b.ReportMetric(0, "ns/op") // of the test's own typing too
}
