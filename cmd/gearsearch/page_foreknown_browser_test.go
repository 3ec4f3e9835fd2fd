package main

import (
	"encoding/json"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/site"
)

// firstQuestions is where the questions stand that the page knows the answers of.
const firstQuestions = "site/first.jsonl"

// hearing has a page note what it asks and what it has engines asked, from its start.
const hearing = `
	globalThis.posted = [];
	const post = Worker.prototype.postMessage;
	Worker.prototype.postMessage = function (message, ...more) {
		if (message.request) posted.push(message.request);
		return post.call(this, message, ...more);
	};
	globalThis.put = [];
	const write = JSON.stringify;
	JSON.stringify = (value, ...more) => {
		if (value && value.ask) put.push(write(value));
		return write(value, ...more);
	};`

// TestPageKnowsItsFirstAnswers opens the page as somebody does who was never there: it
// shows the demo's builds and their number without its engine, and none of those
// questions goes to the engine too. What the engine would have said is the same text.
// The questions follow from the page's scripts: -update writes them.
func TestPageKnowsItsFirstAnswers(t *testing.T) {
	server := httptest.NewServer(&squeezingServer{dir: pageSite(t), sent: map[string]string{}})
	t.Cleanup(server.Close)
	p := &onPage{Tab: browsertest.Open(t), t: t}
	p.Screen(1280, 800, "light")
	p.Before(hearing)
	p.Do(chromedp.Navigate(server.URL + "/"))
	p.Wait(pageReady)

	asked := map[string]bool{}
	first := []string{"start", "catalog", "demo", "rank", "count"}
	is := func(question string) bool {
		var q struct{ Ask string }
		if err := json.Unmarshal([]byte(question), &q); err != nil {
			t.Fatal(err)
		}
		asked[q.Ask] = true
		return slices.Contains(first, q.Ask)
	}
	var questions []string
	for _, q := range browsertest.Value[[]string](p.Tab, "put") {
		if is(q) {
			questions = append(questions, q)
		}
	}
	if want := strings.Join(questions, "\n") + "\n"; *update {
		if err := os.WriteFile(firstQuestions, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if want != site.FirstQuestions {
		t.Errorf("%s is not what the page asks first; with -update it becomes\n%s", firstQuestions, want)
	}
	if len(asked) == len(first) {
		t.Fatal("nothing is asked of the engine: the test hears nothing")
	}
	for _, q := range browsertest.Value[[]string](p.Tab, "posted") {
		if is(q) {
			t.Errorf("the engine is asked what the page knows: %s", q)
		}
	}
	const same = `(async () => {
		for (const [question, reply] of Object.entries(JSON.parse(known))) {
			const own = JSON.stringify(await wire.ask(JSON.parse(question)));
			if (own !== JSON.stringify(JSON.parse(reply))) return question + " is answered with " + own;
		}
		return "";
	})()`
	known, err := site.Foreknown()
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(known)
	if err != nil {
		t.Fatal(err)
	}
	literal, err := json.Marshal(string(text))
	if err != nil {
		t.Fatal(err)
	}
	if other := p.text("((known) => " + same + ")(" + string(literal) + ")"); other != "" {
		t.Errorf("the engine says otherwise: %.500s", other)
	}
}
