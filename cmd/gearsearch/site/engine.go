package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// ProgramPackage is this program, which answers all that the engine of the page does
// not, and EnginePackage that engine. Both are compiled to WebAssembly.
const (
	ProgramPackage = "gearsearch/cmd/gearsearch"
	EnginePackage  = ProgramPackage + "/pagewasm"
)

// Build builds the engines with the go command from the source of this program.
func Build(ctx context.Context) (e Engines, err error) {
	tool, err := exec.LookPath("go")
	if err != nil {
		return e, errors.New("this program has no engine for the page in it, and there is no go command to build one: install Go, or take a release, which has it in it")
	}
	source, err := EngineSource(ctx, tool, SourcePlaces())
	if err != nil {
		return e, err
	}
	program, err := source.run(ctx, "list", "-e", "-f", "{{.Dir}}", ProgramPackage)
	if err != nil {
		return e, err
	}
	e.Source = filepath.Join(program, "site")
	root, err := source.run(ctx, "env", "GOROOT")
	if err != nil {
		return e, err
	}
	if e.Runtime, err = os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js")); err != nil {
		return e, err
	}
	if e.Plain.Wasm, err = source.engine(ctx, EnginePackage, small()...); err != nil {
		return e, err
	}
	e.Program.Wasm, err = source.engine(ctx, ProgramPackage)
	return e, err
}

// hotPackages are those of the searching engine in which its time is spent, as patterns
// of the go command. The others are built without inlining, which takes a twentieth off
// what a phone must fetch. The runtime is one of the others: in it that is two hundredths,
// and a ranking takes as long.
var hotPackages = []string{
	"gearsearch/drive/...", "gearsearch/constraints", "gearsearch/search/internal/walk",
	"math", "math/bits", "iter", "internal/runtime/...", "sync", "sync/atomic", "internal/sync",
}

// small are the flags that build the searching engine small.
func small() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, pattern := range hotPackages {
		flags = append(flags, "-gcflags="+pattern+"=") // the last pattern that matches holds
	}
	return flags
}

// engine builds an engine.
func (c clone) engine(ctx context.Context, pkg string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "gearsearch-page-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	wasm := filepath.Join(dir, "engine.wasm")
	arguments := append([]string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", wasm}, flags...)
	if _, err := c.run(ctx, append(arguments, pkg)...); err != nil {
		return nil, fmt.Errorf("the engine of the page cannot be built: %w", err)
	}
	return os.ReadFile(wasm)
}

// clone is a folder of the source with the go command to be run there.
type clone struct{ tool, dir string }

// SourcePlaces are the folders that may be in a clone of the source: the
// working folder, then the one that this program was built in.
func SourcePlaces() []string {
	places := []string{"."}
	if _, file, _, ok := runtime.Caller(0); ok && filepath.IsAbs(file) {
		places = append(places, filepath.Dir(file))
	}
	return places
}

// EngineSource finds the first of the places that is in a clone of the source.
func EngineSource(ctx context.Context, tool string, places []string) (clone, error) {
	for _, place := range places {
		if info, err := os.Stat(place); err != nil || !info.IsDir() {
			continue
		}
		c := clone{tool, place}
		if _, err := c.run(ctx, "list", EnginePackage); err == nil {
			return c, nil
		}
		if ctx.Err() != nil {
			return clone{}, ctx.Err()
		}
	}
	return clone{}, errors.New("this program has no engine for the page in it, and this folder is no clone of its source to build one of: run it in the clone, or take a release, which has it in it")
}

// ending is how long the go command may take to end: half of what an interrupted
// run may.
const ending = 450 * time.Millisecond

// run runs the go command for WebAssembly and returns what it prints. An error
// has what it complains about.
func (c clone) run(ctx context.Context, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, c.tool, args...)
	// It is asked to end, so that it clears away what it has begun, then made to.
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	cmd.WaitDelay = ending
	cmd.Dir = c.dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	err := cmd.Run()
	switch {
	case ctx.Err() != nil:
		return "", ctx.Err()
	case err != nil:
		return "", fmt.Errorf("go %s: %w\n%s", strings.Join(args, " "), err, strings.TrimSpace(stderr.String()))
	}
	return strings.TrimSpace(stdout.String()), nil
}
