package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

var update = flag.Bool("update", false, "write what the program answers into the golden parts of the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"gearsearch":       func() { os.Exit(heed(time.Minute, true)) }, // whatever else the machine does
		"gearsearch-brisk": main,
	})
}

// TestScript runs the command scripts. Each starts in a folder that holds the
// files of testdata/shop.
func TestScript(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("COLUMNS", "")
			return os.CopyFS(env.WorkDir, os.DirFS(filepath.Join("testdata", "shop")))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits": exits, "interrupt": interrupt, "hold": hold,
		},
	})
}

// exits runs a program and holds its exit code to the first argument.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code program [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := err.(*exec.ExitError)
		if !ok {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// interrupt runs a program, sends it an interrupt after the time in the first
// argument, and waits for it to end with the code of an interrupted answer.
// What it wrote is in the files out and err.
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: interrupt duration program [args...]")
	}
	after, err := time.ParseDuration(args[0])
	ts.Check(err)
	program := programNamed(ts, args[1])
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(program, args[2:]...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = ts.MkAbs("."), &stdout, &stderr
	ts.Check(cmd.Start())
	time.Sleep(after)
	ts.Check(cmd.Process.Signal(os.Interrupt))
	stop := time.AfterFunc(time.Minute, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait() // the code is looked at
	stop.Stop()
	ts.Check(os.WriteFile(ts.MkAbs("out"), stdout.Bytes(), 0o600))
	ts.Check(os.WriteFile(ts.MkAbs("err"), stderr.Bytes(), 0o600))
	if code := cmd.ProcessState.ExitCode(); code != outcome.ExitInterrupted {
		ts.Fatalf("exit code %d, want %d; stderr: %s", code, outcome.ExitInterrupted, stderr.Bytes())
	}
}

// programNamed is the file of a program of the script.
func programNamed(ts *testscript.TestScript, name string) string {
	for _, dir := range filepath.SplitList(ts.Getenv("PATH")) {
		if path := filepath.Join(dir, name); isFile(path) {
			return path
		}
	}
	ts.Fatalf("there is no program %s", name)
	return ""
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

// result is what one run of the program gave.
type result struct {
	code           int
	stdout, stderr string
}

// answerTo runs the program on a command line, split at spaces.
func answerTo(ctx context.Context, line string) result {
	var stdout, stderr bytes.Buffer
	code := run(ctx, append([]string{"gearsearch"}, strings.Fields(line)...), strings.NewReader(""), &stdout, &stderr)
	return result{code, stdout.String(), stderr.String()}
}

// shop are the flags for the catalog and the brief of the tests.
const shop = " --catalog testdata/shop/parts.toml --brief testdata/shop/brief.toml"
