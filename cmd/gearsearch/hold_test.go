//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/shell"
	"gearsearch/cmd/gearsearch/site"
)

// The files that commands are run on, of which each is once one that nobody
// writes to.
const (
	heldInput  = "held.toml"
	heldOutput = "held" // and an ending
	heldPage   = "site"
	newFolder  = "begun"
)

// heldLines are how each command is run on the files of the shop. A command
// that is missing here fails the test.
var heldLines = map[string][]string{
	"rank": {
		"--catalog parts.toml --brief brief.toml",
		"--catalog parts.toml --brief brief.toml --stability --tolerance",
		"--catalog parts.toml --brief brief.toml --brief brief.toml --share battery",
		"--catalog parts.toml --brief brief.toml --route way.csv",
	},
	"sheet":           {"build.toml --catalog parts.toml --brief brief.toml", "build.toml --tolerance --catalog parts.toml --brief brief.toml"},
	"parts":           {"build.toml --catalog parts.toml --brief brief.toml"},
	"swap":            {"build.toml --change wheel --catalog parts.toml --brief brief.toml"},
	"vary":            {"build.toml --kv 160,190 --catalog parts.toml --brief brief.toml", "--kv 150 --series 11 --teeth 14:48 --wheel-size 120mm --brief brief.toml"},
	"shortlist":       {"motor --catalog parts.toml --brief brief.toml"},
	"relax":           {"--catalog parts.toml --brief brief.toml"},
	"ideal":           {"--catalog parts.toml --brief brief.toml"},
	"route":           {"way.csv", "way.gpx"},
	"fit":             {"build.toml out.csv back.csv --catalog parts.toml --brief brief.toml"},
	"plot":            {"build.toml thrust --catalog parts.toml --brief brief.toml"},
	"report":          {"--catalog parts.toml --brief brief.toml"},
	"page":            {heldPage},
	"catalog new":     {newFolder},
	"catalog add":     {"motor --kv 130 --catalog parts.toml"},
	"catalog check":   {"parts.toml"},
	"catalog show":    {"motor --catalog parts.toml", "--standard belts/xl"},
	"catalog convert": {"parts.toml " + newFolder},
	"catalog merge":   {"parts.toml parts.toml -o all.toml --overwrite"},
	"catalog diff":    {"parts.toml parts.toml"},
	"catalog import":  {"shed.csv --map Colour=-"},
	"catalog schema":  {""},
	"completion":      {"bash"},
	"reference":       {"brief"},
	"man":             {""},
	"complete-words":  {"-- rank --catalog parts.toml --keep motor="},
}

// outputEndings are the endings of files for commands that write no JSON.
var outputEndings = map[string]string{"plot": ".svg", "report": ".html", "catalog import": ".csv"}

// heldUp is a run that somebody holds up.
type heldUp struct {
	words  []string
	full   bool // standard output is a pipe that nobody reads
	silent bool // standard input is one that nobody writes
}

// holdUps are the ways in which a command can be held up: each file that it
// reads, its output, its standard output and input.
func holdUps(path string, c *cli.Command, line string) []heldUp {
	words := append(strings.Fields(path), strings.Fields(line)...)
	out := []heldUp{{words: words, full: true}}
	for i, w := range words {
		switch w {
		case "parts.toml", "brief.toml", "build.toml", "way.csv", "way.gpx", "out.csv", "shed.csv":
			held := slices.Clone(words)
			held[i] = heldInput
			out = append(out, heldUp{words: held})
			if w == "parts.toml" || w == "out.csv" || w == "shed.csv" {
				continue
			}
			held = slices.Clone(words)
			held[i] = "-"
			out = append(out, heldUp{words: held, silent: true})
		}
	}
	for _, f := range c.Flags {
		if f.Names()[0] == "o" && !slices.Contains(words, "-o") {
			ending, ok := outputEndings[path]
			if !ok {
				ending = ".json"
			}
			out = append(out, heldUp{words: append(slices.Clone(words), "-o", heldOutput+ending)})
		}
	}
	return out
}

