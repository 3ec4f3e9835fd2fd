package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"strings"
	"syscall"
	"testing"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// closedPipe is a writer whose reader has gone.
type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) {
	return 0, &fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.EPIPE}
}

func TestClosedPipeEndsQuietly(t *testing.T) {
	for _, line := range []string{
		"", "rank --help", "--version", "rank" + shop, "rank --format json" + shop, "rank --format jsonl" + shop,
		"rank --format csv --top 0" + shop, "rank --format markdown" + shop, "catalog check",
		"sheet testdata/shop/build.toml" + shop,
	} {
		var stderr bytes.Buffer
		code := run(context.Background(), append([]string{"gearsearch"}, strings.Fields(line+" --quiet")...), strings.NewReader(""), closedPipe{}, &stderr)
		if line == "" {
			continue // --quiet alone is no command line
		}
		if code != outcome.ExitAnswered || stderr.Len() > 0 {
			t.Errorf("gearsearch %s: exit code %d, stderr %q", line, code, stderr.String())
		}
	}
}

// full is a writer on a disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) {
	return 0, &fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}
}

func TestFullDiskIsSaid(t *testing.T) {
	var stderr bytes.Buffer
	code := run(context.Background(), strings.Fields("gearsearch rank --format csv"+shop), strings.NewReader(""), full{}, &stderr)
	if code != outcome.ExitIO || !strings.Contains(stderr.String(), "no space left on device") {
		t.Errorf("exit code %d, stderr %q", code, stderr.String())
	}
}

// TestInterrupted cancels a search that would take long: the answer is the
// best so far, marked, with the exit code of an interrupted program.
func TestInterrupted(t *testing.T) {
	const huge = " --catalog testdata/shop/huge.toml --top-speed 10km/h"
	for _, tt := range []struct{ line, mark string }{
		{"rank --format json", `"complete": false`},
		{"rank --format jsonl", `"complete": false`},
		{"rank --format table", "INCOMPLETE: interrupted after "},
		{"rank --format markdown", "INCOMPLETE: interrupted after "},
		{"rank --format csv", "rank,score,"},
	} {
		ctx, cancel := context.WithTimeout(context.Background(), 700*time.Millisecond)
		r := answerTo(ctx, tt.line+huge)
		cancel()
		if r.code != outcome.ExitInterrupted || !strings.Contains(r.stdout, tt.mark) || !strings.Contains(r.stderr, "the search is incomplete") {
			t.Errorf("%s: exit code %d, stdout %.200q, stderr %q", tt.line, r.code, r.stdout, r.stderr)
		}
	}
}

func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		err  error
		code int
		says string
		why  string
	}{
		{nil, outcome.ExitAnswered, "", "answered"},
		{outcome.ErrInfeasible, outcome.ExitInfeasible, "", "the answer has said it"},
		{outcome.Usage("do that", "wrong"), outcome.ExitUsage, "gearsearch: wrong\n    hint: do that\n", "usage"},
		{field.Problems{{Message: "odd"}}, outcome.ExitContent, "gearsearch: odd\n", "content without a place"},
		{field.Problems{{File: "f", Line: 1, Column: 2, Message: "odd"}}, outcome.ExitContent, "f:1:2: odd\n", "content with one"},
		{&fs.PathError{Op: "open", Path: "a\x1bb", Err: fs.ErrPermission}, outcome.ExitIO, "gearsearch: open \"a\\x1bb\": permission denied\n", "control characters are made visible"},
		{errors.New("odd"), outcome.ExitIO, "gearsearch: odd\n", "anything else"},
		{outcome.ErrInterrupted, outcome.ExitInterrupted, "", "the answer has said it"},
		{syscall.EPIPE, outcome.ExitAnswered, "", "nobody reads on"},
	} {
		var stderr bytes.Buffer
		p := &program{Desk: &ask.Desk{Stderr: &stderr}}
		if code := p.explain(tt.err); code != tt.code || stderr.String() != tt.says {
			t.Errorf("%s: exit code %d, says %q; want %d, %q", tt.why, code, stderr.String(), tt.code, tt.says)
		}
	}
}

// TestClosedPipes: the numbers are those of winerror.h, ERROR_BROKEN_PIPE and
// ERROR_NO_DATA; on Linux 109 is another error, and 232 is none.
func TestClosedPipes(t *testing.T) {
	for _, tt := range []struct {
		err    error
		system string
		want   bool
	}{
		{syscall.EPIPE, "linux", true},
		{syscall.EPIPE, "windows", true},
		{syscall.Errno(109), "windows", true},
		{&fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.Errno(232)}, "windows", true},
		{syscall.Errno(112), "windows", false}, // ERROR_DISK_FULL
		{syscall.Errno(109), "linux", false},
		{syscall.Errno(232), "darwin", false},
		{io.ErrShortWrite, "windows", false},
	} {
		if got := pipeClosed(tt.err, tt.system); got != tt.want {
			t.Errorf("%v on %s: %v", tt.err, tt.system, got)
		}
	}
}

// broken is a standard input that cannot be read.
type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestBrokenInput(t *testing.T) {
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), strings.Fields("gearsearch rank --brief - --catalog testdata/shop/parts.toml"), broken{}, &stdout, &stderr)
	if code != outcome.ExitIO || stderr.String() != "gearsearch: read \"standard input\": unexpected EOF\n" {
		t.Errorf("exit code %d, stderr %q", code, stderr.String())
	}
}
