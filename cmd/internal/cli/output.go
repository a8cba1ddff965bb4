package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"elbowroom/survey/table"
)

// output is the flag that names the file to write to.
type output struct {
	path  string
	given bool
}

// Set keeps the name.
func (f *output) Set(text string) error {
	f.path, f.given = text, true
	if text == "" || text == "-" {
		return errors.New("no name")
	}
	return nil
}

func (f *output) String() string { return f.path }

// Type is the word for the value.
func (f *output) Type() string { return "a file name (leave -o out to write to the screen)" }

// write puts data into the file, whole or not at all: into a new file beside it
// that then takes its name. A file that is there keeps its mode. One of the
// inputs, and what is no ordinary file, is left alone.
func (f *output) write(data []byte, inputs []string) error {
	path, mode, err := f.target(inputs)
	if err != nil {
		return err
	}
	if err := replace(path, data, mode); err != nil {
		return f.wrong("cannot be written: " + plainError(err))
	}
	return nil
}

// target is the file itself, behind links, and its mode; 0 where it is not
// there yet.
func (f *output) target(inputs []string) (path string, mode fs.FileMode, err error) {
	info, err := os.Stat(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(f.path); err == nil {
			return "", 0, f.wrong("is a link to a file that is not there; take it away")
		}
		return f.path, 0, nil
	case err != nil:
		return "", 0, f.wrong("cannot be written: " + plainError(err))
	case info.IsDir():
		return "", 0, f.wrong("is a folder; name a file")
	case !info.Mode().IsRegular():
		return "", 0, f.wrong("is no ordinary file; leave -o out to write to the screen")
	}
	for _, input := range inputs {
		if other, err := os.Stat(input); err == nil && os.SameFile(info, other) {
			return "", 0, f.wrong("is part of the job, and stays as it is; name another file")
		}
	}
	path, err = filepath.EvalSymlinks(f.path)
	if err != nil {
		return "", 0, f.wrong("cannot be written: " + plainError(err))
	}
	return path, info.Mode().Perm(), nil
}

func (f *output) wrong(says string) error {
	return &mistake{says: table.Quote(f.path) + " " + says}
}

// replace writes a new file beside path and renames it. mode 0 leaves the new
// file the mode that new files have here.
func replace(path string, data []byte, mode fs.FileMode) (err error) {
	file, err := beside(path)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(file.Name())
		}
	}()
	_, err = file.Write(data)
	if mode != 0 {
		err = errors.Join(err, file.Chmod(mode))
	}
	err = errors.Join(err, file.Sync())
	if err = errors.Join(err, file.Close()); err != nil {
		return err
	}
	return os.Rename(file.Name(), path)
}

// mostTries is how many names are tried for the new file: only another run that
// was killed half-way leaves one behind.
const mostTries = 100

// beside opens a new file in the folder of path.
func beside(path string) (file *os.File, err error) {
	for i := range mostTries {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%d-%d.part", filepath.Base(path), os.Getpid(), i))
		file, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return file, err
		}
	}
	return nil, err
}
