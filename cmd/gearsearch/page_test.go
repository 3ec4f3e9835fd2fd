package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/site"
	"gearsearch/constraints"
)

// builtOnce are the engines' files, built once for all tests.
var builtOnce = sync.OnceValues(func() (site.Engines, error) { return site.Build(context.Background(), version()) })

// pageSite writes the page to a folder of the test, with an engine that works.
func pageSite(t testing.TB) string {
	t.Helper()
	if testing.Short() {
		t.Skip("-short: building the engine of the page takes long")
	}
	engines, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "site")
	if err := site.Write(new(files.Register), dir, engines); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestPageHasWhatItNames looks up every file that the page loads.
func TestPageHasWhatItNames(t *testing.T) {
	dir := t.TempDir()
	if err := site.Write(new(files.Register), dir, site.Engines{Plain: []byte("engine"), Draws: []byte("drawings")}); err != nil {
		t.Fatal(err)
	}
	index, err := os.ReadFile(filepath.Join(dir, site.IndexName))
	if err != nil {
		t.Fatal(err)
	}
	loaded := map[string]bool{site.IndexName: true}
	for _, m := range regexp.MustCompile(`(?:src|href)="([^"#]+)"`).FindAllSubmatch(index, -1) {
		loaded[string(m[1])] = true
		if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(string(m[1])))); err != nil {
			t.Errorf("the page loads %s, which is not there", m[1])
		}
	}
	fetched, err := os.ReadFile(filepath.Join(dir, "script", "program.js"))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`src: "([^"]+)"`).FindAllSubmatch(fetched, -1) { // when it is wanted
		loaded[string(m[1])] = true
	}
	err = filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		if err == nil && !entry.IsDir() && !loaded[filepath.ToSlash(name)] {
			t.Errorf("%s is written and not loaded", name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestPageDrawsEveryKind: the sheet of a build on the page has every drawing of a
// build.
func TestPageDrawsEveryKind(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("site", "script", "sheet.js"))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range plot.Kinds() {
		if !bytes.Contains(script, []byte(`"`+k.Name+`"`)) {
			t.Errorf("sheet.js does not draw %s", k.Name)
		}
	}
}

// TestPageOffersEveryWord: a blank that names the words of a key itself has all
// that the key takes, and no other.
func TestPageOffersEveryWord(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("site", "script", "ride.js"))
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, m := range regexp.MustCompile(`blank\.choice\("([a-z_.]+)", \[(.*?)\]\)`).FindAllStringSubmatch(string(script), -1) {
		k, ok := constraints.BriefKeyAt(m[1])
		if !ok {
			t.Errorf("no brief has the key %s", m[1])
		}
		if len(k.Words) == 0 {
			continue // numbers
		}
		asked++
		var offered []string
		for _, o := range regexp.MustCompile(`\["([^"]*)", "[^"]+"\]`).FindAllStringSubmatch(m[2]+"]", -1) {
			offered = append(offered, o[1])
		}
		if !slices.Equal(offered, k.Words) {
			t.Errorf("%s: the page offers %q of %q", m[1], offered, k.Words)
		}
	}
	if asked == 0 {
		t.Error("the page names the words of no key: the test does not test")
	}
}

