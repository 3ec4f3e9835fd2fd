package browsertest

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// axeSource is the script of axe-core, which looks for what keeps people from
// using a page: fetched by npm, once for all tests.
var axeSource = sync.OnceValues(func() (string, error) {
	npm, err := exec.LookPath("npm")
	if err != nil {
		return "", errors.New("no npm here")
	}
	dir, err := os.MkdirTemp("", "axe")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	pack := exec.Command(npm, "pack", "--silent", "axe-core@4")
	pack.Dir = dir
	if out, err := pack.CombinedOutput(); err != nil {
		return "", fmt.Errorf("npm pack axe-core: %w: %s", err, bytes.TrimSpace(out))
	}
	archives, err := filepath.Glob(filepath.Join(dir, "axe-core-*.tgz"))
	if err != nil || len(archives) != 1 {
		return "", fmt.Errorf("npm pack gave %d archives", len(archives))
	}
	data, err := os.ReadFile(archives[0])
	if err != nil {
		return "", err
	}
	return unpacked(data, "package/axe.min.js")
})

// unpacked is a file of a packed archive.
func unpacked(archive []byte, name string) (string, error) {
	z, err := gzip.NewReader(bytes.NewReader(archive))
	if err != nil {
		return "", err
	}
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err != nil {
			return "", fmt.Errorf("%s: %w", name, err)
		}
		if h.Name == name {
			text, err := io.ReadAll(r)
			return string(text), err
		}
	}
}

// Axe makes axe-core's script ready, and skips the test where it cannot be had.
func Axe(t testing.TB) (script string) {
	t.Helper()
	script, err := axeSource()
	if err != nil {
		t.Skipf("the page is not looked at by axe-core: %v", err)
	}
	return script
}

// AxeFinds lets axe-core look at the page as it stands and lists what it finds.
func (b *Tab) AxeFinds(script string) []string {
	b.t.Helper()
	Value[bool](b, script+"\n;true")
	found := Value[string](b, `axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.map(v =>
		v.id + ': ' + v.help + ': ' + v.nodes.map(n => n.target.join(' ') + ' ' + n.failureSummary).slice(0, 4).join(' | ')).join('\n'))`)
	if found == "" {
		return nil
	}
	return strings.Split(found, "\n")
}

// Print prints the page as it would be on paper.
func (b *Tab) Print() (pdf []byte) {
	b.t.Helper()
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		b.t.Fatal(err)
	}
	return pdf
}

// Paper shows the page as it is laid out for paper, in a window as wide as the
// sheet between its margins.
func (b *Tab) Paper(width, height int64) {
	b.t.Helper()
	b.Do(chromedp.EmulateViewport(width, height))
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
}
