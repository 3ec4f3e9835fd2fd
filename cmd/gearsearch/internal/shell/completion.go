package shell

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// CompleteCommand is the hidden command that the completion scripts run.
const CompleteCommand = "complete-words"

// completionScripts are what a shell reads, by its name. Each hands the words
// typed so far, the last of which may be empty, to the hidden command, which
// prints the candidates, one a line; where there are none the shell offers
// files.
var completionScripts = map[string]string{
	"bash": `# bash completion for gearsearch: source <(gearsearch completion bash)
_gearsearch() {
  local line=${COMP_LINE:0:COMP_POINT} words cur
  read -a words <<<"$line" # without -r: a blank may stand behind a backslash
  [[ $line == *[[:space:]] ]] && words+=("")
  cur=${words[${#words[@]}-1]}
  words=("${words[@]/#'~/'/$HOME/}")
  local IFS=$'\n'
  COMPREPLY=($(gearsearch ` + CompleteCommand + ` -- "${words[@]:1}" 2>/dev/null))
  # bash takes = and : for the ends of words and replaces what stands after.
  local i cut=${cur%"${cur##*[=:]}"}
  for i in "${!COMPREPLY[@]}"; do COMPREPLY[i]=${COMPREPLY[i]#"$cut"}; done
  # A catalog, a brief and a route are the demo's, or files.
  [[ ${COMPREPLY[0]} == demo* ]] && COMPREPLY+=($(compgen -f -- "${cur#"$cut"}"))
  [[ ${#COMPREPLY[@]} == 1 && ${COMPREPLY[0]} == *= ]] && compopt -o nospace
  return 0
}
complete -o default -F _gearsearch gearsearch
`,
	"zsh": `#compdef gearsearch
# zsh completion for gearsearch: source <(gearsearch completion zsh)
_gearsearch() {
  local -a typed found
  (( CURRENT > 2 )) && typed=("${(@Q)words[2,CURRENT-1]}")
  typed+=("${(Q)PREFIX}")
  found=("${(@f)$(gearsearch ` + CompleteCommand + ` -- "${(@)typed/#\~\//$HOME/}" 2>/dev/null)}")
  found=("${(@)found:#}")
  compadd -Q -S '' -- "${(@M)found:#*=}"
  compadd -Q -- "${(@)found:#*=}"
  # A catalog, a brief and a route are the demo's, or files.
  if (( ! ${#found} )) || [[ $found[1] == (|--(brief|catalog|route)=)demo* ]]; then
    [[ $PREFIX == -*=* ]] && compset -P 1 '*='
    _files
  fi
}
if [[ $funcstack[1] == _gearsearch ]]; then
  _gearsearch "$@" # from a file on fpath, at the first use
else
  (( $+functions[compdef] )) || { autoload -Uz compinit && compinit }
  compdef _gearsearch gearsearch
fi
`,
	"fish": `# fish completion for gearsearch: gearsearch completion fish | source
function __gearsearch_words
    set -l words (commandline -opc) (commandline -ct)
    gearsearch ` + CompleteCommand + ` -- (string replace -r '^~/' "$HOME/" -- $words[2..-1]) 2>/dev/null
end
# A catalog, a brief and a route are the demo's, or files.
function __gearsearch_files
    set -l found (__gearsearch_words)
    test -z "$found[1]"; or string match -qr '^(--(brief|catalog|route)=)?demo' -- $found[1]
end
complete -c gearsearch -n 'not __gearsearch_files' -f
complete -c gearsearch -a '(__gearsearch_words)'
`,
}

// shells are the shells that have a script.
func shells() []string { return []string{"bash", "zsh", "fish"} }

// CompletionScript is the script of the shell that the one argument names.
func CompletionScript(args []string) (string, error) {
	name := ""
	if len(args) > 0 {
		name = args[0]
	}
	script, ok := completionScripts[name]
	if len(args) == 1 && ok {
		return script, nil
	}
	hint := "the shells are " + strings.Join(shells(), ", ")
	if near, ok := field.Nearest(name, slices.Values(shells())); ok {
		hint = "did you mean " + near + "?"
	}
	if len(args) != 1 {
		return "", outcome.Usage(hint, "completion takes the name of a shell")
	}
	return "", outcome.Usage(hint, "no completion for %s", say.Shown(name))
}
