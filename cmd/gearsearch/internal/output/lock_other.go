//go:build !darwin && !dragonfly && !freebsd && !linux && !netbsd && !openbsd

package output

import (
	"os"
	"runtime"
)

// locks: files can be locked here.
const locks = false

// lock does nothing: Windows lets no file be removed while it is open, and
// elsewhere nothing is.
func lock(*os.File) {}

// leftBehind reports whether it may be tried to remove a file.
func leftBehind(name string) (release func(), left bool) {
	info, err := os.Lstat(name)
	return func() {}, err == nil && info.Mode().IsRegular() && runtime.GOOS == "windows"
}

// rename gives a written file its name, and closes it: first, as an open file
// keeps its name on Windows.
func rename(file *os.File, target string) error {
	if err := file.Close(); err != nil {
		return err
	}
	return os.Rename(file.Name(), target)
}
