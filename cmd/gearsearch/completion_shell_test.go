package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// typedLines are lines as they are typed, and what the one completion there is
// makes of each. They are typed in a folder with parts.toml and "my brief.toml".
var typedLines = []struct{ why, line, want string }{
	{"a command", "gearsearch ra", "gearsearch rank"},
	{"a command below a command", "gearsearch catalog ch", "gearsearch catalog check"},
	{"a flag", "gearsearch rank --kee", "gearsearch rank --keep"},
	{"the word of a flag", "gearsearch rank --format mark", "gearsearch rank --format markdown"},
	{"the same behind an equals sign", "gearsearch rank --format=mark", "gearsearch rank --format=markdown"},
	{"a name that a value follows", "gearsearch rank --weight pri", "gearsearch rank --weight price="},
	{"an id of the demo", "gearsearch rank --catalog demo --keep motor=ov-63l-10", "gearsearch rank --catalog demo --keep motor=ov-63l-100"},
	{"the same behind an equals sign", "gearsearch rank --catalog demo --keep=motor=ov-63l-10", "gearsearch rank --catalog demo --keep=motor=ov-63l-100"},
	{"an id of this folder's catalog", "gearsearch rank --keep wheel=disc-9", "gearsearch rank --keep wheel=disc-97"},
	{"an id of the catalog that the line names", "gearsearch rank --catalog parts.toml --keep wheel=disc-9", "gearsearch rank --catalog parts.toml --keep wheel=disc-97"},
	{"another after a comma", "gearsearch rank --catalog parts.toml --keep wheel=disc-97,disc-1", "gearsearch rank --catalog parts.toml --keep wheel=disc-97,disc-110"},
	{"a catalog in the home folder", "gearsearch rank --catalog ~/parts.toml --keep wheel=disc-9", "gearsearch rank --catalog ~/parts.toml --keep wheel=disc-97"},
	{"a catalog in quotes", "gearsearch rank --catalog 'parts.toml' --keep wheel=disc-9", "gearsearch rank --catalog 'parts.toml' --keep wheel=disc-97"},
	{"a brief of the demo", "gearsearch rank --brief demo:h", "gearsearch rank --brief demo:harbour"},
	{"the demo's catalog", "gearsearch rank --catalog de", "gearsearch rank --catalog demo"},
	{"the same behind an equals sign", "gearsearch rank --catalog=de", "gearsearch rank --catalog=demo"},
	{"a file for a catalog", "gearsearch rank --catalog par", "gearsearch rank --catalog parts.toml"},
	{"a file for a brief", "gearsearch rank --brief par", "gearsearch rank --brief parts.toml"},
	{"a file", "gearsearch sheet par", "gearsearch sheet parts.toml"},
	{"a file behind an equals sign", "gearsearch rank --catalog=par", "gearsearch rank --catalog=parts.toml"},
	{"a file with a blank in its name", "gearsearch rank --brief my", `gearsearch rank --brief my\ brief.toml`},
}

// TestCompletionInShells types lines in the shells themselves: in zsh at a
// pseudo-terminal with a tab, in fish by what it would offer.
func TestCompletionInShells(t *testing.T) {
	for _, shell := range []struct {
		name  string
		files map[string]string // in its home folder
		args  []string
		text  func(line, answer string) string // what has become of the line
	}{
		{
			"zsh",
			map[string]string{".zshrc": zshStart, "type.zsh": zshTyping},
			[]string{"-f", "type.zsh"},
			func(_, answer string) string { return strings.TrimSuffix(answer, " ") },
		},
		{
			"fish",
			map[string]string{"type.fish": fishTyping},
			[]string{"--no-config", "type.fish"},
			func(line, answer string) string {
				last := line[strings.LastIndex(line, " ")+1:]
				return strings.TrimSuffix(line, last) + answer
			},
		},
	} {
		t.Run(shell.name, func(t *testing.T) {
			path, err := exec.LookPath(shell.name)
			if err != nil {
				t.Skipf("no %s here to type in", shell.name)
			}
			home := t.TempDir()
			shell.files["my brief.toml"] = "schema = 1\n"
			parts, err := os.ReadFile(filepath.Join("testdata", "shop", "parts.toml"))
			if err != nil {
				t.Fatal(err)
			}
			shell.files["parts.toml"] = string(parts)
			for name, text := range shell.files {
				if err := os.WriteFile(filepath.Join(home, name), []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
			defer cancel()
			cmd := exec.CommandContext(ctx, path, shell.args...)
			cmd.Dir = home
			cmd.Env = append(os.Environ(), "HOME="+home, "ZDOTDIR="+home, "XDG_CONFIG_HOME="+home, "XDG_DATA_HOME="+home, "TERM=dumb", "LC_ALL=C.UTF-8")
			var lines, stderr bytes.Buffer
			for _, l := range typedLines {
				lines.WriteString(l.line + "\n")
			}
			cmd.Stdin, cmd.Stderr = &lines, &stderr
			out, err := cmd.Output()
			if err != nil {
				t.Fatalf("%v: %s%s", err, out, stderr.Bytes())
			}
			answers := strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
			if len(answers) != len(typedLines) {
				t.Fatalf("%d answers to %d lines:\n%s%s", len(answers), len(typedLines), out, stderr.Bytes())
			}
			for i, l := range typedLines {
				if got := shell.text(l.line, answers[i]); got != l.want {
					t.Errorf("%s: %q becomes %q, want %q", l.why, l.line, got, l.want)
				}
			}
		})
	}
}

// zshStart is the startup file of the zsh that is typed into; control-T tells
// what the line has become.
const zshStart = `PROMPT='ready> '
source <(gearsearch completion zsh)
tell() { print -r -- "$BUFFER" >> $ZDOTDIR/told; BUFFER= }
zle -N tell
bindkey '^T' tell
bindkey '^I' complete-word
`

// zshTyping types each line of its input with a tab into a zsh of its own.
const zshTyping = `zmodload zsh/zpty
: > told
zpty shell zsh -i
zpty -r shell shown '*ready> *'
while IFS= read -r line; do
  zpty -w -n shell "$line"$'\t\x14'
  (( ++lines ))
  while (( $(wc -l < told) < lines )); do
    zpty -r -t shell shown
    sleep 0.02
  done
done
zpty -d shell
cat told
`

// fishTyping asks fish for what it offers at the end of each line of its input.
const fishTyping = `gearsearch completion fish | source
while read -l line
    set -l offered (complete -C $line)
    echo (string join ' or ' -- (string replace -a ' ' '\\ ' -- $offered))
end
`
