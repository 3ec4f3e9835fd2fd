package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/andybalholm/brotli"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/site"
	"gearsearch/constraints"
)

// engineStubs stand for engines where none is run.
var engineStubs = site.Engines{Plain: site.Engine{Wasm: []byte("engine")}, Program: site.Engine{Wasm: []byte("program")}}

// builtOnce are the engines' files, built once for all tests.
var builtOnce = sync.OnceValues(func() (site.Engines, error) {
	engines, err := site.Build(context.Background())
	if err != nil {
		return engines, err
	}
	engines.Version, engines.Notices = version(), notices
	const quickest = 1 // brotli's quality
	return engines, engines.Squeeze(quickest)
})

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

// TestPageHasWhatItNames looks up every file that the page loads, in its folder
// and from a server, and that every script and style is in it.
func TestPageHasWhatItNames(t *testing.T) {
	dir := t.TempDir()
	if err := site.Write(new(files.Register), dir, engineStubs); err != nil {
		t.Fatal(err)
	}
	read := func(name string) string {
		t.Helper()
		text, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	index, script, style, worker := read(site.IndexName), read(site.ScriptName), read(site.StyleName), read(site.OfflineName)
	loaded := map[string]bool{site.IndexName: true, site.OfflineName: strings.Contains(script, `register("sw.js")`)}
	for _, m := range regexp.MustCompile(`(?:src|href)="([^"#]+)"`).FindAllStringSubmatch(index, -1) {
		loaded[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`newWire\("([a-z]+)"`).FindAllStringSubmatch(script, -1) {
		for _, ending := range []string{".js", ".wasm", ".wasm.gz", ".wasm.br"} { // the last two at a server's choice
			loaded[m[1]+ending] = true
		}
	}
	for name := range loaded {
		if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(name))); err != nil {
			t.Errorf("the page loads %s, which is not there", name)
		}
	}
	fromDisk := regexp.MustCompile(`\.(gz|br)$|^(engine|program)\.js$|^sw\.js$`)
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		if err != nil || entry.IsDir() {
			return err
		}
		if !loaded[filepath.ToSlash(name)] {
			t.Errorf("%s is written and not loaded", name)
		}
		if held := strings.Contains(worker, `"`+name+`"`) || name == site.IndexName && strings.Contains(worker, `"./"`); held == fromDisk.MatchString(name) {
			t.Errorf("%s is held for a page without a network: %v", name, held)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, pattern := range []string{"script/*.js", "css/*.css"} {
		sources, err := filepath.Glob(filepath.Join("site", filepath.FromSlash(pattern)))
		if err != nil || len(sources) == 0 {
			t.Fatalf("%s: %v, %v", pattern, sources, err)
		}
		for _, source := range sources {
			text, err := os.ReadFile(source)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(script+style, string(text)) {
				t.Errorf("%s is not in the page: name it in %s", source, site.IndexName)
			}
		}
	}
}

// TestPageOfAnotherContentIsAnotherVersion: the service worker is another file
// whenever any file of the page is.
func TestPageOfAnotherContentIsAnotherVersion(t *testing.T) {
	worker := func(e site.Engines) string {
		dir := t.TempDir()
		if err := site.Write(new(files.Register), dir, e); err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(filepath.Join(dir, site.OfflineName))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	first := worker(engineStubs)
	if worker(engineStubs) != first {
		t.Error("the same page has two versions")
	}
	for why, change := range map[string]func(e *site.Engines){
		"the engine":         func(e *site.Engines) { e.Plain.Wasm = []byte("other") },
		"the program itself": func(e *site.Engines) { e.Program.Wasm = []byte("other") },
		"the licences":       func(e *site.Engines) { e.Notices = []byte("other") },
		"what it says":       func(e *site.Engines) { e.Version = "other" },
	} {
		e := engineStubs
		change(&e)
		if worker(e) == first {
			t.Errorf("another page is of the same version: %s", why)
		}
	}
}

// TestPageDrawsEveryKind: the sheet of a build on the page has every drawing of a
// build.
func TestPageDrawsEveryKind(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("site", "script", "artist.js"))
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range plot.Kinds() {
		if !bytes.Contains(script, []byte(`"`+k.Name+`"`)) {
			t.Errorf("artist.js does not draw %s", k.Name)
		}
	}
}

// TestPageTitlesEveryShelf: each shelf of parts, and each kind, has a title on the page.
func TestPageTitlesEveryShelf(t *testing.T) {
	script, err := os.ReadFile(filepath.Join("site", "script", "parts.js"))
	if err != nil {
		t.Fatal(err)
	}
	names := catalog.KindNames()
	for _, s := range constraints.Slots() {
		names = append(names, s.Called(false), s.Called(true))
	}
	for _, name := range names {
		if !regexp.MustCompile(`\b` + name + `: "[A-Z]`).Match(script) {
			t.Errorf("parts.js has no title for %s", name)
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
	names := []string{"http://www.w3.org/2000/svg", "http://schemas.openxmlformats.org/officeDocument/2006/relationships"} // never asked for
	err := fs.WalkDir(os.DirFS("site"), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(name) == ".go" {
			return err
		}
		text, err := os.ReadFile(filepath.Join("site", name))
		if err != nil {
			return err
		}
		for i, line := range strings.Split(string(text), "\n") {
			// Where what is read is taken over piece by piece: answers of the program, and the texts of a workbook.
			if m := forbidden.FindString(line); m != "" && !(m == "DOMParser" && slices.Contains([]string{"script/markup.js", "script/book.js"}, name)) {
				t.Errorf("site/%s:%d: %s", name, i+1, m)
			}
			if m := outside.FindString(line); m != "" && !slices.Contains(names, m) {
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
	for _, policy := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'", "worker-src 'self' blob:", "connect-src 'self'", "base-uri 'none'", "form-action 'none'"} {
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
		if err := site.Write(new(files.Register), dir, engineStubs); err != nil {
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
		if err := site.Write(new(files.Register), tt.dir, engineStubs); err != nil {
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
	engines := engineStubs
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

// TestCodeScript reads the script of an engine back.
func TestCodeScript(t *testing.T) {
	out := string(site.CodeScript("engine", []byte("\x1f\x8bcode")))
	text, ok := strings.CutPrefix(out, `globalThis.gearsearchCode = { ...globalThis.gearsearchCode, "engine": "`)
	code, err := base64.StdEncoding.DecodeString(strings.TrimSuffix(text, "\" };\n"))
	if !ok || err != nil || string(code) != "\x1f\x8bcode" {
		t.Errorf("%s is read back as %q, %v", out, code, err)
	}
}

// TestOneFile reads the page of one file: its policy knows exactly the script and
// the style that stand in it, and nothing in it names another file.
func TestOneFile(t *testing.T) {
	engines := engineStubs
	engines.Runtime, engines.Notices = []byte("class Go {} // </script> \u2028"), []byte("Licence <of> all")
	engines.Plain.Gzip = []byte("\x1f\x8bcode")
	out, err := site.OneFile(engines)
	if err != nil {
		t.Fatal(err)
	}
	page := string(out)
	policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]+)"`).FindStringSubmatch(page)
	if policy == nil {
		t.Fatal("there is no policy")
	}
	for tag, directive := range map[string]string{"script": "script-src", "style": "style-src"} {
		found := regexp.MustCompile(`(?s)<`+tag+`>(.*?)</`+tag+`>`).FindAllStringSubmatch(page, -1)
		if len(found) != 1 {
			t.Fatalf("there are %d elements %s", len(found), tag)
		}
		sum := sha256.Sum256([]byte(found[0][1]))
		if want := directive + " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(policy[1], want) {
			t.Errorf("the policy %s has no %s", policy[1], want)
		}
	}
	for _, part := range []string{"default-src 'none'", "connect-src 'none'", "worker-src blob:", "base-uri 'none'", "form-action 'none'"} {
		if !strings.Contains(policy[1], part) {
			t.Errorf("the policy %s has no %s", policy[1], part)
		}
	}
	if strings.Contains(policy[1], "'self'") || strings.Contains(policy[1], "unsafe-inline") {
		t.Errorf("the policy is loose: %s", policy[1])
	}
	html, _, _ := strings.Cut(page, "<script>")
	for _, m := range regexp.MustCompile(`(?:src|href)="([^"#]+)"`).FindAllStringSubmatch(html, -1) {
		if !strings.HasPrefix(m[1], "data:") {
			t.Errorf("it names %s", m[1])
		}
	}
	if !strings.Contains(page, "Licence &lt;of&gt; all") || !strings.Contains(page, `id="code-engine">`+base64.StdEncoding.EncodeToString(engines.Plain.Gzip)+"<") {
		t.Error("it lacks the licences or the engine")
	}
}

// TestSqueeze reads an engine's forms back, those of a release too.
func TestSqueeze(t *testing.T) {
	code := bytes.Repeat([]byte("\x00asm code "), 1000)
	e := site.Engines{Plain: site.Engine{Wasm: code}, Program: site.Engine{Wasm: code}}
	if err := e.Squeeze(site.Quick); err != nil {
		t.Fatal(err)
	}
	released := site.Engines{Plain: site.Engine{Brotli: e.Plain.Brotli}, Program: site.Engine{Brotli: e.Program.Brotli}}
	if err := released.Squeeze(site.Quick); err != nil {
		t.Fatal(err)
	}
	for _, x := range []site.Engine{e.Plain, e.Program, released.Plain, released.Program} {
		z, err := gzip.NewReader(bytes.NewReader(x.Gzip))
		if err != nil {
			t.Fatal(err)
		}
		for name, r := range map[string]io.Reader{"gzip": z, "brotli": brotli.NewReader(bytes.NewReader(x.Brotli))} {
			if back, err := io.ReadAll(r); err != nil || !bytes.Equal(back, code) {
				t.Errorf("%s: %d bytes come back of %d, %v", name, len(back), len(code), err)
			}
		}
		if !bytes.Equal(x.Wasm, code) {
			t.Errorf("the code itself has %d bytes of %d", len(x.Wasm), len(code))
		}
	}
	broken := site.Engines{Plain: site.Engine{Brotli: []byte("no brotli")}}
	if err := broken.Squeeze(site.Quick); err == nil {
		t.Error("what is no brotli is read")
	}
}

// TestEngineIsSmall holds the engine that searches to what a phone is sent.
func TestEngineIsSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("-short: squeezing the engine takes a minute")
	}
	engines, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	const most = 2_000_000 // bytes
	small := site.Engines{Plain: site.Engine{Wasm: engines.Plain.Wasm, Gzip: engines.Plain.Gzip}, Program: site.Engine{Wasm: []byte("not measured")}}
	if err := small.Squeeze(site.Smallest); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d bytes, %d squeezed by brotli", len(small.Plain.Wasm), len(small.Plain.Brotli))
	if n := len(small.Plain.Brotli); n > most {
		t.Errorf("the engine that searches is %d bytes squeezed, more than %d", n, most)
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
	head, err := io.ReadAll(io.LimitReader(engine, 27))
	if err != nil || string(head) != "globalThis.gearsearchCode =" {
		t.Errorf("%s begins with %q, %v", site.EngineName, head, err)
	}

	// As one file, and not over what is something else.
	one := filepath.Join(t.TempDir(), "one.html")
	for _, why := range []string{"new", "over itself"} {
		r = answerTo(context.Background(), "page --quiet --one-file "+one)
		if r.code != outcome.ExitAnswered || r.stdout != one+"\n" || r.stderr != "" {
			t.Fatalf("%s: exit code %d, stdout %q, stderr %q", why, r.code, r.stdout, r.stderr)
		}
	}
	mine := filepath.Join(t.TempDir(), "mine.html")
	if err := os.WriteFile(mine, []byte("<!doctype html><title>My garden</title>"), 0o600); err != nil {
		t.Fatal(err)
	}
	r = answerTo(context.Background(), "page --quiet --one-file "+mine)
	if r.code != outcome.ExitUsage || !strings.Contains(r.stderr, "mine.html is a file that gearsearch has not written") {
		t.Errorf("over another file: exit code %d, %q", r.code, r.stderr)
	}
}

// TestPageIsReadBeforeItsEngine: the page as it is written has the demo's question
// in words, the builds that the program ranks for it, and the cautions.
func TestPageIsReadBeforeItsEngine(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(pageSite(t), site.IndexName))
	if err != nil {
		t.Fatal(err)
	}
	text := html.UnescapeString(string(data))
	var out struct {
		Builds []struct {
			Score float64
			Parts struct{ Battery, Motor string }
		}
	}
	r := answerTo(context.Background(), "rank --format json --quiet --top 10")
	if err := json.Unmarshal([]byte(r.stdout), &out); err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(text, "<tbody data-number=")[1:]
	if len(rows) != len(out.Builds) {
		t.Fatalf("%d builds, want %d", len(rows), len(out.Builds))
	}
	for i, b := range out.Builds {
		for _, want := range []string{b.Parts.Battery, b.Parts.Motor, fmt.Sprintf("<td data-score>%.1f</td>", b.Score)} {
			if !strings.Contains(rows[i], want) {
				t.Errorf("build %d has no %s", i+1, want)
			}
		}
	}
	for _, want := range append(say.GeneralCautions(constraints.EveryBoard(), quantity.Metric), "It must reach", "every maker, part and price here is invented") {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}
