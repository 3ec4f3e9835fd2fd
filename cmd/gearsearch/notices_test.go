package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/site"
)

// released are the systems that programs are released for (.ci/release), and
// that of the page's engines.
var released = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64", "js/wasm"}

// licenceName is a file or a folder of files that a module says its terms in.
var licenceName = regexp.MustCompile(`(?i)^(licen[cs]es?|copying|notices?|patents|ofl|third[-_]party[-_]licen[cs]es?)([-._].*)?$`)

// Where a module says its terms elsewhere, and what of several terms at choice
// is not chosen.
var (
	licenceElsewhere = map[string]string{"golang.org/x/image": "font/gofont/ttfs/README"}        // of the Go fonts
	notChosen        = map[string]string{"github.com/golang/freetype": "licenses/gpl.txt"}       // the FreeType License is
	fontFile         = regexp.MustCompile(`(?i)\.(ttf|otf|woff2?)$`)                             // embedded in a package
	fontLicence      = regexp.MustCompile(`(?i)SIL Open Font License|Distribution of this font`) // of such a file
)

// linked is a package that a program has in it, as go list tells it.
type linked struct {
	Dir        string
	Standard   bool
	EmbedFiles []string
	Module     *struct {
		Path, Version, Dir string
		Main               bool
	}
}

// linkedPackages are the packages of other modules in what is released for a
// system.
func linkedPackages(t *testing.T, system string) []linked {
	t.Helper()
	goos, goarch, _ := strings.Cut(system, "/")
	args := []string{"list", "-deps", "-json=Dir,Standard,EmbedFiles,Module", "gearsearch/cmd/gearsearch"}
	if goos == "js" {
		args = append(args[:3], site.EnginePackage, site.ProgramPackage)
	}
	cmd := exec.Command("go", args...)
	cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []linked
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p linked
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		if !p.Standard && !p.Module.Main {
			all = append(all, p)
		}
	}
}

// terms are the texts that modules are used under, and the names of those that
// share a text.
type terms struct {
	texts map[string][]string // by text: the files that say it
	of    map[string][]string // by module: its texts
}

// add adds a file of a module, once.
func (m *terms) add(t *testing.T, module, dir, name string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " \t\f")
	}
	text := strings.Trim(strings.Join(lines, "\n"), "\n")
	title := module + ": " + name
	if !slices.Contains(m.texts[text], title) {
		m.texts[text] = append(m.texts[text], title)
		m.of[module] = append(m.of[module], text)
	}
}

// addPackage adds what stands in the folders from a package's up to its
// module's.
func (m *terms) addPackage(t *testing.T, p linked) {
	t.Helper()
	module := p.Module.Path + " " + p.Module.Version
	sub, err := filepath.Rel(p.Module.Dir, p.Dir)
	if err != nil {
		t.Fatal(err)
	}
	for at := filepath.ToSlash(sub); ; at = path.Dir(at) {
		entries, err := os.ReadDir(filepath.Join(p.Module.Dir, filepath.FromSlash(at)))
		if err != nil {
			t.Fatal(err)
		}
		for _, entry := range entries {
			switch name := path.Join(at, entry.Name()); {
			case !licenceName.MatchString(entry.Name()):
			case !entry.IsDir():
				m.add(t, module, p.Module.Dir, name)
			default:
				m.addFolder(t, module, p.Module.Dir, name, notChosen[p.Module.Path])
			}
		}
		if at == "." {
			break
		}
	}
	if name := licenceElsewhere[p.Module.Path]; name != "" {
		m.add(t, module, p.Module.Dir, name)
	}
}

// addFolder adds a folder of licences, but for one that is not chosen.
func (m *terms) addFolder(t *testing.T, module, dir, folder, but string) {
	t.Helper()
	entries, err := fs.ReadDir(os.DirFS(dir), folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if name := path.Join(folder, entry.Name()); !entry.IsDir() && name != but {
			m.add(t, module, dir, name)
		}
	}
}

// write writes all texts, one that several modules share once.
func (m *terms) write() []byte {
	var b bytes.Buffer
	b.WriteString("gearsearch and its page are made of the parts below. Where a part is offered\nunder several terms at choice, the terms that stand here are chosen.\n\n")
	for _, module := range slices.Sorted(maps.Keys(m.of)) {
		b.WriteString("  " + module + "\n")
	}
	texts := slices.SortedFunc(maps.Keys(m.texts), func(a, b string) int {
		return strings.Compare(m.texts[a][0], m.texts[b][0])
	})
	for _, text := range texts {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 80), strings.Join(m.texts[text], "\n"), text)
	}
	return b.Bytes()
}

// TestNotices gathers the licences of everything that is released and holds the
// notices to them.
func TestNotices(t *testing.T) {
	m := terms{map[string][]string{}, map[string][]string{}}
	fonts := map[string]bool{} // modules that have fonts in them
	for _, system := range released {
		for _, p := range linkedPackages(t, system) {
			module := p.Module.Path + " " + p.Module.Version
			m.addPackage(t, p)
			if len(m.of[module]) == 0 {
				t.Errorf("%s says no terms that are found", module)
			}
			fonts[module] = fonts[module] || slices.ContainsFunc(p.EmbedFiles, fontFile.MatchString)
		}
	}
	for module, has := range fonts {
		if has && !slices.ContainsFunc(m.of[module], fontLicence.MatchString) {
			t.Errorf("%s has fonts in it, and no licence for fonts", module)
		}
	}
	m.add(t, "gearsearch", "../..", "LICENSE")
	m.addGo(t)
	for text := range m.texts {
		slices.Sort(m.texts[text])
	}
	want := m.write()
	if *update {
		if err := os.WriteFile(site.NoticesName, want, 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(notices), "\n")); diff != "" {
		t.Errorf("%s is not current, -update writes it anew:\n%s", site.NoticesName, diff)
	}
}

// addGo adds the terms of Go itself: its library and runtime, and the script
// that goes with WebAssembly. The modules of the Go project have the same text
// where a distribution of Go has none.
func (m *terms) addGo(t *testing.T) {
	t.Helper()
	const module = "Go, the standard library and runtime"
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	dir := strings.TrimSpace(string(out))
	if _, err := os.Stat(filepath.Join(dir, "LICENSE")); err == nil {
		m.add(t, module, dir, "LICENSE")
		return
	}
	for text, titles := range m.texts {
		if slices.ContainsFunc(titles, func(s string) bool {
			return strings.HasPrefix(s, "golang.org/x/sys ") && strings.HasSuffix(s, ": LICENSE")
		}) {
			m.texts[text] = append(titles, module+": LICENSE")
			m.of[module] = []string{text}
		}
	}
}

// TestNoticesAreThere looks for the notices where the code goes.
func TestNoticesAreThere(t *testing.T) {
	dir := t.TempDir()
	if err := site.Write(new(files.Register), dir, site.Engines{Notices: notices}); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(dir, site.NoticesName))
	if err != nil || !bytes.Equal(got, notices) {
		t.Errorf("the page's folder: %.60q, %v", got, err)
	}
	for _, said := range []string{"The Go Authors", "SIL OPEN FONT LICENSE", "Bigelow & Holmes", "The Gonum Authors", "The FreeType Project", "MIT License"} {
		if !bytes.Contains(notices, []byte(said)) {
			t.Errorf("the notices do not say %q", said)
		}
	}
}
