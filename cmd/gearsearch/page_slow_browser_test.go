//go:build unix

package main

import (
	"net/http/httptest"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// opening is when something is first to be read on a page, when the first builds are
// there, and when its engine can be asked, in ms from its opening.
type opening struct {
	Content, Builds, Engine float64
}

// opened opens the page in a browser that knows nothing, with one part in times of
// the processor.
func opened(t *testing.T, address string, times int) opening {
	t.Helper()
	p := &onPage{Tab: browsertest.Open(t), t: t}
	p.Screen(390, 844, "light")
	if times > 1 {
		end := p.Slow(times)
		defer end()
	}
	p.Do(chromedp.Navigate(address))
	p.Wait("['ranked', 'engine'].every((name) => performance.getEntriesByName(name).length > 0) && performance.getEntriesByName('first-contentful-paint').length > 0")
	return browsertest.Value[opening](p.Tab, `({
		Content: performance.getEntriesByName("first-contentful-paint")[0].startTime,
		Builds: performance.getEntriesByName("ranked")[0].startTime,
		Engine: performance.getEntriesByName("engine")[0].startTime,
	})`)
}

// TestPageOnASlowProcessor opens the page with a sixth of the processor. How long
// that takes is said, and depends on the machine; held to are ratios: neither what is to
// be read nor the first builds wait for the engine, and a sixth of the processor is about
// six times as slow, not more. It does not run beside other tests.
func TestPageOnASlowProcessor(t *testing.T) {
	server := httptest.NewServer(&squeezingServer{dir: pageSite(t), sent: map[string]string{}})
	t.Cleanup(server.Close)
	const (
		part = 6
		most = 3 * part // times as slow, on a busy machine
	)
	full, slow := opened(t, server.URL+"/", 1), opened(t, server.URL+"/", part)
	t.Logf("with all of the processor %.0f ms to read, %.0f ms to the builds, %.0f ms to the engine; with a sixth %.0f, %.0f and %.0f",
		full.Content, full.Builds, full.Engine, slow.Content, slow.Builds, slow.Engine)
	if slow.Engine < 1.5*full.Engine {
		t.Fatalf("with a sixth of the processor the engine takes %.0f ms, with all of it %.0f: nothing is slowed", slow.Engine, full.Engine)
	}
	if slow.Content > slow.Engine/3 {
		t.Errorf("the first content comes after %.0f ms of the %.0f until the engine runs: something holds it up", slow.Content, slow.Engine)
	}
	if slow.Builds > slow.Engine {
		t.Errorf("the first builds come after %.0f ms, when the engine runs for %.0f: they wait for it", slow.Builds, slow.Builds-slow.Engine)
	}
	if slow.Content > most*full.Content || slow.Builds > most*full.Builds || slow.Engine > most*full.Engine {
		t.Errorf("with a sixth of the processor all takes more than %d times as long", most)
	}
}
