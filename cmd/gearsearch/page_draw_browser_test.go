package main

import (
	"context"
	"encoding/json"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// TestPageDraws opens the curves of a build, and holds every text in them to
// that of the drawings that the program makes of the same build.
func TestPageDraws(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("[data-unfold=curves] summary")
	p.Wait("document.querySelector('.curves[data-done]')")
	dir := t.TempDir()
	if r := answerTo(context.Background(), "rank --quiet --top 1 --save 1="+dir+"/build.toml"); r.code != outcome.ExitAnswered {
		t.Fatal(r.stderr)
	}
	texts := browsertest.Value[[][]string](p.Tab, "[...document.querySelectorAll('.curve svg')].map(svg => [...svg.querySelectorAll('text')].map(x => x.textContent))")
	kinds := []string{"thrust", "stop", "cruise", "stops", "teeth", "climb", "heat", "launch", "sensitivity", "layout"}
	drawn := 0
	for _, kind := range kinds {
		r := answerTo(context.Background(), "plot "+dir+"/build.toml "+kind+" --quiet")
		if _, why, missing := strings.Cut(r.stderr, kind+" cannot be drawn: "); missing {
			why, _, _ = strings.Cut(why, "\n")
			if says := p.text("document.querySelector('.curves').textContent"); !strings.Contains(says, "No drawing of "+kind+": "+why) {
				t.Errorf("the page does not say why %s is not drawn: %s", kind, why)
			}
			continue
		}
		if r.code != outcome.ExitAnswered {
			t.Fatal(r.stderr)
		}
		if drawn == len(texts) {
			t.Fatalf("only %d drawings", drawn)
		}
		var want []string
		for _, m := range regexp.MustCompile(`<text [^>]*>([^<]*)</text>`).FindAllStringSubmatch(r.stdout, -1) {
			want = append(want, html.UnescapeString(m[1]))
		}
		const heading = 2 // title and build, which the page has in its own text
		if d := cmp.Diff(want[heading:], texts[drawn]); d != "" {
			t.Errorf("%s is drawn otherwise than by the program (-program +page):\n%s", kind, d)
		}
		drawn++
	}
	if drawn != len(texts) {
		t.Errorf("%d drawings, want %d", len(texts), drawn)
	}
	p.text("(document.querySelector('[data-unfold=curves]').scrollIntoView(), '')")
	p.picture("curves")
	p.Press("[data-unfold=curves] summary")

	// What becomes of the build when parts and rider vary is the program's too,
	// and follows the fine print.
	p.Press("[data-unfold=vary] summary")
	p.Wait("document.querySelector('[data-unfold=vary] [data-done]')")
	var sheet struct{ Tolerance struct{ Share float64 } }
	r := answerTo(context.Background(), "sheet --quiet --tolerance --format json "+dir+"/build.toml")
	if err := json.Unmarshal([]byte(r.stdout), &sheet); err != nil || sheet.Tolerance.Share <= 0 || sheet.Tolerance.Share >= 1 {
		t.Fatalf("the program gives the share %g, %v", sheet.Tolerance.Share, err)
	}
	share := func() float64 {
		return browsertest.Value[float64](p.Tab, `parseFloat(document.querySelector('[data-unfold=vary] b').textContent.replace(/^\D+/, ""))`)
	}
	first := share()
	if d := first - 100*sheet.Tolerance.Share; d < -1 || d > 1 { // it may say "above 99 %"
		t.Errorf("the page says %g %%, the program %g", first, 100*sheet.Tolerance.Share)
	}
	p.picture("vary")
	p.goTo("ride")
	p.Press("#fine summary")
	p.change(func() { p.Type(keyField("tolerance.kv_pct"), "40") })
	p.picture("fine")
	p.goTo("builds")
	p.Wait("document.querySelector('[data-unfold=vary] [data-done]')")
	if now := share(); now >= first {
		t.Errorf("with kv 40 %% to either side it passes in %g %%, before in %g", now, first)
	}
}

// TestPageMakesTheReport saves the shortlist as a file: it is the program's own
// report, but for the lines that tell how it was made; and it opens.
func TestPageMakesTheReport(t *testing.T) {
	t.Parallel()
	p := servedPage(t)
	p.goTo("builds")
	p.Press("#report")
	got := p.save("shortlist.html")
	p.Wait("document.getElementById('report-says').textContent.startsWith('Saved')")
	p.picture("reported")
	date := regexp.MustCompile(`Made (\d{4}-\d\d-\d\d)`).FindStringSubmatch(got)
	if date == nil {
		t.Fatal("the report has no date")
	}
	r := answerTo(context.Background(), "report --quiet --brief demo:harbour --top 20 --date "+date[1])
	if r.code != outcome.ExitAnswered {
		t.Fatal(r.stderr)
	}
	// Where they come from differs.
	origin := regexp.MustCompile(`(?s)<p>Made [^<]*:</p>.*?</section>|"command":"[^"]*"`)
	if a, b := origin.ReplaceAllString(r.stdout, ""), origin.ReplaceAllString(got, ""); a != b {
		t.Errorf("the page's report is another than the program's (-program +page):\n%s", firstDifference(a, b))
	}
	if !strings.Contains(got, "gearsearch report --top 20 --date ") {
		t.Error("the report does not say how a terminal makes it")
	}
}

// firstDifference is the first line in which two texts differ.
func firstDifference(a, b string) string {
	one, other := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(one), len(other)) {
		if one[i] != other[i] {
			return "-" + one[i] + "\n+" + other[i]
		}
	}
	return "one goes on where the other ends"
}
