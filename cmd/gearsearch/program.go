package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// program is one run of the program.
type program struct {
	*ask.Desk
	grace time.Duration // to end in once it is interrupted
}

// explain writes what an error says to stderr and returns its exit code.
func (p *program) explain(err error) int {
	var wrong *outcome.UsageError
	var problems field.Problems
	var path *fs.PathError
	var tooMany *search.TooManyError
	switch {
	case err == nil, pipeClosed(err, runtime.GOOS): // nobody reads on
		return outcome.ExitAnswered
	case errors.Is(err, outcome.ErrInfeasible):
		return outcome.ExitInfeasible
	case errors.Is(err, outcome.ErrInterrupted), errors.Is(err, context.Canceled):
		return outcome.ExitInterrupted
	case errors.As(err, &wrong):
		p.Complain(wrong.Problems...)
		return outcome.ExitUsage
	case errors.As(err, &problems):
		p.Complain(problems...)
		return outcome.ExitContent
	case errors.As(err, &tooMany):
		p.Complain(field.Problem{Message: err.Error(), Hint: "ask for more, or keep fewer parts, as in --keep motor=ID,ID --avoid wheel=ID"})
		return outcome.ExitContent
	case errors.As(err, &path):
		p.Complain(field.Problem{Message: path.Op + " " + say.Shown(path.Path) + ": " + path.Err.Error(), Hint: nearestFile(path)})
		return outcome.ExitIO
	default:
		p.Complain(field.Problem{Message: err.Error()})
		return outcome.ExitIO
	}
}

// pipeClosed reports whether an operating system says that nobody reads what is
// written. Windows has numbers of its own for that, ERROR_BROKEN_PIPE and
// ERROR_NO_DATA (System Error Codes, winerror.h), which mean other things
// elsewhere.
func pipeClosed(err error, system string) bool {
	const brokenPipe, noData = syscall.Errno(109), syscall.Errno(232)
	return errors.Is(err, syscall.EPIPE) || system == "windows" && (errors.Is(err, brokenPipe) || errors.Is(err, noData))
}

// nearestFile is a hint at a file with a name similar to one that does not exist.
func nearestFile(err *fs.PathError) string {
	if !errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	dir, base := filepath.Split(err.Path)
	entries, failed := os.ReadDir(filepath.Clean("./" + dir))
	if filepath.IsAbs(dir) {
		entries, failed = os.ReadDir(dir)
	}
	if failed != nil {
		return ""
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	if near, ok := field.Nearest(base, slices.Values(names)); ok && near != base {
		return "did you mean " + say.Shown(dir+near) + "?"
	}
	return ""
}
