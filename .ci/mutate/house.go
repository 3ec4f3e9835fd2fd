package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

// A test may take so many times as long as without a change, and so much
// besides: a change that makes it hang is killed by that. A test that wants more
// memory (kB) is ended.
const (
	patience    = 2
	grace       = 30 * time.Second
	memoryLimit = 6 << 20
)

// notBuilt stands for a change that does not compile.
const notBuilt = "not built"

// house is the module with its packages.
type house struct {
	dir      string // of the module
	packages []pkg  // in the order of their imports: the importing one later
	work     string // a folder for what is changed
	patience map[string]time.Duration
}

// pkg is a package as go list tells it.
type pkg struct {
	Dir, ImportPath                 string
	GoFiles, TestGoFiles            []string
	XTestGoFiles                    []string
	Deps, TestImports, XTestImports []string
}

func newHouse(ctx context.Context) (*house, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-deps", "-json", "./...").Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	h := &house{patience: map[string]time.Duration{}}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			pkg
			Standard bool
			Module   struct {
				Dir  string
				Main bool
			}
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if p.Module.Main {
			h.packages, h.dir = append(h.packages, p.pkg), p.Module.Dir
		}
	}
	h.work, err = os.MkdirTemp("", "mutate-")
	if err != nil {
		return nil, err
	}
	limit := fmt.Sprintf("#!/bin/sh\nulimit -v %d\nexec \"$@\"\n", memoryLimit)
	return h, os.WriteFile(h.limited(), []byte(limit), 0o700)
}

func (h *house) close() { os.RemoveAll(h.work) }

// limited is the program that runs a test within the limit of memory.
func (h *house) limited() string { return filepath.Join(h.work, "limited") }

// mutants lists the changes of the packages in some folders, where they match.
func (h *house) mutants(ctx context.Context, folders []string, match *regexp.Regexp) ([]mutant, error) {
	var out []mutant
	for _, folder := range folders {
		dir, err := filepath.Abs(folder)
		if err != nil {
			return nil, err
		}
		at := slices.IndexFunc(h.packages, func(p pkg) bool { return p.Dir == dir })
		if at < 0 {
			return nil, fmt.Errorf("%s is no package of this module", folder)
		}
		for _, name := range h.packages[at].GoFiles {
			list, err := mutantsOf(filepath.Join(dir, name))
			if err != nil {
				return nil, err
			}
			for _, m := range list {
				file, err := filepath.Rel(h.dir, m.path)
				if err != nil {
					return nil, err
				}
				m.file, m.pkg = filepath.ToSlash(file), h.packages[at].ImportPath
				if match.MatchString(m.place()) {
					out = append(out, m)
				}
			}
		}
	}
	return out, nil
}

// asked are the packages whose tests are asked about a change of one: its own,
// then those that import it, or whose tests do; own leaves out those that do not
// share its top folder.
func (h *house) asked(changed string, own bool) (out []string) {
	for _, p := range h.packages {
		if len(p.TestGoFiles)+len(p.XTestGoFiles) == 0 {
			continue
		}
		imports := slices.Contains(p.Deps, changed) || slices.Contains(p.TestImports, changed) || slices.Contains(p.XTestImports, changed)
		switch {
		case p.ImportPath == changed:
			out = slices.Insert(out, 0, changed)
		case imports && (!own || top(p.ImportPath) == top(changed)):
			out = append(out, p.ImportPath)
		}
	}
	return out
}

// top is the top folder of a package, with the module: gearsearch/search of
// gearsearch/search/internal/walk.
func top(path string) string {
	folders := strings.SplitN(path, "/", 3)
	return strings.Join(folders[:min(2, len(folders))], "/")
}

// ask returns the package whose tests fail for a change: "" if none do.
func (h *house) ask(ctx context.Context, m mutant, own bool) (by string, err error) {
	changed := filepath.Join(h.work, "changed.go")
	if err := os.WriteFile(changed, m.changed(), 0o600); err != nil {
		return "", err
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {m.path: changed}})
	if err != nil {
		return "", err
	}
	file := filepath.Join(h.work, "overlay.json")
	if err := os.WriteFile(file, overlay, 0o600); err != nil {
		return "", err
	}
	for i, name := range h.asked(m.pkg, own) {
		patience, err := h.unchanged(ctx, name)
		if err != nil {
			return "", err
		}
		passed, out := h.test(ctx, name, patience, "-overlay="+file)
		switch {
		case ctx.Err() != nil:
			return "", ctx.Err()
		case passed:
		case bytes.Contains(out, []byte("[build failed]")) || bytes.Contains(out, []byte("[setup failed]")):
			if i > 0 {
				return "", fmt.Errorf("%s: %s\n%s", m.place(), m.what, out)
			}
			return notBuilt, nil
		case bytes.Contains(out, []byte("panic: test timed out")):
			return name + ", which hangs", nil
		default:
			return name + "." + firstFailure(out), nil
		}
	}
	return "", nil
}

// firstFailure is the name of the test that failed, as far as it says one.
func firstFailure(out []byte) string {
	_, rest, ok := strings.Cut(string(out), "--- FAIL: ")
	if !ok {
		return "?"
	}
	name, _, _ := strings.Cut(rest, " ")
	return name
}

// unchanged is how long the tests of a package may take. They run once without
// a change, and must pass.
func (h *house) unchanged(ctx context.Context, name string) (time.Duration, error) {
	if d, ok := h.patience[name]; ok {
		return d, nil
	}
	began := time.Now()
	if passed, out := h.test(ctx, name, 0); !passed {
		return 0, fmt.Errorf("%s fails without any change:\n%s", name, out)
	}
	h.patience[name] = patience*time.Since(began) + grace
	return h.patience[name], nil
}

// test runs the short tests of a package; timeout 0 stands for none.
func (h *house) test(ctx context.Context, name string, timeout time.Duration, flags ...string) (passed bool, out []byte) {
	args := append([]string{"test", "-short", "-failfast", "-count=1", "-vet=off", "-timeout=" + timeout.String()}, flags...)
	if runtime.GOOS != "windows" {
		args = append(args, "-exec="+h.limited())
	}
	cmd := exec.CommandContext(ctx, "go", append(args, name)...)
	cmd.Dir = h.dir
	cmd.Env = append(os.Environ(), "RAPID_NOFAILFILE=1") // it would be played back ever after
	cmd.WaitDelay = 10 * time.Second
	out, err := cmd.CombinedOutput()
	return err == nil, out
}
