package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// mostBytes is the largest order file that is read: far above 50,000 rows.
const mostBytes = 64 << 20

// readFile reads a whole order file.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, refuse("there is no file %q: check the name and the folder", path)
	case err != nil:
		return nil, refuse("cannot look at %q: %w", path, err)
	case info.IsDir():
		return nil, refuse("%q is a folder: name the order workbook in it", path)
	case info.Size() > mostBytes:
		return nil, refuse("%q is %d MB: an order of 50,000 rows is below 64 MB; save only the order's sheets", path, info.Size()>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, refuse("cannot read %q: %w; close it elsewhere or check its permissions", path, err)
	}
	return data, nil
}

// readInput is readFile of a file that no result may replace.
func (c *common) readInput(path string) ([]byte, error) {
	c.inputs = append(c.inputs, path)
	return readFile(path)
}

// isInput reports whether a result would be written over a file it came from.
func (c *common) isInput(path string) bool {
	to, err := os.Stat(path)
	if err != nil {
		return false
	}
	return slices.ContainsFunc(c.inputs, func(name string) bool {
		from, err := os.Stat(name)
		return err == nil && os.SameFile(from, to)
	})
}

// cannotWrite says why a file was not written, and what to do.
func cannotWrite(path string, err error) error {
	folder := filepath.Dir(path)
	if _, there := os.Stat(folder); errors.Is(there, fs.ErrNotExist) {
		return refuse("cannot write %q: there is no folder %q; make it, or name another file", path, folder)
	}
	return refuse("cannot write %q: %w; choose another folder or name, or see what holds it", path, err)
}

// beside names a file next to the order: fair.xlsx and "-batch" give
// fair-batch.xlsx.
func beside(order, ending string) string {
	ext := filepath.Ext(order)
	return strings.TrimSuffix(order, ext) + ending + ".xlsx"
}

// write puts data at path whole or not at all: it is written beside, synced,
// and renamed. A file held open by another program is left as it is and a dated
// one is written instead; the name really written is returned.
func (c *common) write(path string, data []byte) (string, error) {
	if path == "-" {
		_, err := c.world.out.Write(data)
		return path, err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		return path, os.WriteFile(path, data, 0o644) // a device or a pipe is written to, never replaced
	}
	if c.isInput(path) {
		return "", refuse("%q is the order itself and is not written over: name another file", path)
	}
	temp, err := writeBeside(path, data)
	if err != nil {
		return "", cannotWrite(path, err)
	}
	if err := os.Rename(temp, path); err == nil {
		return path, syncFolder(path)
	}
	dated := datedName(path, c.world.now().Format("2006-01-02-150405"))
	if err := os.Rename(temp, dated); err != nil {
		os.Remove(temp)
		return "", cannotWrite(path, err)
	}
	c.sayf("%s is open in another program or protected: wrote %s instead", path, dated)
	return dated, syncFolder(path)
}

func datedName(path, stamp string) string {
	ext := filepath.Ext(path)
	return strings.TrimSuffix(path, ext) + "-" + stamp + ext
}

func writeBeside(path string, data []byte) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".batchwright-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	if err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}

// syncFolder makes the rename last where folders can be synced.
func syncFolder(path string) error {
	d, err := os.Open(filepath.Dir(path))
	if err != nil {
		return nil // the file itself is synced; not every system opens folders
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("the folder of %q could not be synced: %w", path, err)
	}
	return nil
}

// writeJSON writes a result where --json says.
func (c *common) writeJSON(result any) error {
	if c.json == "" {
		return nil
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(result); err != nil {
		return err
	}
	_, err := c.write(c.json, out.Bytes())
	return err
}
