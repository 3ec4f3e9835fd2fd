package add

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// stock is a folder with the catalog to begin with.
func stock(t *testing.T) (file string, before []byte) {
	t.Helper()
	parts, _ := catalog.Starter()
	file = filepath.Join(t.TempDir(), "parts.toml")
	if err := os.WriteFile(file, parts.Data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file, parts.Data
}

// example are the values of a part of a kind, as they are entered.
func example(k catalog.KindInfo) map[string]string {
	out := map[string]string{}
	for _, e := range catalog.Example(k.Name) {
		out[e.Key] = e.TOML
	}
	switch k.Name { // of which the catalog to begin with has none
	case "profile":
		out["pitch_mm"] = "9"
	case "sprocket":
		out["side"], out["profile"], out["teeth"] = "wheel", "chain-06c", "30"
	case "chain":
		out["profile"], out["links"] = "chain-06c", "84"
	}
	out["id"] = "fresh"
	return out
}

// begin opens a part of a kind.
func begin(t *testing.T, k catalog.KindInfo, file string, stderr *bytes.Buffer) *Answer {
	t.Helper()
	a := &Answer{Kind: k, Paths: []string{file}}
	if err := a.Open(t.Context(), &ask.Desk{Stderr: stderr}); err != nil {
		t.Fatal(err)
	}
	return a
}

// grown holds a file to having one part more, behind what it had, with the values
// that were entered.
func grown(t *testing.T, k catalog.KindInfo, file string, before []byte, want map[string]string) {
	t.Helper()
	after, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(after, before) || len(after) == len(before) {
		t.Fatalf("%s: the file had %d bytes, has %d, and does not begin as it did", k.Name, len(before), len(after))
	}
	c, err := catalog.Load([]string{file})
	if err != nil {
		t.Fatalf("%s: %v\n%s", k.Name, err, after[len(before):])
	}
	var b bytes.Buffer
	if err := c.WriteCSV(&b, k.Name); err != nil {
		t.Fatal(err)
	}
	row := ""
	for line := range strings.Lines(b.String()) {
		if strings.HasPrefix(line, "fresh,") {
			row = line
		}
	}
	for key, value := range want {
		if !strings.Contains(row, value) {
			t.Errorf("%s: %s is not %s in %s", k.Name, key, value, row)
		}
	}
}

// TestFlagsOfEveryKind: a part of each kind can be given by flags, all its keys
// that the catalog to begin with has.
func TestFlagsOfEveryKind(t *testing.T) {
	for _, k := range catalog.Kinds() {
		file, before := stock(t)
		want := example(k)
		var given []catalog.Entered
		for key, value := range want {
			in := k.Field(key)
			words := ask.KeyWords(k, in, value)
			_, text, ok := strings.Cut(words, " ")
			if !ok {
				_, text, _ = strings.Cut(words, "=")
			}
			given = append(given, catalog.Entered{Key: key, TOML: strings.Trim(text, "'")})
		}
		a := begin(t, k, file, new(bytes.Buffer))
		if err := a.Set(given); err != nil {
			t.Errorf("%s: %v", k.Name, err)
			continue
		}
		var out bytes.Buffer
		if err := a.Give(t.Context(), &ask.Answer{Format: ask.FormatTable, Stdout: &out}, false); err != nil {
			t.Errorf("%s: %v", k.Name, err)
			continue
		}
		grown(t, k, file, before, want)
	}
}

// TestFlagNames: the flags for the keys of a kind have names of their own.
func TestFlagNames(t *testing.T) {
	for _, k := range catalog.Kinds() {
		seen := map[string]bool{"catalog": true, "quiet": true, "help": true, "version": true}
		for _, f := range ask.KeyFlags(k) {
			if name := f.Names()[0]; seen[name] {
				t.Errorf("%s: two flags are --%s", k.Name, name)
			} else {
				seen[name] = true
			}
		}
	}
}

// TestAskEveryKind: a part of each kind can be told key by key: each is explained
// first, then answered wrongly where it takes a number, then rightly.
func TestAskEveryKind(t *testing.T) {
	for _, k := range catalog.Kinds() {
		file, before := stock(t)
		want := example(k)
		var lines []string
		wrong := 0
		a := begin(t, k, file, new(bytes.Buffer))
		plan := &talk{Answer: &Answer{Kind: k}}
		for _, in := range catalog.EntryKeys(k) {
			if !plan.goes(in.Key) {
				continue
			}
			value, known := want[in.Key]
			lines = append(lines, "?")
			if known && in.Type == field.TypeNumber && in.Unit != "" {
				lines, wrong = append(lines, "1e9"), wrong+1
			}
			lines = append(lines, value)
			if known {
				plan.put(in.Key, "1")
			}
		}
		var shown, out bytes.Buffer
		err := a.Ask(t.Context(), strings.NewReader(strings.Join(lines, "\n")+"\n"), &shown, &ask.Answer{Format: ask.FormatTable, Stdout: &out}, false)
		if err != nil {
			t.Errorf("%s: %v\n%s", k.Name, err, shown.String())
			continue
		}
		if n := strings.Count(shown.String(), ", must be "); n != wrong {
			t.Errorf("%s: %d answers are refused, want %d:\n%s", k.Name, n, wrong, shown.String())
		}
		grown(t, k, file, before, want)
	}
}

// TestAskWithoutEnd: where the input ends, or the run is interrupted, nothing is
// written.
func TestAskWithoutEnd(t *testing.T) {
	motor, _ := catalog.KindNamed("motor")
	file, before := stock(t)
	for _, typed := range []string{"", "\n", "fresh\n130\n", "fresh\n130\n\n\n\n\n\n\n\n8mm\n"} {
		var stderr bytes.Buffer
		a := begin(t, motor, file, &stderr)
		if err := a.Ask(t.Context(), strings.NewReader(typed), new(bytes.Buffer), &ask.Answer{}, false); !errors.Is(err, outcome.ErrInterrupted) {
			t.Errorf("%q: %v", typed, err)
		}
		if stderr.String() != "nothing is written\n" {
			t.Errorf("%q: %s", typed, stderr.String())
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	reader, writer, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()
	defer reader.Close()
	if err := begin(t, motor, file, new(bytes.Buffer)).Ask(ctx, reader, new(bytes.Buffer), &ask.Answer{}, false); !errors.Is(err, outcome.ErrInterrupted) {
		t.Errorf("interrupted: %v", err)
	}
	if after, err := os.ReadFile(file); err != nil || !bytes.Equal(after, before) {
		t.Errorf("the file is another, %v", err)
	}
}

// TestAskAgain: a part that the catalog does not take is asked for again, with
// what is known already; an id that is taken is refused at the question.
func TestAskAgain(t *testing.T) {
	battery, _ := catalog.KindNamed("battery")
	file, before := stock(t)
	own := len(catalog.EntryKeys(battery))
	typed := "ready-10s\nfresh\n10\n" + strings.Repeat("\n", own-2) + // no cell, no volts
		"\n\n\n\n36\n42\n" + strings.Repeat("\n", own-5)
	var shown bytes.Buffer
	a := begin(t, battery, file, new(bytes.Buffer))
	if err := a.Ask(t.Context(), strings.NewReader(typed), &shown, &ask.Answer{Format: ask.FormatTable, Stdout: new(bytes.Buffer)}, true); err != nil {
		t.Fatalf("%v\n%s", err, shown.String())
	}
	for _, text := range []string{`id "ready-10s" is given twice, first at `, "has neither cell nor nominal_v", "series [10]: "} {
		if !strings.Contains(strings.Join(strings.Fields(shown.String()), " "), strings.TrimSpace(text)) {
			t.Errorf("%q is not shown:\n%s", text, shown.String())
		}
	}
	grown(t, battery, file, before, map[string]string{"series": "10", "nominal_v": "36", "full_v": "42"})
}

// TestFileChangedMeanwhile: a file that somebody else has written since it was
// read is left as it is.
func TestFileChangedMeanwhile(t *testing.T) {
	motor, _ := catalog.KindNamed("motor")
	file, _ := stock(t)
	a := begin(t, motor, file, new(bytes.Buffer))
	if err := a.Set([]catalog.Entered{{Key: "kv", TOML: "130"}}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte("schema = 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := a.Give(t.Context(), &ask.Answer{}, true); err == nil || !strings.Contains(err.Error(), "it was changed meanwhile") {
		t.Errorf("%v", err)
	}
	if after, _ := os.ReadFile(file); string(after) != "schema = 1\n" {
		t.Errorf("the file is %s", after)
	}
}
