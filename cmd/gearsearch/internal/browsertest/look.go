package browsertest

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

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
// sheet between its margins, to a reader whose screen is dark: paper is not.
func (b *Tab) Paper(width, height int64) {
	b.t.Helper()
	b.Do(chromedp.EmulateViewport(width, height))
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Media: "print", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}},
	})
}

// Scripts lets pages run scripts, or not.
func (b *Tab) Scripts(run bool) {
	b.t.Helper()
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !run})
}

// ForcedColors forces the reader's own colours on pages, as a system of high
// contrast does, or not.
func (b *Tab) ForcedColors(on bool) {
	b.t.Helper()
	value := "none"
	if on {
		value = "active"
	}
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: value}}})
}

// Before runs a script in every page that is opened from now on, before its own.
func (b *Tab) Before(script string) {
	b.t.Helper()
	call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}
