package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// pageOf writes the page of a command line and returns its address.
func pageOf(t *testing.T, line string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	r := answerTo(context.Background(), "report --quiet --date 2025-11-25 -o "+file+" "+line)
	if r.code != outcome.ExitAnswered && r.code != outcome.ExitInfeasible {
		t.Fatalf("report %s: exit code %d: %s", line, r.code, r.stderr)
	}
	return "file://" + file
}

// open opens a page in a browser of its own.
func open(t *testing.T, address string) *browsertest.Tab {
	t.Helper()
	b := browserFor(t)
	b.Screen(1280, 900, "light")
	b.Do(chromedp.Navigate(address))
	return b
}

// browserFor starts a browser for tests that are not short.
func browserFor(t *testing.T) *browsertest.Tab {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	return browsertest.Open(t)
}

// order is what the page lists, by the numbers of builds.
func order(b *browsertest.Tab) []int {
	return browsertest.Value[[]int](b, `[...document.querySelectorAll('table.builds tbody')].filter(x => !x.hidden).map(x => Number(x.dataset.number))`)
}

// TestReportInBrowser opens a page and uses all of it.
func TestReportInBrowser(t *testing.T) {
	t.Parallel()
	address := pageOf(t, "--top 200 --apart none"+shop)
	b := open(t, address)
	count := len(order(b))
	if count != 106 {
		t.Fatalf("%d builds on the page", count)
	}
	var first []int
	for i := range count {
		first = append(first, i+1)
	}
	if got := order(b); !slices.Equal(got, first) {
		t.Errorf("the page opens with %v", got)
	}
	sortsInBrowser(t, b)
	siftsInBrowser(t, b)
	pinsInBrowser(t, b)

	browsertest.Value[bool](b, `document.querySelector('.weights').open = true`)
	reweigh(b, map[int]string{0: "9.5"})
	if text := browsertest.Value[string](b, `document.querySelector('.command').textContent`); !strings.HasSuffix(text, " --weight speed=9.5") {
		t.Errorf("the command is %q", text)
	}
	b.Press(".reset")
	if got := order(b); !slices.Equal(got, first) {
		t.Errorf("back at the brief's weights the page lists %v", got)
	}
	if got := b.Complaints(); len(got) > 0 {
		t.Errorf("the page complains: %q", got)
	}
	if got := b.AskedOutside(address, "data:,"); len(got) > 0 {
		t.Errorf("the page asked for %q", got)
	}
}

// sortsInBrowser sorts by each column, both ways, by keyboard.
func sortsInBrowser(t *testing.T, b *browsertest.Tab) {
	t.Helper()
	keys := browsertest.Value[[]string](b, `[...document.querySelectorAll('table.builds thead [data-key]')].map(x => x.dataset.key)`)
	for i, key := range keys {
		for range 2 {
			b.Do(chromedp.Focus(chromedp.CSS("table.builds thead [data-key='"+key+"'] button")), chromedp.KeyEvent("\r"))
			values := browsertest.Value[[]float64](b, fmt.Sprintf(`[...document.querySelectorAll('table.builds tbody')].map(x => {
				const cell = [x.querySelector('[data-place]'), ...x.querySelectorAll('.numbers td:not(.pin):not(.strip)')][%d];
				const text = cell.dataset.v ?? cell.textContent;
				return text === '' ? -1e9 : Number(text);
			})`, i))
			known := slices.DeleteFunc(slices.Clone(values), func(x float64) bool { return x == -1e9 })
			sorted := browsertest.Value[string](b, "document.querySelector('[aria-sort]').dataset.key + ' ' + document.querySelector('[aria-sort]').ariaSort")
			falling := slices.Clone(known)
			slices.Reverse(falling)
			rising := sorted == key+" ascending"
			if rising && !slices.IsSorted(known) || !rising && (sorted != key+" descending" || !slices.IsSorted(falling)) {
				t.Errorf("sorted by %s (%s): %v", key, sorted, values)
			}
			if !slices.Equal(values[:len(known)], known) {
				t.Errorf("sorted by %s: what is not known is not last: %v", key, values)
			}
		}
	}
	b.Press("table.builds thead [data-key='place'] button")
}

