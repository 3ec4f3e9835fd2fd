// Package browsertest drives pages in chromium for tests.
package browsertest

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Tab is the one tab of a browser of its own, with a note of all that pages in
// it complain about and ask for.
type Tab struct {
	ctx context.Context
	t   testing.TB

	mu        sync.Mutex
	complains []string // on the console
	asked     []string // addresses
}

// patience is how long a test waits for a page on a busy machine, beside others
// that do so.
const patience = 2 * time.Minute

// Open starts a browser that knows nothing. It skips the test where there is
// no chromium. The browser ends with the test.
func Open(t testing.TB) *Tab {
	t.Helper()
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(program(t)), chromedp.UserDataDir(t.TempDir()), chromedp.DisableGPU,
		chromedp.Flag("disable-component-update", true),
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	b := &Tab{t: t}
	b.ctx, stop = chromedp.NewContext(ctx, chromedp.WithListener(b.note))
	t.Cleanup(stop)
	b.Do()
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, cdp.Empty{})
	return b
}

// program is the path of chromium.
func program(t testing.TB) string {
	t.Helper()
	if testing.Short() {
		t.Skip("short: pages are looked at in a browser in full runs")
	}
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no chromium here (on Debian: apt-get install chromium), so the page is not looked at in a browser")
	return ""
}

// note keeps what a page complains about and asks for.
func (b *Tab) note(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.asked = append(b.asked, e.Request.URL)
	case *log.EventEntryAdded:
		b.complains = append(b.complains, fmt.Sprintf("%s: %s %s", e.Entry.Level, e.Entry.Text, e.Entry.URL))
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if x := e.ExceptionDetails.Exception; x != nil {
			text += " " + x.Description
		}
		b.complains = append(b.complains, text)
	case *runtime.EventConsoleAPICalled:
		words := []string{"console." + string(e.Type) + ":"}
		for _, a := range e.Args {
			words = append(words, string(a.Value), a.Description)
		}
		b.complains = append(b.complains, strings.Join(words, " "))
	}
}

// Do runs actions one after the other.
func (b *Tab) Do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatalf("the browser: %v\nthe page complains: %s", err, strings.Join(b.Complaints(), "\n"))
	}
}

// call gives the tab a command of the browser's protocol.
func call[P, R any](b *Tab, command cdp.Command[P, R], params P) {
	b.t.Helper()
	if _, err := chromedp.Call(b.ctx, command, params); err != nil {
		b.t.Fatalf("the browser: %v", err)
	}
}

// Value is what a JavaScript expression is; a promise is waited for.
func Value[T any](b *Tab, expression string) T {
	b.t.Helper()
	out, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("the browser: %s: %v\nthe page complains: %s", expression, err, strings.Join(b.Complaints(), "\n"))
	}
	return out
}

// Wait waits until a JavaScript expression is true. The page may load another,
// or itself anew, meanwhile.
func (b *Tab) Wait(expression string) {
	b.t.Helper()
	const pause = 10 * time.Millisecond
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(pause) {
		is, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		switch {
		case err != nil && !betweenPages(err):
			b.t.Fatalf("the browser: %s: %v\nthe page complains: %s", expression, err, strings.Join(b.Complaints(), "\n"))
		case err == nil && is:
			return
		}
	}
	b.t.Fatalf("waited too long for %s\nthe page complains: %s\nit shows: %s", expression, strings.Join(b.Complaints(), "\n"), Value[string](b, "document.body.innerText"))
}

// betweenPages reports whether a browser could not evaluate anything because
// one page was going and the next not yet there.
func betweenPages(err error) bool {
	for _, says := range []string{"navigated or closed", "context was destroyed", "Cannot find context"} {
		if strings.Contains(err.Error(), says) {
			return true
		}
	}
	return false
}

// Press clicks on the first element that a CSS selector finds; it must be seen. The page
// may put another in its place before that.
func (b *Tab) Press(selector string) {
	b.t.Helper()
	click := chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible)
	for range 10 {
		err := chromedp.Do(b.ctx, click)
		if err == nil {
			return
		}
		if !strings.Contains(err.Error(), "Could not find node with given id") {
			break
		}
	}
	b.Do(click)
}

// Type puts a text into a field in the place of what is there.
func (b *Tab) Type(selector, text string) {
	b.t.Helper()
	field := fmt.Sprintf("document.querySelector(%q)", selector)
	b.Wait(field)
	Value[bool](b, "("+field+".focus(), document.activeElement.select(), true)") // at once: the page may put another field in its place
	b.Do(chromedp.KeyEvent(text))
}

// Complaints are what pages wrote on the console, errors and all else.
func (b *Tab) Complaints() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.complains)
}

// AskedOutside are the addresses that pages asked for, without those that begin with
// one of the given prefixes.
func (b *Tab) AskedOutside(inside ...string) []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(b.asked), func(url string) bool {
		return slices.ContainsFunc(inside, func(prefix string) bool { return strings.HasPrefix(url, prefix) })
	})
}

// Screen sets the size of the window in CSS pixels, and the colour scheme,
// "light" or "dark".
func (b *Tab) Screen(width, height int64, scheme string) {
	b.t.Helper()
	b.Do(chromedp.EmulateViewport(width, height))
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
}

// Shot writes a picture of the window, or of the whole page, to a folder, if
// one is named.
func (b *Tab) Shot(dir, name string, whole bool) {
	b.t.Helper()
	if dir == "" {
		return
	}
	const best = 100
	action := chromedp.CaptureScreenshot()
	if whole {
		action = chromedp.FullScreenshot(best)
	}
	picture, err := chromedp.Run(b.ctx, action)
	if err == nil {
		err = os.MkdirAll(dir, 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, name+".png"), picture, 0o644)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

// Downloads makes the browser put what pages save into a new folder, and
// returns a function that waits for a file there and reads it.
func (b *Tab) Downloads() func(name string) string {
	b.t.Helper()
	dir := b.t.TempDir()
	if _, err := chromedp.CallBrowser(b.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
	}); err != nil {
		b.t.Fatal(err)
	}
	return func(name string) string {
		b.t.Helper()
		const pause = 20 * time.Millisecond
		for begun := time.Now(); time.Since(begun) < patience; time.Sleep(pause) {
			if data, err := os.ReadFile(filepath.Join(dir, name)); err == nil && len(data) > 0 {
				return string(data)
			}
		}
		b.t.Fatalf("the page saved no %s\nit complains: %s", name, strings.Join(b.Complaints(), "\n"))
		return ""
	}
}
