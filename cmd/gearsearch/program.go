package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/search"
)

// Exit codes.
const (
	exitAnswered    = 0
	exitInfeasible  = 1   // nothing feasible, or a build that fails a check
	exitUsage       = 2   // wrong usage
	exitContent     = 3   // wrong catalog, brief or build
	exitIO          = 4   // input and output, and what should not happen
	exitInterrupted = 130 // as shells have it: 128 and the number of the signal
)

// program is one run of the program.
type program struct {
	*desk
	grace time.Duration // to end in once it is interrupted
}

// desk is where a run reads and writes, and how it is spoken to meanwhile.
type desk struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	quiet          bool // no notes on stderr
	files          files
}

// Answers that are not errors but have an exit code of their own. What there
// is to say about them is said where they arise.
var (
	errInfeasible  = errors.New("nothing feasible")
	errInterrupted = errors.New("interrupted")
)

// usageError is wrong usage of flags, arguments or commands.
type usageError struct{ problems field.Problems }

func (e *usageError) Error() string { return e.problems.Error() }

func usage(hint, format string, args ...any) error {
	return &usageError{field.Problems{{Message: fmt.Sprintf(format, args...), Hint: hint}}}
}

// note writes a line to stderr unless the user wants quiet.
func (d *desk) note(format string, args ...any) {
	if !d.quiet {
		fmt.Fprintf(d.stderr, format+"\n", args...)
	}
}

// explain writes what an error says to stderr and returns its exit code.
func (p *program) explain(err error) int {
	var wrong *usageError
	var problems field.Problems
	var path *fs.PathError
	var tooMany *search.TooManyError
	switch {
	case err == nil, pipeClosed(err, runtime.GOOS): // nobody reads on
		return exitAnswered
	case errors.Is(err, errInfeasible):
		return exitInfeasible
	case errors.Is(err, errInterrupted), errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &wrong):
		p.complain(wrong.problems...)
		return exitUsage
	case errors.As(err, &problems):
		p.complain(problems...)
		return exitContent
	case errors.As(err, &tooMany):
		p.complain(field.Problem{Message: err.Error(), Hint: "ask for more, or keep fewer parts, as in --keep motor=ID,ID --avoid wheel=ID"})
		return exitContent
	case errors.As(err, &path):
		p.complain(field.Problem{Message: path.Op + " " + shown(path.Path) + ": " + path.Err.Error(), Hint: nearestFile(path)})
		return exitIO
	default:
		p.complain(field.Problem{Message: err.Error()})
		return exitIO
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

// complain writes problems to stderr: those of a file as they are, with their
// place, any other under the program's name.
func (d *desk) complain(problems ...field.Problem) {
	named := slices.Clone(problems)
	for i := range named {
		if named[i].File == "" {
			named[i].Message = "gearsearch: " + named[i].Message
		}
	}
	fmt.Fprintln(d.stderr, field.Problems(named).Error())
}

// shown is a file name or word from the command line as messages show it: as
// it is where that is plain, else in quotes with escapes.
func shown(s string) string {
	plain := func(r rune) bool { return strconv.IsPrint(r) && r != ' ' && r != '"' && r != '\\' }
	if s == "" || strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) >= 0 {
		return field.Quote(s)
	}
	return s
}

// nearestFile is a hint at a file whose name is near one that does not exist.
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
		return "did you mean " + shown(dir+near) + "?"
	}
	return ""
}

// bar shows that a search goes on.
func (d *desk) bar() *bar { return newBar(d.stderr, d.quiet) }