// siftsInBrowser filters the table.
func siftsInBrowser(t *testing.T, b *browsertest.Tab) {
	t.Helper()
	all := len(order(b))
	b.Type("#filter", "POND-190 disc-97")
	some := order(b)
	if len(some) == 0 || len(some) >= all {
		t.Errorf("%d of %d builds with two parts", len(some), all)
	}
	for _, text := range browsertest.Value[[]string](b, `[...document.querySelectorAll('table.builds tbody')].filter(x => !x.hidden).map(x => x.dataset.find)`) {
		if !strings.Contains(text, "pond-190") || !strings.Contains(text, "disc-97") {
			t.Errorf("the filter leaves %q", text)
		}
	}
	if said := browsertest.Value[string](b, "document.querySelector('.found').textContent"); !strings.HasPrefix(said, fmt.Sprintf("%d of %d builds", len(some), all)) {
		t.Errorf("the page says %q", said)
	}
	b.Type("#filter", "no such part")
	if got := order(b); len(got) != 0 {
		t.Errorf("nothing is %v", got)
	}
	b.Type("#filter", " ")
	b.Press("#roomy")
	roomy := order(b)
	for _, text := range browsertest.Value[[]string](b, `[...document.querySelectorAll('table.builds tbody')].filter(x => !x.hidden).map(x => x.querySelector('.tight').textContent)`) {
		if strings.ContainsAny(text, "!?") {
			t.Errorf("not thin is %q", text)
		}
	}
	if len(roomy) == 0 || len(roomy) >= all {
		t.Errorf("%d of %d builds are not thin", len(roomy), all)
	}
	b.Press("#roomy")
	if got := len(order(b)); got != all {
		t.Errorf("without a filter there are %d of %d", got, all)
	}
}

// pinsInBrowser puts builds side by side.
func pinsInBrowser(t *testing.T, b *browsertest.Tab) {
	t.Helper()
	for _, n := range []int{2, 5, 9, 12} {
		b.Press(fmt.Sprintf("table.builds tbody[data-number='%d'] .pin input", n))
	}
	heads := browsertest.Value[[]string](b, `[...document.querySelectorAll('.beside thead th')].map(x => x.textContent)`)
	if !slices.Equal(heads, []string{"No. 2", "No. 5", "No. 9", "No. 12"}) {
		t.Errorf("side by side are %q", heads)
	}
	if free := browsertest.Value[int](b, `document.querySelectorAll('table.builds .pin input:not(:disabled)').length`); free != 4 {
		t.Errorf("%d boxes can be ticked", free)
	}
	price := browsertest.Value[[]string](b, `[...document.querySelectorAll('.beside tbody tr')].filter(x => x.cells[0].textContent === 'price, EUR').flatMap(x => [...x.cells].slice(1).map(c => c.textContent + c.className))`)
	wanted := browsertest.Value[[]string](b, `[2, 5, 9, 12].map(n => document.querySelector("table.builds tbody[data-number='" + n + "'] td[data-v]:nth-last-of-type(4)").dataset.v)`)
	least := slices.Min(asNumbers(t, wanted))
	for i, text := range price {
		digits := strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(text, "\u202f", ""), "best"), " best")
		if x, _ := strconv.ParseFloat(digits, 64); (x == least) != strings.HasSuffix(text, "best") || x != asNumbers(t, wanted)[i] {
			t.Errorf("the price of the %d. is %q, wanted %v", i+1, text, wanted)
		}
	}
	for _, n := range []int{2, 5, 9, 12} {
		b.Press(fmt.Sprintf("table.builds tbody[data-number='%d'] .pin input", n))
	}
	if !browsertest.Value[bool](b, "document.querySelector('.bench').hidden") {
		t.Error("nothing side by side is still shown")
	}
}

func asNumbers(t *testing.T, texts []string) []float64 {
	t.Helper()
	var out []float64
	for _, s := range texts {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x)
	}
	return out
}

// listing is what the page lists after weights have been moved.
type listing struct {
	Weights []string // where the sliders stand: a slider keeps to its steps
	Order   []int
	Scores  []float64
}

