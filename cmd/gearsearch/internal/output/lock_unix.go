//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package output

import (
	"os"
	"syscall"
)

// locks: files can be locked here.
const locks = true

// lock takes the lock of an open file or folder, which the system takes back
// when it is closed or the program ends. A file system without locks has no
// temporary files removed.
func lock(file *os.File) { _ = flock(file, syscall.LOCK_EX) }

// leftBehind reports whether nobody has the lock of a file or folder; release
// gives back what is taken to find out.
func leftBehind(name string) (release func(), left bool) {
	const flags = os.O_RDONLY | syscall.O_NOFOLLOW | syscall.O_NONBLOCK
	file, err := os.OpenFile(name, flags, 0)
	if err != nil {
		return nil, false
	}
	if flock(file, syscall.LOCK_EX|syscall.LOCK_NB) != nil {
		file.Close()
		return nil, false
	}
	return func() { file.Close() }, true
}

func flock(file *os.File, how int) error {
	conn, err := file.SyscallConn()
	if err != nil {
		return err
	}
	var failed error
	if err := conn.Control(func(fd uintptr) {
		for {
			if failed = syscall.Flock(int(fd), how); failed != syscall.EINTR {
				return
			}
		}
	}); err != nil {
		return err
	}
	return failed
}

// rename gives a written file its name, and closes it: in this order, so that
// its lock is held until it is no longer a temporary one.
func rename(file *os.File, target string) error {
	if err := os.Rename(file.Name(), target); err != nil {
		return err
	}
	return file.Close()
}