// hold runs every command of the program held up in every way, interrupts it,
// and asserts that it ends.
func hold(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hold program")
	}
	binary, dir := programNamed(ts, args[0]), ts.MkAbs(".")
	ts.Check(os.Mkdir(ts.MkAbs(heldPage), 0o700))
	for _, name := range []string{heldPage + "/" + site.IndexName, heldInput, heldOutput + ".json", heldOutput + ".svg", heldOutput + ".html", heldOutput + ".csv"} {
		ts.Check(syscall.Mkfifo(ts.MkAbs(name), 0o600))
	}
	var runs []heldUp
	p := &program{}
	add := func(path string, c *cli.Command) {
		lines := heldLines[path]
		if len(lines) == 0 {
			ts.Fatalf("heldLines does not tell how %s is run", path)
		}
		for _, line := range lines {
			runs = append(runs, holdUps(path, c, line)...)
		}
	}
	shell.Leaves(p.commands(), "", add)
	add(shell.CompleteCommand, p.completeWordsCommand()) // which is hidden
	for i := range runs {                                // each writes its own
		for j, w := range runs[i].words {
			if w == newFolder {
				runs[i].words = slices.Clone(runs[i].words)
				runs[i].words[j] = fmt.Sprintf("%s-%d", w, i)
			}
		}
	}
	wrong := make([]error, len(runs))
	var wg sync.WaitGroup
	room := make(chan struct{}, 8)
	for i, r := range runs {
		wg.Go(func() {
			room <- struct{}{}
			defer func() { <-room }()
			wrong[i] = r.ends(binary, dir)
		})
	}
	wg.Wait()
	for i, err := range wrong {
		if err != nil {
			ts.Logf("%s (standard output held %t, input %t): %v", strings.Join(runs[i].words, " "), runs[i].full, runs[i].silent, err)
		}
	}
	for _, err := range wrong {
		ts.Check(err)
	}
}

// ends runs the command, interrupts it once it waits, and reports whether it
// does not end soon as one that was interrupted.
func (r heldUp) ends(program, dir string) error {
	const (
		patience = 20 * time.Second // against hanging; it is one second where the machine is free
		attempts = 4
	)
	wait := 400 * time.Millisecond
	for range attempts {
		code, stderr, err := r.interrupted(program, dir, wait, patience)
		switch {
		case err != nil:
			return err
		case code == -1: // the machine is busy: it had not begun to listen
			wait *= 3
			continue
		case code != outcome.ExitInterrupted:
			return fmt.Errorf("exit code %d, want %d; stderr: %s", code, outcome.ExitInterrupted, stderr)
		}
		return nil
	}
	return fmt.Errorf("it does not listen to interrupts")
}

// interrupted runs the command and interrupts it after a while. The code is -1
// where that ended it.
func (r heldUp) interrupted(program, dir string, wait, patience time.Duration) (code int, stderr string, err error) {
	var said bytes.Buffer
	cmd := exec.Command(program, r.words...)
	cmd.Dir, cmd.Stderr = dir, &said
	if r.full {
		reader, writer, err := fullPipe()
		if err != nil {
			return 0, "", err
		}
		defer reader.Close()
		defer writer.Close()
		cmd.Stdout = writer
	}
	if r.silent {
		reader, writer, err := os.Pipe()
		if err != nil {
			return 0, "", err
		}
		defer reader.Close()
		defer writer.Close()
		cmd.Stdin = reader
	}
	if err := cmd.Start(); err != nil {
		return 0, "", err
	}
	time.Sleep(wait)
	_ = cmd.Process.Signal(os.Interrupt)
	stop := time.AfterFunc(patience, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait() // the code is looked at
	if !stop.Stop() {
		return 0, "", fmt.Errorf("it did not end in %s", patience)
	}
	return cmd.ProcessState.ExitCode(), said.String(), nil
}

// fullPipe is a pipe that takes no byte more.
func fullPipe() (reader, writer *os.File, err error) {
	var ends [2]int
	if err := syscall.Pipe(ends[:]); err != nil {
		return nil, nil, err
	}
	syscall.CloseOnExec(ends[0])
	syscall.CloseOnExec(ends[1])
	if err := syscall.SetNonblock(ends[1], true); err != nil {
		return nil, nil, err
	}
	for _, n := range []int{1 << 12, 1} {
		for {
			if _, err := syscall.Write(ends[1], make([]byte, n)); err == syscall.EAGAIN {
				break
			} else if err != nil {
				return nil, nil, err
			}
		}
	}
	if err := syscall.SetNonblock(ends[1], false); err != nil {
		return nil, nil, err
	}
	return os.NewFile(uintptr(ends[0]), "reader"), os.NewFile(uintptr(ends[1]), "writer"), nil
}
