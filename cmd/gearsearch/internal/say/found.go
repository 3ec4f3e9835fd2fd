package say

// Found are the files of a question that no flag names.
type Found struct {
	Here  []string // of the working folder
	Named []string // that a build file names
	By    string   // the build file
	Demo  bool     // the parts are the demo's, and nobody asked for them
}

// Words name the files; "" where there is none.
func (f *Found) Words() string {
	shown := func(names []string) string {
		out := make([]string, len(names))
		for i, name := range names {
			out[i] = Shown(name)
		}
		return InWords(out)
	}
	here, named := shown(f.Here)+" of this folder", shown(f.Named)+", named in "+Shown(f.By)
	text := ""
	switch {
	case len(f.Here) == 0 && len(f.Named) == 0:
		return ""
	case len(f.Here) == 0:
		text = named
	case len(f.Named) == 0:
		text = here
	default:
		text = named + ", and " + here
	}
	if f.Demo {
		text += ", and demo parts: name your own with --catalog"
	}
	return text
}

// Forgotten says that a build file cannot name what is read from no file of the
// disk, a "catalog" or a "brief"; name is how messages show it.
func Forgotten(file, what, name string) string {
	return Shown(file) + " does not say which " + what + " it goes with: " + name + " cannot be read again; name one with --" + what
}
