package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"batchwright/orders/disk"
)

// maxBytes is the largest order file that is read: far above 50,000 rows.
const maxBytes = 64 << 20

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
	case info.Mode()&(fs.ModeDevice|fs.ModeNamedPipe|fs.ModeSocket) != 0:
		return nil, refuse("%q is a device or a pipe, not a file: save the order as a file first", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, refuse("cannot read %q: %w; close it elsewhere or check its permissions", path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxBytes+1)) // a file may be longer than it says, or grow
	switch {
	case err != nil:
		return nil, refuse("cannot read %q: %w; close it elsewhere or check its permissions", path, err)
	case len(data) > maxBytes:
		return nil, refuse("%q is larger than 64 MB, too large for an order: save only the order's sheets", path)
	}
	return data, nil
}

// readInput is readFile of a file that no result may replace.
func (c *common) readInput(path string) ([]byte, error) {
	c.inputs = append(c.inputs, path)
	return readFile(path)
}

// cannotWrite says why a file was not written, and what to do.
func cannotWrite(path string, err error) error {
	folder := filepath.Dir(path)
	if _, there := os.Stat(folder); errors.Is(there, fs.ErrNotExist) {
		return refuse("cannot write %q: there is no folder %q; make it, or name another file", path, folder)
	}
	return refuse("cannot write %q: %w; choose another folder or name, or close the program that has it open", path, err)
}

// beside names a file next to the order: fair.xlsx and "-batch" give
// fair-batch.xlsx.
func beside(order, ending string) string {
	ext := filepath.Ext(order)
	return strings.TrimSuffix(order, ext) + ending + ".xlsx"
}

// write puts data at path, whole or not at all. A file that another program
// has open stays as it is, and a dated one is written instead; the name really
// written is returned.
func (c *common) write(path string, data []byte) (string, error) { return c.writeAs(path, data, 0o666) }

// writePrivate is write of a file that only its owner may read.
func (c *common) writePrivate(path string, data []byte) (string, error) {
	return c.writeAs(path, data, 0o600)
}

func (c *common) writeAs(path string, data []byte, mode fs.FileMode) (string, error) {
	if err := c.unclaimed(path); err != nil {
		return "", err
	}
	if path == "-" {
		_, err := c.world.out.Write(data)
		return path, err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return path, os.WriteFile(path, data, mode) // a device or a pipe is written to, never replaced
	}
	err := c.files.Replace(path, bytes.NewReader(data), mode)
	if err == nil {
		return path, nil
	}
	if !disk.OpenElsewhere(path) {
		return "", cannotWrite(path, err)
	}
	dated := datedName(path, c.world.now().Format("2006-01-02-150405"))
	if err := c.files.New(dated, bytes.NewReader(data), mode); err != nil {
		return "", cannotWrite(path, err)
	}
	c.sayf("%s is open in another program: wrote %s instead", path, dated)
	return dated, nil
}

// unclaimed declares an output that its command did not declare.
func (c *common) unclaimed(path string) error {
	for _, o := range c.outputs {
		if o.path == path {
			return nil
		}
	}
	return c.claim("the output", path)
}

func datedName(path, stamp string) string {
	ext := filepath.Ext(path)
	return strings.TrimSuffix(path, ext) + "-" + stamp + ext
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