// reweigh moves sliders.
func reweigh(b *browsertest.Tab, values map[int]string) listing {
	moves, _ := json.Marshal(values)
	return browsertest.Value[listing](b, `new Promise(done => {
		for (const [i, v] of Object.entries(`+string(moves)+`)) {
			const slider = document.getElementById('w' + i);
			slider.value = v;
			slider.dispatchEvent(new Event('input', {bubbles: true}));
		}
		requestAnimationFrame(() => {
			const rows = [...document.querySelectorAll('table.builds tbody')];
			done({
				Weights: [...document.querySelectorAll('.weight input')].map(x => x.value),
				Order: rows.map(x => Number(x.dataset.number)),
				Scores: rows.map(x => Number(x.querySelector('[data-score]').textContent)),
			});
		});
	})`)
}

// TestReportWithoutScripts opens a page of a catalog that would run scripts, in
// a browser that runs none: everything is there to be read, nothing to be used,
// and nothing complains that something was kept from running.
func TestReportWithoutScripts(t *testing.T) {
	t.Parallel()
	const hostile = `schema = 1
[[wheel]]
id = "bad-wheel"
name = "<script>document.title = 'taken'</script><img src=x onerror=\"document.title = 'taken'\">"
note = "</script></style><iframe src='https://parts.example'></iframe>"
link = "javascript:document.title='taken'"
diameter_mm = 97
hub = "spoke"
price = 40
`
	file := filepath.Join(t.TempDir(), "hostile.toml")
	if err := os.WriteFile(file, []byte(hostile), 0o600); err != nil {
		t.Fatal(err)
	}
	address := pageOf(t, "--top 3 --catalog "+file+shop+" --keep wheel=bad-wheel")
	b := browserFor(t)
	for _, scripts := range []bool{true, false} {
		b.Scripts(scripts)
		b.Do(chromedp.Navigate(address))
		if title := browsertest.Value[string](b, "document.title"); !strings.HasPrefix(title, "Shortlist: 3 of ") {
			t.Errorf("the title is %q", title)
		}
		text := browsertest.Value[string](b, "document.body.innerText")
		for _, want := range []string{"What was asked", "bad-wheel", "Room to the limits", "Shopping list", "<script>document.title = 'taken'</script>", "javascript:document.title='taken'", "What was rejected", "Assumed"} {
			if !strings.Contains(text, want) {
				t.Errorf("scripts %v: the page does not show %q", scripts, want)
			}
		}
		if links := browsertest.Value[int](b, "document.querySelectorAll('a[href^=javascript i], img, iframe').length"); links > 0 {
			t.Errorf("%d elements of the catalog's", links)
		}
		used := browsertest.Value[int](b, "[...document.querySelectorAll('input, button')].filter(x => x.getClientRects().length > 0).length")
		if scripts != (used > 0) {
			t.Errorf("scripts %v: %d fields and buttons are shown", scripts, used)
		}
	}
	if got := b.Complaints(); len(got) > 0 {
		t.Errorf("the page complains: %q", got)
	}
	if got := b.AskedOutside(address, "data:,"); len(got) > 0 {
		t.Errorf("the page asked for %q", got)
	}
}

// rankedBuild is what identifies a build of data out.
type rankedBuild struct {
	Score float64
	Parts map[string]any
}

