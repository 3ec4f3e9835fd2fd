package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"golang.org/x/sys/unix"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout/progress"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// terminal is a pseudo-terminal: what the program writes to the one end is
// read at the other, where keys are typed.
type terminal struct {
	slave *os.File
	keys  *os.File
	shown chan string // all that was written, once slave is closed
}

// newTerminal opens a terminal of that many columns.
func newTerminal(t *testing.T, columns uint16) *terminal {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	fd := int(master.Fd())
	if err := unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	number, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	if err := unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 50, Col: columns}); err != nil {
		t.Fatal(err)
	}
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	term := &terminal{slave: slave, keys: master, shown: make(chan string, 1)}
	go func() {
		defer master.Close()
		var b bytes.Buffer
		_, _ = io.Copy(&b, master) // ends with an error when the slave is closed
		term.shown <- b.String()
	}()
	return term
}

func (term *terminal) text() string {
	term.slave.Close()
	return <-term.shown
}

// onTerminal runs the program with stdout, or stderr, on a terminal.
func onTerminal(t *testing.T, columns uint16, stderr bool, line string) string {
	t.Helper()
	term := newTerminal(t, columns)
	out, err := io.Writer(term.slave), io.Writer(io.Discard)
	if stderr {
		out, err = err, out
	}
	run(context.Background(), strings.Fields("gearsearch "+line), strings.NewReader(""), out, err)
	return term.text()
}

// TestAddAsksAtATerminal: catalog add asks key by key where somebody types, keeps
// asking until an answer can be taken, and writes nothing where the answers end early.
func TestAddAsksAtATerminal(t *testing.T) {
	for _, tt := range []struct {
		why, typed string
		code       int
		shows      []string
		adds       string
	}{
		{
			"a motor", "fresh\n89,9\n150\n?\n\n60\n" + strings.Repeat("\n", 5) + "8mm\n" + strings.Repeat("\n", 15), outcome.ExitAnswered,
			[]string{"kv, rpm/V *: ", `kv is "89,9", must be a number`, "hint: write 89.9, with a decimal point", "pole_pairs: ", "pole pairs [7 assumed]: ", "shaft, mm: ", "Added fresh to parts.toml"},
			"\n[[motor]]\nid = \"fresh\"\nkv = 150\nresistance_mohm = 60\nshaft_mm = 8\n",
		},
		{"answers that end early", "fresh\n150\n\x04", outcome.ExitInterrupted, []string{"kv, rpm/V *: ", "nothing is written"}, ""},
	} {
		t.Chdir(t.TempDir())
		starter, _ := catalog.Starter()
		write(t, "parts.toml", string(starter.Data))
		term := newTerminal(t, 80)
		if _, err := term.keys.WriteString(tt.typed); err != nil {
			t.Fatal(err)
		}
		code := run(t.Context(), strings.Fields("gearsearch catalog add motor"), term.slave, term.slave, term.slave)
		shown := strings.ReplaceAll(term.text(), "\r", "")
		if code != tt.code {
			t.Errorf("%s: exit code %d, not %d", tt.why, code, tt.code)
		}
		for _, text := range tt.shows {
			if !strings.Contains(shown, text) {
				t.Errorf("%s: %q is not shown:\n%s", tt.why, text, shown)
			}
		}
		after, err := os.ReadFile("parts.toml")
		if err != nil {
			t.Fatal(err)
		}
		want(t, tt.why, strings.TrimPrefix(string(after), string(starter.Data)), tt.adds)
	}
}

func TestColour(t *testing.T) {
	const line = "rank --top 3" + shop
	t.Setenv("TERM", "xterm")
	t.Setenv("NO_COLOR", "")
	plain := answered(t, line)
	if strings.Contains(plain, "\x1b") {
		t.Error("colour without a terminal")
	}
	coloured := onTerminal(t, 80, false, line)
	if !strings.Contains(coloured, "\x1b[1m3 designs of 106 feasible builds, best first\x1b[0m") {
		t.Errorf("no colour on a terminal: %.300q", coloured)
	}
	bare := strings.NewReplacer("\r\n", "\n", "\x1b[0m", "", "\x1b[1m", "", "\x1b[2m", "", "\x1b[31m", "", "\x1b[33m", "").Replace(coloured)
	want(t, "text without its colours", bare, plain)

	t.Setenv("NO_COLOR", "1")
	want(t, "under NO_COLOR", strings.ReplaceAll(onTerminal(t, 80, false, line), "\r\n", "\n"), plain)
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "dumb")
	want(t, "on a dumb terminal", strings.ReplaceAll(onTerminal(t, 80, false, line), "\r\n", "\n"), plain)
}

func TestWidthOfTheTerminal(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	t.Setenv("COLUMNS", "200") // of another window: the terminal knows better
	for _, columns := range []uint16{40, 80, 120, 160} {
		widest := 0
		body := untilNext(onTerminal(t, columns, false, "rank --full"+shop))
		for line := range strings.SplitSeq(strings.ReplaceAll(body, "\r", ""), "\n") {
			widest = max(widest, len([]rune(line)))
		}
		if widest > int(columns) || widest < int(columns)*3/4 {
			t.Errorf("on %d columns the widest line has %d", columns, widest)
		}
	}
}

// TestProgress: a search that takes longer than half a second shows a bar on a
// terminal, and takes it away; a quick one shows nothing.
func TestProgress(t *testing.T) {
	t.Setenv("TERM", "xterm")
	term := newTerminal(t, 80)
	ctx, cancel := context.WithTimeout(context.Background(), 2*progress.Patience+progress.Patience/2)
	defer cancel()
	var stdout bytes.Buffer
	run(ctx, strings.Fields("gearsearch rank --top 1 --format json --catalog testdata/shop/huge.toml --top-speed 10km/h"), strings.NewReader(""), &stdout, term.slave)
	shown := term.text()
	if !strings.Contains(shown, "searching") || !strings.Contains(shown, "%") {
		t.Errorf("no bar: %q", shown)
	}
	// Each line of the bar is gone over again, and the last one erased.
	if lines, ups := strings.Count(shown, "%"), strings.Count(shown, "\x1b[A")+strings.Count(shown, "\x1b[1A"); lines < 3 || lines != ups {
		t.Errorf("%d lines of the bar, %d steps up: %q", lines, ups, shown)
	}
	bar, after, ok := strings.Cut(shown, "\x1b[1A\x1b[2K\r")
	if !ok || !strings.HasPrefix(after, "interrupted: ") || bar == "" {
		t.Errorf("the bar is not taken away: %q", shown)
	}
	if shown := onTerminal(t, 80, true, "rank --format csv"+shop); shown != "" {
		t.Errorf("a quick search shows %q", shown)
	}
}
