package output

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Temporary files and folders lie beside the target under its name between
// these, with a random number before the end.
const (
	beginning = "."
	mark      = ".gearsearch-"
	ending    = ".tmp"
)

// longest is how much of a target's name, in bytes, its temporary files have,
// so that no name is too long for a file system only for them.
const longest = 160

// stem is how the names of a target's temporary files begin.
func stem(base string) string {
	if len(base) > longest {
		cut := longest
		for !utf8.RuneStart(base[cut]) {
			cut--
		}
		base = base[:cut]
	}
	return beginning + base + mark
}

// fresh is a new name beside the target.
func fresh(target string) string {
	dir, base := filepath.Split(target)
	return dir + stem(base) + strconv.FormatUint(rand.Uint64(), 36) + ending
}

// attempts to find a name that is free.
const attempts = 100

// temporary creates a file of a new name beside the target, with the rights
// that a new file gets, which os.CreateTemp does not give, and claims it.
func temporary(target string) (*os.File, error) {
	for i := 0; ; i++ {
		file, err := os.OpenFile(fresh(target), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		switch {
		case errors.Is(err, fs.ErrExist) && i < attempts:
			continue
		case err != nil:
			return nil, err
		}
		if claim(file) || i >= attempts {
			return file, nil
		}
		file.Close() // another run took it for one that was left behind
	}
}

// claim marks a temporary file or folder as one of a run that is alive, until it
// is closed or the run ends, however it does. False: it is gone already.
func claim(file *os.File) bool {
	lock(file)
	mine, err := file.Stat()
	if err != nil {
		return true // as well as it can be told
	}
	there, err := os.Lstat(file.Name())
	return err == nil && os.SameFile(mine, there)
}

// tidy removes temporary files and folders of a target that runs left behind when
// they were killed: those that no run claims.
func tidy(target string) {
	dir, base := filepath.Split(target)
	if dir == "" {
		dir = "."
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		random, ours := strings.CutPrefix(e.Name(), stem(base))
		random, ends := strings.CutSuffix(random, ending)
		if !ours || !ends || strings.Trim(random, "0123456789abcdefghijklmnopqrstuvwxyz") != "" {
			continue
		}
		if name := filepath.Join(dir, e.Name()); e.Type().IsRegular() || e.IsDir() {
			if release, left := leftBehind(name); left {
				os.RemoveAll(name)
				release()
			}
		}
	}
}