// TestReportRanksAsTheProgram moves the weights at random and holds the page's
// order to that of rank under the same weights, on a catalog of which the page
// holds every feasible build.
func TestReportRanksAsTheProgram(t *testing.T) {
	t.Parallel()
	const trials = 8
	b := browserFor(t)
	b.Screen(1280, 900, "light")
	for _, question := range []string{
		shop,
		shop + " --set target.launch_speed_kmh=15 --set target.launch_s=4 --erpm-ceiling 120000",
		" --catalog testdata/shop/parts.toml --top-speed 25km/h",
	} {
		b.Do(chromedp.Navigate(pageOf(t, "--top 2000 --apart none"+question)))
		first := programOrder(t, question, "")
		byParts := map[string]int{}
		for i, r := range first {
			byParts[partsKey(r)] = i + 1
		}
		if got := len(order(b)); got != len(first) {
			t.Fatalf("%d builds on the page, %d ranked", got, len(first))
		}
		names := browsertest.Value[[]string](b, `[...document.querySelectorAll('.weight label')].map(x => x.textContent)`)
		const fewest = 4 // criteria that apply to a top speed alone
		if len(names) < fewest || len(first) < 50 {
			t.Fatalf("%q: only the weights %q and %d builds", question, names, len(first))
		}
		opened, moved := order(b), 0
		random := rand.New(rand.NewPCG(1, uint64(len(first))))
		for trial := range trials {
			values := map[int]string{}
			for i := range names {
				switch random.IntN(4) {
				case 0:
					values[i] = "0"
				case 1:
					values[i] = strconv.Itoa(random.IntN(11))
				default:
					values[i] = fmt.Sprintf("%.1f", 10*random.Float64())
				}
				if trial == 0 {
					values[i] = "0" // no criterion counts: by price alone
				}
			}
			got, flags := reweigh(b, values), ""
			for i, v := range got.Weights {
				flags += " --weight " + names[i] + "=" + v
				if stands := asNumbers(t, []string{v, values[i]}); stands[0] != stands[1] {
					t.Fatalf("the slider of %s stands at %s, not at %s", names[i], v, values[i])
				}
			}
			if !slices.Equal(got.Order, opened) {
				moved++
			}
			ranked := programOrder(t, question, flags)
			if len(ranked) != len(got.Order) {
				t.Fatalf("with%s the page lists %d builds, rank %d", flags, len(got.Order), len(ranked))
			}
			for i, r := range ranked {
				if n := byParts[partsKey(r)]; n != got.Order[i] {
					t.Fatalf("with%s the page has No. %d at place %d, rank has No. %d", flags, got.Order[i], i+1, n)
				}
				if math.Abs(got.Scores[i]-r.Score) > 0.0501 {
					t.Fatalf("with%s the page gives place %d %g, rank %g", flags, i+1, got.Scores[i], r.Score)
				}
			}
		}
		if moved < trials-1 {
			t.Errorf("%q: other weights changed the order in %d of %d trials: nothing is tested", question, moved, trials)
		}
		if got := b.Complaints(); len(got) > 0 {
			t.Errorf("the page complains: %q", got)
		}
	}
}

func partsKey(r rankedBuild) string { return fmt.Sprint(r.Parts) }

// programOrder is the ranking of a question under weights.
func programOrder(t *testing.T, question, flags string) []rankedBuild {
	t.Helper()
	r := answerTo(context.Background(), "rank --quiet --format json --top 0"+question+flags)
	if r.code != outcome.ExitAnswered {
		t.Fatalf("exit code %d: %s", r.code, r.stderr)
	}
	var answer struct{ Builds []rankedBuild }
	if err := json.Unmarshal([]byte(r.stdout), &answer); err != nil {
		t.Fatal(err)
	}
	return answer.Builds
}

// TestReportGivesWay: where nothing is feasible the report draws and lists what to give
// way on, as the page does but for what an engine would have to do.
func TestReportGivesWay(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(strings.TrimPrefix(pageOf(t, "--strict --range 120km"), "file://"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, want := range []string{"What to give way on", "<li data-opening=\"1\">", "class=\"arrow\"", "class=\"wish\"", "opens "} {
		if !strings.Contains(text, want) {
			t.Errorf("the report has no %s", want)
		}
	}
	if strings.Contains(text, "data-live=") {
		t.Error("the report has places for an engine")
	}
	relax := answerTo(t.Context(), "relax --quiet --strict --range 120km").stdout
	to := regexp.MustCompile(`<b>([^<]*)</b>`).FindStringSubmatch(text[strings.Index(text, "data-opening"):])
	if to == nil || !strings.Contains(relax, strings.ReplaceAll(to[1], "\u00a0", " ")) && !strings.Contains(relax, to[1]) {
		t.Errorf("the report gives way to %q, relax says\n%s", to, relax)
	}
}
