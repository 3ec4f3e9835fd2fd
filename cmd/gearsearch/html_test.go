package main

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
)

// htmlWords are the letters and digits of a fragment in their order, but for those
// that are only read to people, and the names of its elements.
func htmlWords(t *testing.T, fragment string) (words string, elements map[string]int) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader("<body>" + fragment + "</body>"))
	elements = map[string]int{}
	hidden := 0 // how deep inside what is hidden
	var b strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return spoken(b.String()), elements
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, fragment)
		}
		switch x := token.(type) {
		case xml.StartElement:
			elements[x.Name.Local]++
			for _, a := range x.Attr {
				if a.Name.Local == "class" && a.Value == "hidden" || hidden > 0 {
					hidden++
				}
			}
		case xml.EndElement:
			hidden = max(hidden-1, 0)
		case xml.CharData:
			if hidden == 0 {
				b.Write(x)
			}
		}
	}
}

// spoken are the letters and digits of a text.
func spoken(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, text)
}

// TestHTMLSaysWhatMarkdownSays: each answer is a fragment of a page too, with the words
// of its Markdown, in their order.
func TestHTMLSaysWhatMarkdownSays(t *testing.T) {
	t.Chdir(t.TempDir())
	if r := answerTo(context.Background(), "rank --quiet --top 1 --save 1=build.toml"); r.code != 0 {
		t.Fatal(r.stderr)
	}
	for _, tt := range []struct {
		line string
		code int
		has  string // what it must have: an element
	}{
		{"rank", 0, "table"},
		{"rank --chart teeth", 0, "table"},
		{"rank --stability --draws 40 --top 2", 0, "table"},
		{"rank --share battery --brief demo:harbour --brief demo:harbour", 0, "table"},
		{"sheet build.toml --why", 0, "dl"},
		{"parts build.toml", 0, "table"},
		{"swap build.toml --change wheel --all", 0, "table"},
		{"vary build.toml --kv 150 --series 11", 0, "table"},
		{"vary --kv 150 --series 11 --teeth 14:48 --wheel-size 120mm", 0, "table"},
		{"shortlist motor", 0, "table"},
		{"relax --set target.range_km=300", 0, "table"},
		{"ideal", 0, "li"},
		{"catalog check demo", 0, "p"},
		{"catalog show motor", 0, "table"},
	} {
		md := answerTo(context.Background(), tt.line+" --quiet --format markdown")
		got := answerTo(context.Background(), tt.line+" --quiet --format html")
		if got.code != tt.code || md.code != tt.code {
			t.Errorf("%s: exit codes %d and %d, want %d: %s", tt.line, got.code, md.code, tt.code, got.stderr)
			continue
		}
		words, elements := htmlWords(t, got.stdout)
		if elements[tt.has] == 0 {
			t.Errorf("%s: no %s in\n%s", tt.line, tt.has, got.stdout)
		}
		plain := regexp.MustCompile(`(?m)^\|[ :|-]+\|$`).ReplaceAllString(md.stdout, "") // the rule under titles
		if d := cmp.Diff(spoken(plain), words); d != "" {
			t.Errorf("%s says otherwise in HTML than in Markdown:\n%s", tt.line, d)
		}
	}
}