// TestPageKeepsToItself looks for what would make markup of a text or ask an
// address. The browser tests see the same at work; this one says where.
func TestPageKeepsToItself(t *testing.T) {
	forbidden := regexp.MustCompile(`innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|DOMParser|createContextualFragment|srcdoc|setAttribute\("style|\bfetch\("|XMLHttpRequest|WebSocket|sendBeacon|EventSource|importScripts`)
	outside := regexp.MustCompile(`https?://[a-zA-Z0-9][^\s"']*`)
	err := fs.WalkDir(os.DirFS("site"), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(name) == ".go" {
			return err
		}
		text, err := os.ReadFile(filepath.Join("site", name))
		if err != nil {
			return err
		}
		for i, line := range strings.Split(string(text), "\n") {
			if m := forbidden.FindString(line); m != "" && !(m == "DOMParser" && name == "script/markup.js") { // which takes over what it knows
				t.Errorf("site/%s:%d: %s", name, i+1, m)
			}
			if m := outside.FindString(line); m != "" && m != "http://www.w3.org/2000/svg" { // a name, and never asked for
				t.Errorf("site/%s:%d: names %s", name, i+1, m)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	index, err := os.ReadFile("site/index.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, policy := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'", "worker-src blob:", "connect-src 'none'", "base-uri 'none'", "form-action 'none'"} {
		if !bytes.Contains(index, []byte(policy)) {
			t.Errorf("the page's policy does not say %s", policy)
		}
	}
	for _, loose := range []string{"'unsafe-inline'", "'unsafe-eval'", "<script>", " style=", " onclick="} {
		if bytes.Contains(index, []byte(loose)) {
			t.Errorf("the page has %s", loose)
		}
	}
}

func TestPageFolders(t *testing.T) {
	foreign := t.TempDir()
	if err := os.WriteFile(filepath.Join(foreign, site.IndexName), []byte("<!doctype html><title>My garden</title>"), 0o600); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	own := t.TempDir()
	if err := site.Write(new(files.Register), own, site.Engines{}); err != nil {
		t.Fatal(err)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "notes.txt"), []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	styled, begun, linked := t.TempDir(), t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(styled, "page.css"), []byte("/* mine */"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{begun, linked} {
		if err := site.Write(new(files.Register), dir, site.Engines{Plain: []byte("globalThis.gearsearchEngine = 1")}); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(begun, site.IndexName)); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(linked, "page.css")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(styled, "page.css"), filepath.Join(linked, "page.css")); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	for _, tt := range []struct {
		dir  string
		says string // "" for a folder that will do
		why  string
	}{
		{filepath.Join(t.TempDir(), "new", "deep"), "", "a new folder"},
		{own, "", "the page itself, to be written anew"},
		{other, "", "a folder with other files"},
		{foreign, "is a page that gearsearch has not written", "a folder with another page"},
		{file, "is no folder", "a file"},
		{styled, "page.css is a file that gearsearch has not written", "a file of another page"},
		{begun, "", "a page that was interrupted"},
		{linked, "page.css is a file that gearsearch has not written", "a page with a file that lies elsewhere"},
	} {
		err := site.MayGo(new(files.Register), tt.dir, nil)
		if (err == nil) != (tt.says == "") || err != nil && !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.why, err, tt.says)
		}
		if err != nil {
			continue
		}
		if err := site.Write(new(files.Register), tt.dir, site.Engines{Plain: []byte("engine"), Draws: []byte("drawings")}); err != nil {
			t.Errorf("%s: %v", tt.why, err)
		}
	}
	if mine, err := os.ReadFile(filepath.Join(other, "notes.txt")); err != nil || string(mine) != "mine" {
		t.Errorf("a file beside the page is now %q, %v", mine, err)
	}
}

// TestPageSparesItsSource: an engine is built of a clone, whose page must not be
// replaced by what the program has of it.
func TestPageSparesItsSource(t *testing.T) {
	dir := t.TempDir()
	engines := site.Engines{Plain: []byte("engine"), Draws: []byte("drawings")}
	if err := site.Write(new(files.Register), dir, engines); err != nil { // the source looks like a page
		t.Fatal(err)
	}
	f := new(files.Register)
	if err := site.MayGo(f, dir, nil); err != nil {
		t.Fatal(err)
	}
	if err := f.Reads(files.Input{Name: dir, Folder: true}); err == nil || !strings.Contains(err.Error(), "is read for the answer") {
		t.Errorf("%v, want a refusal", err)
	}
	if testing.Short() {
		return
	}
	built, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	here, err := os.Stat("site")
	if err != nil {
		t.Fatal(err)
	}
	if source, err := os.Stat(built.Source); err != nil || !os.SameFile(here, source) {
		t.Errorf("the source is said to be %s, %v", built.Source, err)
	}
}

// TestEngineScript reads the engine's file back.
func TestEngineScript(t *testing.T) {
	out, err := site.EngineScript("gearsearch (devel)\nbuilt by hand\n", "gearsearchEngine", []byte("\x1f\x8bcode"), "class Go {} // </script> \u2028")
	if err != nil {
		t.Fatal(err)
	}
	text, ok := strings.CutPrefix(string(out), "globalThis.gearsearchEngine = ")
	var got map[string]string
	if err := json.Unmarshal([]byte(strings.TrimSuffix(text, ";\n")), &got); !ok || err != nil {
		t.Fatalf("%s: %v", out, err)
	}
	code, err := base64.StdEncoding.DecodeString(got["code"])
	if err != nil || string(code) != "\x1f\x8bcode" || got["runtime"] != "class Go {} // </script> \u2028" || got["worker"] != site.Worker || got["version"] != "gearsearch (devel)" {
		t.Errorf("read back as %v, %v", got, err)
	}
	if strings.Contains(string(out), "</script>") {
		t.Error("the script has the end of a script in it")
	}
}

// TestEngineWithoutMeans asks for an engine where none can be built.
func TestEngineWithoutMeans(t *testing.T) {
	ctx := context.Background()
	if _, err := site.EngineSource(ctx, "go", []string{t.TempDir(), filepath.Join(t.TempDir(), "gone")}); err == nil || !strings.Contains(err.Error(), "this folder is no clone of its source") {
		t.Errorf("outside a clone: %v", err)
	}
	stranger := t.TempDir()
	if err := os.WriteFile(filepath.Join(stranger, "go.mod"), []byte("module stranger\n\ngo 1.24\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := site.EngineSource(ctx, "go", []string{stranger}); err == nil {
		t.Error("another module is taken for a clone")
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := site.EngineSource(stopped, "go", site.SourcePlaces()); err != context.Canceled {
		t.Errorf("interrupted: %v", err)
	}
	t.Setenv("PATH", t.TempDir())
	var stdout, stderr bytes.Buffer
	code := run(ctx, []string{"gearsearch", "page", filepath.Join(t.TempDir(), "site")}, strings.NewReader(""), &stdout, &stderr)
	if code != outcome.ExitIO || !strings.Contains(stderr.String(), "there is no go command to build one") || stdout.Len() > 0 {
		t.Errorf("without the go command: exit code %d, %s", code, &stderr)
	}
}

// TestPageCommand writes the page as a user does.
func TestPageCommand(t *testing.T) {
	if testing.Short() {
		t.Skip("-short: building the engine of the page takes long")
	}
	dir := filepath.Join(t.TempDir(), "try")
	r := answerTo(context.Background(), "page --quiet "+dir)
	index := filepath.Join(dir, site.IndexName)
	if r.code != outcome.ExitAnswered || r.stdout != index+"\n" || r.stderr != "" {
		t.Fatalf("exit code %d, stdout %q, stderr %q", r.code, r.stdout, r.stderr)
	}
	engine, err := os.Open(filepath.Join(dir, site.EngineName))
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	head, err := io.ReadAll(io.LimitReader(engine, 30))
	if err != nil || string(head) != "globalThis.gearsearchEngine = " {
		t.Errorf("%s begins with %q, %v", site.EngineName, head, err)
	}
}
