package main

import (
	"mime"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"gearsearch/cmd/gearsearch/internal/browsertest"
	"gearsearch/cmd/gearsearch/site"
)

// squeezingServer serves a folder as a server does that knows of squeezed files:
// NAME.br or NAME.gz in the place of NAME, to browsers that take them.
type squeezingServer struct {
	dir string

	mu   sync.Mutex
	sent map[string]string // the encoding that each file was sent in, "" for none
}

func (s *squeezingServer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := path.Clean("/" + r.URL.Path)
	if name == "/" {
		name = "/" + site.IndexName
	}
	w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	w.Header().Add("Vary", "Accept-Encoding")
	file, encoding := filepath.Join(s.dir, filepath.FromSlash(name)), ""
	for _, x := range []struct{ ending, encoding string }{{".br", "br"}, {".gz", "gzip"}} {
		if _, err := os.Stat(file + x.ending); err == nil && encoding == "" && strings.Contains(r.Header.Get("Accept-Encoding"), x.encoding) {
			file, encoding = file+x.ending, x.encoding
			w.Header().Set("Content-Encoding", encoding)
		}
	}
	s.mu.Lock()
	s.sent[name] = encoding
	s.mu.Unlock()
	data, err := os.Open(file)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer data.Close()
	info, err := data.Stat()
	if err != nil {
		http.NotFound(w, r)
		return
	}
	http.ServeContent(w, r, name, info.ModTime(), data)
}

// sentAs is the encoding that a file was sent in, and whether it was.
func (s *squeezingServer) sentAs(name string) (encoding string, sent bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	encoding, sent = s.sent["/"+name]
	return encoding, sent
}

// waitHeld waits until an expression is true of what the browser holds for the
// time without a network: the keys of its stores, and the addresses held.
func (p *onPage) waitHeld(expression string) {
	p.t.Helper()
	if !browsertest.Value[bool](p.Tab, `(async () => {
		for (let i = 0; i < 1200; i++) {
			const keys = await caches.keys();
			const held = (await Promise.all(keys.map(async (k) => (await (await caches.open(k)).keys()).map((r) => r.url)))).flat();
			if (`+expression+`) return true;
			await new Promise((turn) => setTimeout(turn, 100));
		}
		return false;
	})()`) {
		p.t.Fatalf("waited too long for %s", expression)
	}
}

// TestPageFromAServer: a page from a server fetches the engine as WebAssembly,
// squeezed, and what it is not asked for not at all; then it opens without the
// server.
func TestPageFromAServer(t *testing.T) {
	t.Parallel()
	dir := pageSite(t)
	files := &squeezingServer{dir: dir, sent: map[string]string{}}
	server := httptest.NewServer(files)
	t.Cleanup(server.Close)
	p := openPage(t, server.URL+"/", server.URL+"/", "blob:"+server.URL+"/")
	if encoding, sent := files.sentAs(site.EngineWasm); !sent || encoding != "br" {
		t.Errorf("the engine is sent: %v, as %q", sent, encoding)
	}
	for _, name := range []string{site.EngineName, site.ProgramName, site.ProgramWasm} {
		if _, sent := files.sentAs(name); sent {
			t.Errorf("%s is fetched, and nobody wants it", name)
		}
	}
	const holds = "document.getElementById('offline').textContent.includes('without a network')"
	p.Wait(holds)
	if p.text("document.getElementById('older').textContent") != "" {
		t.Error("the page complains")
	}
	p.waitHeld(`held.some((url) => url.endsWith("program.wasm"))`)

	before := p.shown("#status-text b")
	server.CloseClientConnections()
	server.Close()
	p.reload()
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("without the server %q, before %q", now, before)
	}
	p.change(func() { p.Type(keyField("limit.price"), "1000") })
	if now := p.shown("#status-text b"); now == before {
		t.Errorf("without the server another price limit changes nothing: %q", now)
	}
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("[data-unfold=curves] summary")
	p.Wait("document.querySelector('.curves[data-done] svg')")
}

// TestPageIsRenewed: a newer page waits until the reader takes it, and is whole
// then.
func TestPageIsRenewed(t *testing.T) {
	t.Parallel()
	dir := pageSite(t)
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(server.Close)
	p := openPage(t, server.URL+"/", server.URL+"/", "blob:"+server.URL+"/")
	p.Wait("document.getElementById('offline').textContent.includes('without a network')")
	for name, change := range map[string][2]string{
		site.IndexName:   {"<title>gearsearch</title>", `<title>gearsearch</title><meta name="made" content="anew">`},
		site.OfflineName: {`"version":"`, `"version":"anew`},
	} {
		file := filepath.Join(dir, name)
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), change[0]) {
			t.Fatalf("%s has no %s", name, change[0])
		}
		if err := os.WriteFile(file, []byte(strings.Replace(string(text), change[0], change[1], 1)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p.reload()
	if browsertest.Value[bool](p.Tab, `Boolean(document.querySelector("meta[name=made]"))`) {
		t.Error("the newer page is taken before the reader wants it")
	}
	p.Wait("document.querySelector('#offline button')")
	p.text("(document.body.dataset.old = 'true', '')")
	p.Press("#offline button")
	p.Wait(pageAnew)
	p.Wait(`document.querySelector("meta[name=made]")`)
	p.waitHeld(`keys.length === 1 && keys[0].includes(" anew")`)
}

// TestPageOfOneFile opens the whole page from one file, as on a phone.
func TestPageOfOneFile(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("-short: building the engine of the page takes long")
	}
	engines, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	page, err := site.OneFile(engines)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "one.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d bytes", len(page))
	address := "file://" + filepath.ToSlash(file)
	p := openPage(t, address, address, "blob:null/", "data:")
	p.Screen(390, 844, "light")
	before := p.shown("#status-text b")
	p.change(func() { p.Type(keyField("limit.price"), "1000") })
	if now := p.shown("#status-text b"); now == before {
		t.Errorf("another price limit changes nothing: %q", now)
	}
	if got := p.text("getComputedStyle(document.querySelector('.beat')).borderRadius"); got != "50%" {
		t.Errorf("the page has no styles: %q", got)
	}
	p.goTo("builds")
	p.Press("#list .look")
	p.Wait("document.querySelector('#list .card')")
	p.Press("[data-unfold=curves] summary")
	p.Wait("document.querySelector('.curves[data-done] svg')")
	if !strings.Contains(p.shown("footer"), "Copyright") {
		t.Error("the licences are not in it")
	}
	before = p.shown("#status-text b")
	p.reload()
	if now := p.shown("#status-text b"); now != before {
		t.Errorf("after a reload %q, before it %q", now, before)
	}
}
