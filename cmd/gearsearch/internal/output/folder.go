package output

import (
	"os"
	"path/filepath"
)

// Entry is a file of a folder.
type Entry struct {
	Name string
	Data []byte
}

// Folder is a folder being written, all of it or nothing. Commit or Abort ends
// it.
type Folder struct {
	path, made string
	claimed    *os.File // the folder; nil where it is not claimed
}

// CreateFolder begins a new folder, under a temporary name beside it.
func CreateFolder(path string) (*Folder, error) {
	target := filepath.Clean(path)
	tidy(target)
	for i := 0; ; i++ {
		made := fresh(target)
		if err := os.Mkdir(made, 0o777); err != nil {
			if os.IsExist(err) && i < attempts {
				continue
			}
			return nil, named(path, err)
		}
		if !locks {
			return &Folder{path, made, nil}, nil
		}
		file, err := os.Open(made)
		if err != nil {
			return &Folder{path, made, nil}, nil
		}
		if claim(file) || i >= attempts {
			return &Folder{path, made, file}, nil
		}
		file.Close() // another run took it for one that was left behind
	}
}

// Write writes a file of the folder.
func (f *Folder) Write(e Entry) error {
	file, err := os.OpenFile(filepath.Join(f.made, e.Name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return named(filepath.Join(f.path, e.Name), err)
	}
	if _, err = file.Write(e.Data); err == nil {
		err = file.Sync()
	}
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return named(filepath.Join(f.path, e.Name), err)
	}
	return nil
}

// Commit gives the folder its name, which must be free.
func (f *Folder) Commit() error {
	f.sync()
	if err := os.Rename(f.made, filepath.Clean(f.path)); err != nil {
		f.Abort()
		return named(f.path, err)
	}
	f.close()
	return nil
}

// sync flushes the folder to the disk, where that can be done.
func (f *Folder) sync() {
	if f.claimed != nil {
		_ = f.claimed.Sync()
	}
}

// Abort drops the folder. After Commit it does nothing.
func (f *Folder) Abort() {
	f.Remove()
	f.close()
}

// Remove removes what is written while another goroutine may be writing.
func (f *Folder) Remove() { os.RemoveAll(f.made) }

func (f *Folder) close() {
	if f.claimed != nil {
		f.claimed.Close()
		f.claimed = nil
	}
}
