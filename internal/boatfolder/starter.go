package boatfolder

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"os"
)

//go:embed starter
var starter embed.FS

// Starter writes a folder to begin from: an invented small boat, every key
// explained in a remark. It makes the folder if there is none.
//
// Error: when the folder holds anything already, or cannot be written
func Starter(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making %s: %w", dir, err)
	}
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("opening %s: %w", dir, err)
	}
	defer d.Close()
	if _, err := d.Readdirnames(1); err == nil {
		return fmt.Errorf("%s is not empty (name a new folder: nothing is written over)", dir)
	} else if !errors.Is(err, io.EOF) {
		return fmt.Errorf("reading %s: %w", dir, err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("opening %s: %w", dir, err)
	}
	defer root.Close()
	entries, err := starter.ReadDir("starter")
	if err != nil {
		return err
	}
	for _, e := range entries {
		data, err := starter.ReadFile("starter/" + e.Name())
		if err != nil {
			return err
		}
		if err := writeNew(root, e.Name(), data); err != nil {
			return fmt.Errorf("writing %s: %w", e.Name(), err)
		}
	}
	return nil
}

// writeNew writes a file that must not be there yet.
func writeNew(root *os.Root, name string, data []byte) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}
