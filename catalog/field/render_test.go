package field

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestRender(t *testing.T) {
	long := strings.Repeat("a", 500)
	tests := []struct {
		why        string
		line       string
		start, end int
		want       string // the line, and below it the caret
	}{
		{"plain", `kv = 0.19`, 5, 9, "kv = 0.19\n     ^^^^"},
		{"empty stretch still has a caret", `kv = `, 5, 5, "kv =\n     ^"},
		{"tab is four columns", "\tkv = 1", 6, 7, "    kv = 1\n         ^"},
		{"wide characters take two columns", "日本 = 1", 9, 10, "日本 = 1\n       ^"},
		{"combining marks take none", "e\u0301 = 1", 6, 7, "e\u0301 = 1\n    ^"},
		{"escape sequence is shown, not sent", "\x1b[2Jx", 4, 5, "\\x1b[2Jx\n       ^"},
		{"override is shown", "a\u202eb", 4, 5, "a\\u202eb\n       ^"},
		{"invalid UTF-8 is shown", "\xff = 1", 0, 1, "\\xff = 1\n^^^^"},
		{"beginning of a long line", long, 0, 1, strings.Repeat("a", 41) + "…\n^"},
		{
			"middle of a long line", long, 200, 201,
			"…" + strings.Repeat("a", 60+1+40) + "…\n" + strings.Repeat(" ", 61) + "^",
		},
		{
			"long stretch", long, 200, 400,
			"…" + strings.Repeat("a", 60+40) + "…\n" + strings.Repeat(" ", 61) + strings.Repeat("^", 40),
		},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			shown, column, width := render([]byte(test.line), test.start, test.end)
			got := shown + "\n" + strings.Repeat(" ", column) + strings.Repeat("^", width)
			if got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}

// Whatever the bytes, what is printed can be printed.
func TestRenderIsPrintable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.SliceOf(rapid.Byte()).Draw(t, "line")
		start := rapid.IntRange(0, len(line)).Draw(t, "start")
		shown, column, width := render(line, start, rapid.IntRange(start, len(line)).Draw(t, "end"))
		if wrong := CheckText(shown); wrong != "" {
			t.Fatalf("printed line %s: %q", wrong, shown)
		}
		if column < 0 || width < 1 {
			t.Fatalf("column %d, width %d", column, width)
		}
	})
}

func TestQuote(t *testing.T) {
	tests := []struct{ s, want string }{
		{"steel", `"steel"`},
		{"a\x1b[31mb", `"a\x1b[31mb"`},
		{"a\u202eb", `"a\u202eb"`},
		{strings.Repeat("é", 61), `"` + strings.Repeat("é", 60) + `"…`},
	}
	for _, test := range tests {
		if got := Quote(test.s); got != test.want {
			t.Errorf("Quote(%q) = %s, want %s", test.s, got, test.want)
		}
	}
}

func TestCheckText(t *testing.T) {
	refused := []string{
		"\x00", "\t", "\n", "\r", "\x1b[31m", "\x7f", "\u0085", "\u009b31m", "\u061c", "\u200e", "\u200f",
		"\u2028", "\u2029", "\u202a", "\u202e", "\u2066", "\u2069", "\ufeff", "\ufffa", "\U000e0041", "\xff", "a\xc3",
		strings.Repeat("a", MaxText+1),
	}
	for _, s := range refused {
		if CheckText(s) == "" || CheckText("name "+s) == "" {
			t.Errorf("CheckText(%q) finds nothing", s)
		}
	}
	for _, s := range []string{"", "Flügelrad 63", "日本", "a\u200db", "50 Ω · 20 °C", "\ufffd", strings.Repeat("a", MaxText)} {
		if wrong := CheckText(s); wrong != "" {
			t.Errorf("CheckText(%q) = %s", s, wrong)
		}
	}
}
