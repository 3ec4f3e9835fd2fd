// Package report writes a ranking as one HTML file to look at, on a screen or on
// paper.
//
// The file needs nothing but itself: no address outside is ever asked, and a
// content security policy in it forbids that, and any script or style but its
// own. It says everything without JavaScript, which only adds order: sorting,
// filtering, other weights, builds side by side.
//
// # Order
//
// Under other weights the page ranks the builds that it holds as package search
// would: each build carries the scores of its criteria, its price, and its place
// in the order of ids, which breaks ties; the sums run in the same order with
// the same double-precision arithmetic, and are rounded alike.
//
// # What is not trusted
//
// Names, notes, ids and links come from a catalog and are data. The templates
// escape them for where they stand; a link becomes one only where it is an
// http or https address; and characters that control or turn a text are written
// out, wherever they stand.
package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"
	"unicode"

	"gearsearch/cmd/gearsearch/internal/say"
)

// The parts of the page. The hashes of style and script stand in its policy.
var (
	//go:embed page.gohtml
	pageText string
	//go:embed page.css
	styleText string
	//go:embed page.js
	scriptText string
)

// page is the template of the page.
func page() (*template.Template, error) {
	return template.New("page").Funcs(template.FuncMap{
		"link": safeLink,
		"inc":  func(i int) int { return i + 1 },
		"thin": func() int { return say.ThinMargin },
	}).Parse(pageText)
}

// Write writes the document as an HTML file.
func Write(w io.Writer, d *Document) error {
	t, err := page()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	err = t.Execute(&b, struct {
		*Document
		Policy string
		Style  template.CSS
		Script template.JS
	}{d, policy(), template.CSS(styleText), template.JS(scriptText)})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, plain(strings.TrimSpace(b.String()))+"\n")
	return err
}

// policy is the content security policy: this style and this script, and
// nothing from anywhere. The empty icon keeps browsers from asking for one.
func policy() string {
	hash := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return "default-src 'none'; img-src data:; style-src " + hash(styleText) + "; script-src " + hash(scriptText) + "; base-uri 'none'; form-action 'none'"
}

// plain writes out the characters that control or turn a text, so that none is
// in the page.
func plain(s string) string {
	if strings.IndexFunc(s, unruly) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unruly(r) {
			fmt.Fprintf(&b, "⟨U+%04X⟩", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// unruly reports whether a character controls or turns a text: controls but
// those of layout, directional marks and isolates, line separators, and those
// that cannot be seen.
func unruly(r rune) bool {
	switch {
	case r == '\n', r == '\t':
		return false
	case unicode.IsControl(r), r == '\ufffd':
		return true
	case r == '\u061c', r == '\u200e', r == '\u200f', r == '\u2028', r == '\u2029', r == '\ufeff':
		return true
	}
	return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' || r >= 0xE0000 && r <= 0xE007F
}
