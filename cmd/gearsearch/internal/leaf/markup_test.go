package leaf

import (
	"encoding/json"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTreeIsJSON: a tree is the JSON that a general encoder would write, whatever its
// texts are.
func TestTreeIsJSON(t *testing.T) {
	for _, s := range []string{"", "plain", `"quoted" \ <b>&amp;</b>`, "tab\tline\nend", "µ → “é” 漢字 \u2028", string([]byte{'a', 1, 31, 127})} {
		x := el("p", class(s), attr{"data-x", "1"}, text(s), el("b", text(s)), el("", text("a"), text("b")), text("end"))
		got, err := json.Marshal(x)
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		want := []any{"p", map[string]any{"class": plain(s), "data-x": "1"}}
		if s != "" {
			want = append(want, plain(s))
		}
		inner := []any{"b", map[string]any{}}
		if s != "" {
			inner = append(inner, plain(s))
		}
		want = append(want, inner, []any{"", map[string]any{}, "a", "b"}, "end")
		var tree any
		if err := json.Unmarshal(got, &tree); err != nil {
			t.Fatalf("%q is written as %s: %v", s, got, err)
		}
		if d := cmp.Diff(any(want), tree); d != "" {
			t.Errorf("%q: -want +got\n%s", s, d)
		}
	}
}

// bytesOf is how many bytes writing elements of a depth takes.
func bytesOf(t *testing.T, depth int) uint64 {
	t.Helper()
	x := el("p", text("inside"))
	for range depth {
		x = el("div", x)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := json.Marshal(x); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// TestTreeIsWrittenOnce: what is inside is not written anew for each element around it:
// eight times the depth takes about eight times the memory, not sixty-four times.
func TestTreeIsWrittenOnce(t *testing.T) {
	const depth, times, most = 500, 8, 24
	bytesOf(t, depth) // what is set up once
	if few, many := bytesOf(t, depth), bytesOf(t, times*depth); many > most*few {
		t.Errorf("%d elements in one another take %d bytes, %d take %d", depth, few, times*depth, many)
	}
}
