package site

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"io/fs"
	"path"
	"regexp"
	"strings"

	"gearsearch/cmd/gearsearch/internal/leaf"
)

// head is what the page is made of: its one script, of the scripts that
// index.html names, in their order, its one style sheet likewise, and index.html
// itself with these two in their place.
type head struct {
	index, script, style []byte
}

var (
	styleLine  = regexp.MustCompile(`<link rel="stylesheet" href="([^"]+)">\n`)
	scriptLine = regexp.MustCompile(`<script src="([^"]+)" defer></script>\n`)
)

// assemble puts the page's sources together.
func assemble(engines Engines, folder bool) (h head, err error) {
	index, err := fs.ReadFile(pages, IndexName)
	if err != nil {
		return h, err
	}
	if index, err = fill(index); err != nil {
		return h, err
	}
	own, err := about(engines, folder)
	if err != nil {
		return h, err
	}
	h.script = append(h.script, own...)
	if index, err = gather(&h.script, index, scriptLine, `<script src="`+ScriptName+`" defer></script>`); err != nil {
		return h, err
	}
	h.index, err = gather(&h.style, index, styleLine, `<link rel="stylesheet" href="`+StyleName+`">`)
	return h, err
}

// gather appends the files that lines of the page name to one, and puts one line
// in the place of the first of them.
func gather(to *[]byte, index []byte, line *regexp.Regexp, one string) ([]byte, error) {
	lines := line.FindAllSubmatchIndex(index, -1)
	if lines == nil {
		return nil, fmt.Errorf("%s has no line %s", IndexName, line)
	}
	var out []byte
	from := 0
	for i, at := range lines {
		out = append(out, index[from:at[0]]...)
		if i == 0 {
			out = append(out, one+"\n"...)
		}
		from = at[1]
		name := string(index[at[2]:at[3]])
		text, err := source(name)
		if err != nil {
			return nil, err
		}
		*to = append(append(append(*to, "\n/* "+path.Base(name)+" */\n"...), text...), '\n')
	}
	return append(out, index[from:]...), nil
}

// firstBrief is the demo brief that the page begins with.
const firstBrief = "harbour"

// fill writes into the page what is read before its engine runs.
func fill(index []byte) ([]byte, error) {
	first, err := leaf.First(context.Background(), firstBrief, "first-title")
	if err != nil {
		return nil, err
	}
	for place, node := range map[string]*leaf.Node{"<!-- the demo's answer -->": first, "<!-- cautions -->": leaf.EveryCaution()} {
		if bytes.Count(index, []byte(place)) != 1 {
			return nil, fmt.Errorf("%s must have %q once", IndexName, place)
		}
		index = bytes.Replace(index, []byte(place), []byte(node.String()), 1)
	}
	return index, nil
}

// source is a file that the page's sources name: the style and the script of what
// it has in common with the report are those of package leaf.
func source(name string) ([]byte, error) {
	switch name {
	case "leaf.css":
		return []byte(leaf.Style), nil
	case "leaf.js":
		return []byte(leaf.Script()), nil
	}
	return fs.ReadFile(pages, name)
}

// about is the beginning of the page's script: what the program says of itself,
// and the two scripts that the worker is made of. folder tells that the page has
// other files beside it.
func about(engines Engines, folder bool) ([]byte, error) {
	line, _, _ := strings.Cut(engines.Version, "\n")
	known, err := Foreknown()
	if err != nil {
		return nil, err
	}
	texts, err := json.Marshal(map[string]any{
		"version": line, "runtime": string(engines.Runtime), "worker": Worker, "folder": folder, "foreknown": known,
	})
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "\"use strict\";\nglobalThis.gearsearchPage = %s;\n", texts), nil
}

// CodeScript is an engine as a script, which loads wherever a script does, from a
// disk too: its compressed WebAssembly in base64. name is where the page finds it.
func CodeScript(name string, code []byte) []byte {
	return fmt.Appendf(nil, "globalThis.gearsearchCode = { ...globalThis.gearsearchCode, %q: %q };\n", name, base64.StdEncoding.EncodeToString(code))
}

// offline is the page's service worker: which files it holds, and a version that
// changes with any of them.
func offline(list []file) ([]byte, error) {
	sum := sha256.New()
	names := []string{"./"} // the page itself, by the name that servers know it by
	var large []string
	for _, file := range list {
		fmt.Fprintf(sum, "%s %d\n", file.name, len(file.data))
		sum.Write(file.data)
		switch {
		case file.name == ProgramWasm:
			large = append(large, file.name)
		case file.served:
			names = append(names, file.name)
		}
	}
	const digits = 16
	told, err := json.Marshal(map[string]any{"version": hex.EncodeToString(sum.Sum(nil))[:digits], "files": names, "large": large})
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "\"use strict\";\nconst held = %s;\n%s", told, offlineScript), nil
}

// OneFile is the whole page in one file. Its policy knows script and style by
// their hashes, and forbids every connection; the engines stand in it as data.
func OneFile(engines Engines) ([]byte, error) {
	h, err := assemble(engines, false)
	if err != nil {
		return nil, err
	}
	icon, err := fs.ReadFile(pages, IconName)
	if err != nil {
		return nil, err
	}
	for _, text := range [][]byte{h.script, h.style} {
		if bytes.Contains(bytes.ToLower(text), []byte("</s")) || bytes.Contains(text, []byte("<!--")) || bytes.ContainsAny(text, "\r\x00") {
			return nil, fmt.Errorf("a script or a style of the page cannot stand in %s: it has </s, <!--, or a control character in it", IndexName)
		}
	}
	index := string(h.index)
	for _, change := range [][2]string{
		{policyOf(index), "default-src 'none'; script-src " + hashed(h.script) + " 'wasm-unsafe-eval'; style-src " + hashed(h.style) + "; img-src data:; worker-src blob:; connect-src 'none'; base-uri 'none'; form-action 'none'"},
		{`<link rel="stylesheet" href="` + StyleName + `">`, "<style>" + string(h.style) + "</style>"},
		{`<script src="` + ScriptName + `" defer></script>` + "\n", ""},
		{`href="` + IconName + `"`, `href="data:image/svg+xml;base64,` + base64.StdEncoding.EncodeToString(icon) + `"`},
		{licences, `<details class="small"><summary>Licences</summary><pre tabindex="0">` + html.EscapeString(string(engines.Notices)) + "</pre></details>"},
		// Data behind the script: what is to be read stands before it.
		{"</body>", "<script>" + string(h.script) + "</script>\n" + codeData("engine", engines.Plain) + codeData("program", engines.Program) + "</body>"},
	} {
		if change[0] == "" || strings.Count(index, change[0]) != 1 {
			return nil, fmt.Errorf("%s must have %q once", IndexName, change[0])
		}
		index = strings.Replace(index, change[0], change[1], 1)
	}
	return []byte(index), nil
}

// licences is the line of the page that leads to the notices.
const licences = `<p class="small"><a href="` + NoticesName + `">Licences</a></p>`

var policy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]+)">`)

func policyOf(index string) string {
	if m := policy.FindStringSubmatch(index); m != nil {
		return m[1]
	}
	return ""
}

// hashed is how a policy names a script or a style that stands in the page.
func hashed(text []byte) string {
	sum := sha256.Sum256(text)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// codeData is an engine as data of the page, which is not read as a script.
func codeData(name string, e Engine) string {
	return fmt.Sprintf("<script type=\"text/plain\" id=\"code-%s\">%s</script>\n", name, base64.StdEncoding.EncodeToString(e.Gzip))
}
