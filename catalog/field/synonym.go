package field

import (
	"slices"
	"strings"
)

// keyHint says which key an unknown one was meant to be; "" where that cannot be
// told.
func (t *core) keyHint(key string) string {
	if hint := t.synonym(key); hint != "" {
		return hint
	}
	if t.Elsewhere != nil {
		if hint := t.Elsewhere(key); hint != "" {
			return hint
		}
	}
	near, ok := Nearest(key, slices.Values(t.Keys()))
	switch {
	case !ok && t.Stray != nil:
		return t.Stray(key)
	case !ok:
		return ""
	case strings.EqualFold(near, key):
		return "keys are lower case: " + near
	}
	return "did you mean " + near + "?"
}

// hinted is the key that keyHint takes an unknown one for, "" where it names none.
func (t *core) hinted(key string) string {
	if meant, ok := t.Meant(key); ok {
		return meant
	}
	if t.Elsewhere != nil && t.Elsewhere(key) != "" {
		return ""
	}
	near, _ := Nearest(key, slices.Values(t.Keys()))
	return near
}

// Meant is the key that a name is meant for: its own, or what people call it,
// with a unit at its end or without.
func (t *core) Meant(name string) (key string, ok bool) {
	for i := range t.infos {
		if _, ok := t.infos[i].answersTo(plainName(name)); ok {
			return t.infos[i].Key, true
		}
	}
	return "", false
}

// plainName is a name as keys are written.
func plainName(name string) string {
	return strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(name))
}

// synonym is the hint at the key that a name was meant for: a name that people use
// for it, or its own with another unit or none; "" where there is no such key.
func (t *core) synonym(key string) string {
	name := plainName(key)
	var meant, unitless []string
	other := "" // the unit at the end of the name
	for i := range t.infos {
		in := &t.infos[i]
		switch u, ok := in.answersTo(name); {
		case !ok:
		case name == in.Key:
			return "keys are lower case: " + in.Key
		case u == "" && name == in.Stem():
			unitless = append(unitless, in.Key)
		default:
			meant = append(meant, in.Key)
			if u == "" {
				u = in.unitWord(name)
			}
			if u != "" && !in.Kind.Same(u, in.Unit) {
				other = in.Kind.Named(u)
			}
		}
	}
	switch {
	case len(meant) == 1 && other != "":
		return "write " + meant[0] + `, with the unit in quotes: "…` + other + `"`
	case len(unitless) > 0:
		return "keys carry their unit: " + strings.Join(unitless, " or ")
	case len(meant) > 0:
		return "did you mean " + strings.Join(meant, " or ") + "?"
	}
	return ""
}

// answersTo reports whether a name in small letters is one of the key: its own
// or another that people have for it, with a unit at its end or without, and
// which unit that is.
func (in *Info) answersTo(name string) (unit string, ok bool) {
	names := append([]string{in.Key, in.Stem()}, in.Also...)
	if slices.Contains(names, name) {
		return "", true
	}
	i := strings.LastIndexByte(name, '_')
	if i < 0 || in.Kind == nil || !in.Kind.Has(name[i+1:]) {
		return "", false
	}
	return name[i+1:], slices.Contains(names, name[:i])
}

// unitWord is the unit that a name counts in by one of its words, as poles or pole_count
// do of a key in pairs; "" where none is, or one is the key's own.
func (in *Info) unitWord(name string) string {
	const shortest = 4 // of words that are no unit by chance
	own, unit := in.Unit, ""
	if own == "" { // a count, by what the key ends in
		own = in.Key[strings.LastIndexByte(in.Key, '_')+1:]
	}
	for word := range strings.SplitSeq(name, "_") {
		for _, u := range []string{word, word + "s"} {
			switch {
			case in.Kind == nil, len(word) < shortest, !in.Kind.Has(u):
			case in.Kind.Same(u, own):
				return ""
			default:
				unit = u
			}
		}
	}
	return unit
}

// Stem is the key without the unit at its end; the key where it has none.
func (in *Info) Stem() string {
	if in.Unit == "" || in.Kind == nil {
		return in.Key
	}
	if i := strings.LastIndexByte(in.Key, '_'); i >= 0 && in.Kind.Same(in.Key[i+1:], in.Unit) {
		return in.Key[:i]
	}
	return in.Key
}

// wordHint says which of the key's words an unknown one was meant to be; "" where
// that cannot be told.
func (in *Info) wordHint(s string) string {
	near, ok := in.AlsoWords[strings.ToLower(strings.TrimSpace(s))]
	if !ok {
		near, ok = Nearest(s, slices.Values(in.Words))
	}
	if !ok {
		return ""
	}
	return "did you mean " + Quote(near) + "?"
}
