package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"batchwright/jigplan/shop"
	"batchwright/orders/disk"
)

// Every command declares the files that it writes: an option through
// outputFlag, an argument through writesArgument, a name that it makes up
// through claim. No output may replace an input, the shop file or what belongs
// to it, and no two outputs may be one file: that is exit status 2, before
// anything is written.

// output is a file that a command writes.
type output struct{ what, path string }

// outputNote marks the flags that name an output, with the words that are no
// file name.
const outputNote = "batchwright_output"

// argumentNote marks the commands whose argument names an output.
const argumentNote = "batchwright_argument"

// outputFlag is an option that names a file to write.
func outputFlag(cmd *cobra.Command, to *string, name, short, usage string, words ...string) {
	cmd.Flags().StringVarP(to, name, short, "", usage)
	if err := cmd.Flags().SetAnnotation(name, outputNote, append([]string{""}, words...)); err != nil {
		panic(err) // the flag was defined just above
	}
}

// writesArgument is a command whose argument names the file to write.
func writesArgument(cmd *cobra.Command) {
	cmd.Annotations = map[string]string{argumentNote: "yes"}
}

// declare takes down what a command line reads and writes, and refuses what
// would destroy something. It lists everything that is wrong.
func (c *common) declare(cmd *cobra.Command, args []string) error {
	var errs []error
	for _, arg := range args {
		if cmd.Annotations[argumentNote] != "" {
			errs = append(errs, c.claim("the file to write", arg))
		} else {
			c.inputs = append(c.inputs, arg) // or a number: then there is no such file
		}
	}
	for _, o := range flagOutputs(cmd) {
		errs = append(errs, c.claim(o.what, o.path))
	}
	return joined(errs)
}

// flagOutputs are the outputs that the options name.
func flagOutputs(cmd *cobra.Command) (out []output) {
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		words := f.Annotations[outputNote]
		if words != nil && !slices.Contains(words, f.Value.String()) {
			out = append(out, output{"--" + f.Name, f.Value.String()})
		}
	})
	return out
}

// claim declares one more output, before anything is written.
func (c *common) claim(what, path string) error {
	if slices.Contains(c.outputs, output{what, path}) {
		return nil
	}
	if err := c.mayWrite(what, path); err != nil {
		return exit{exitUsage, err}
	}
	c.outputs = append(c.outputs, output{what, path})
	return nil
}

// claims declares several outputs and lists everything that is wrong; an empty
// name is no output.
func (c *common) claims(outs ...output) error {
	var errs []error
	for _, o := range outs {
		if o.path != "" {
			errs = append(errs, c.claim(o.what, o.path))
		}
	}
	return joined(errs)
}

// outputOr is the file that --output names, else one with a name made up here.
func (c *common) outputOr(what, made string) output {
	if c.output != "" {
		return output{"--output", c.output}
	}
	return output{what, made}
}

// mayWrite says why an output may not be written.
func (c *common) mayWrite(what, path string) error {
	if path == "-" {
		for _, o := range c.outputs {
			if o.path == "-" {
				return fmt.Errorf("%s and %s cannot both go to standard output: name a file for one of them", o.what, what)
			}
		}
		return nil
	}
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s %q is a folder: name a file in it", what, path)
	case err == nil && !info.Mode().IsRegular():
		return nil // a device or a pipe: nothing there can be lost
	}
	if err := c.clashes(what, path); err != nil {
		return err
	}
	if err == nil {
		return writable(what, path, info)
	}
	folder := filepath.Dir(disk.Real(path))
	if _, err := os.Stat(folder); errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s %q: there is no folder %q; make it, or name another file", what, path, folder)
	}
	return nil
}

// clashes says which file of the command an output would replace.
func (c *common) clashes(what, path string) error {
	for _, name := range c.inputs {
		if _, err := os.Stat(name); err == nil && sameFile(path, name) {
			return fmt.Errorf("%s %q would overwrite a file that is read, %q: name another file", what, path, name)
		}
	}
	if week, _, err := c.shopPath(); err == nil {
		switch real := disk.Real(week); {
		case sameFile(path, week):
			return fmt.Errorf("%s %q would overwrite the shop file: name another file", what, path)
		case sameFile(filepath.Dir(disk.Real(path)), filepath.Dir(real)) && shop.IsCompanion(real, disk.Real(path)):
			return fmt.Errorf("%s %q has the name of a file that belongs to the shop file: choose another name", what, path)
		}
	}
	for _, o := range c.outputs {
		if o.path != "-" && sameFile(path, o.path) {
			return fmt.Errorf("%s and %s would be one file, %q: choose another name for one of them", o.what, what, path)
		}
	}
	return nil
}

// sameFile reports whether two names are one file, there already or not.
func sameFile(a, b string) bool {
	there, errA := os.Stat(a)
	other, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(there, other)
	}
	if errA == nil || errB == nil {
		return false
	}
	a, b = wholeName(a), wholeName(b)
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return strings.EqualFold(a, b)
	}
	return a == b
}

// wholeName is the name of a file that is not there, its folder's links
// followed.
func wholeName(path string) string {
	path = disk.Real(path)
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		path = filepath.Join(folder, filepath.Base(path))
	}
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return filepath.Clean(path)
}

// writable refuses a file that its owner protected. One that is open elsewhere
// is not: its content goes to another name.
func writable(what, path string, info fs.FileInfo) error {
	protected := info.Mode().Perm()&0o222 == 0
	if !protected {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err == nil {
			return f.Close()
		}
		protected = errors.Is(err, fs.ErrPermission) && !disk.OpenElsewhere(path)
	}
	if protected {
		return fmt.Errorf("%s %q is read-only and is not replaced: name another file, or allow writing", what, path)
	}
	return nil
}

// joined is all that is wrong as one wrong usage; nil when nothing is.
func joined(errs []error) error {
	if err := errors.Join(errs...); err != nil {
		return exit{exitUsage, err}
	}
	return nil
}
