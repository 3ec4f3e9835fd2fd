//go:build unix

package main

import (
	"net/http/httptest"
	"testing"

	"github.com/chromedp/chromedp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// opening is when something is first to be read on a page, and when the first
// builds are there, in ms from its opening.
type opening struct {
	Content, Builds float64
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
	p.Wait("performance.getEntriesByName('ranked').length > 0 && performance.getEntriesByName('first-contentful-paint').length > 0")
	return browsertest.Value[opening](p.Tab, `({
		Content: performance.getEntriesByName("first-contentful-paint")[0].startTime,
		Builds: performance.getEntriesByName("ranked")[0].startTime,
	})`)
}

// TestPageOnASlowProcessor opens the page with a sixth of the processor. How long
// that takes is said, and depends on the machine; held to are ratios: what is to be
// read does not wait for the engine, and a sixth of the processor is about six times
// as slow, not more. It does not run beside other tests.
func TestPageOnASlowProcessor(t *testing.T) {
	server := httptest.NewServer(&squeezingServer{dir: pageSite(t), sent: map[string]string{}})
	t.Cleanup(server.Close)
	const (
		part = 6
		most = 3 * part // times as slow, on a busy machine
	)
	full, slow := opened(t, server.URL+"/", 1), opened(t, server.URL+"/", part)
	t.Logf("with all of the processor %.0f ms to read, %.0f ms to the builds; with a sixth %.0f and %.0f", full.Content, full.Builds, slow.Content, slow.Builds)
	if slow.Builds < 1.5*full.Builds {
		t.Fatalf("with a sixth of the processor the builds take %.0f ms, with all of it %.0f: nothing is slowed", slow.Builds, full.Builds)
	}
	if slow.Content > slow.Builds/3 {
		t.Errorf("the first content comes after %.0f ms of the %.0f until the builds: something holds it up", slow.Content, slow.Builds)
	}
	if slow.Content > most*full.Content || slow.Builds > most*full.Builds {
		t.Errorf("with a sixth of the processor all takes more than %d times as long", most)
	}
}
