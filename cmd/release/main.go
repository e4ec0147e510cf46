// Command release builds the zips that people download: the program for each
// system with a start sheet, the demo order and the licenses of all that is in
// it, and their checksums. The same source and Go version give the same bytes.
package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

//go:embed start.txt
var start []byte

// systems are the computers that zips are made for.
var systems = []struct{ os, arch, name string }{
	{"linux", "amd64", "linux"},
	{"darwin", "arm64", "macos-apple"},
	{"darwin", "amd64", "macos-intel"},
	{"windows", "amd64", "windows"},
}

func main() {
	out := filepath.Join(".bin", "release")
	if len(os.Args) > 1 {
		out = os.Args[1]
	}
	if err := release(out); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func release(out string) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	var sums []string
	for _, s := range systems {
		data, err := bundle(s.os, s.arch)
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		name := "batchwright-" + s.name + ".zip"
		if err := os.WriteFile(filepath.Join(out, name), data, 0o644); err != nil {
			return err
		}
		sum := sha256.Sum256(data)
		sums = append(sums, hex.EncodeToString(sum[:])+"  "+name)
		fmt.Println("wrote", filepath.Join(out, name))
	}
	return os.WriteFile(filepath.Join(out, "SHA256SUMS"), []byte(strings.Join(sums, "\n")+"\n"), 0o644)
}

// bundle is the zip for one system.
func bundle(system, arch string) ([]byte, error) {
	env := append(os.Environ(), "GOOS="+system, "GOARCH="+arch, "CGO_ENABLED=0", "GOFLAGS=")
	program, err := build(env)
	if err != nil {
		return nil, err
	}
	terms, err := licenses(env)
	if err != nil {
		return nil, err
	}
	own, err1 := os.ReadFile("LICENSE")
	demo, err2 := os.ReadFile(filepath.Join("testdata", "orders", "demo.xlsx"))
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	name := "batchwright"
	text := func(b []byte) []byte { return b }
	if system == "windows" {
		name += ".exe"
		text = func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n")) }
	}
	return zipped([]file{
		{"batchwright/" + name, 0o755, program},
		{"batchwright/START HERE.txt", 0o644, text(start)},
		{"batchwright/demo.xlsx", 0o644, demo},
		{"batchwright/LICENSE.txt", 0o644, text(own)},
		{"batchwright/LICENSES OF LIBRARIES.txt", 0o644, text(terms)},
	})
}

func build(env []string) ([]byte, error) {
	folder, err := os.MkdirTemp("", "release-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	to := filepath.Join(folder, "program")
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", to, "./cmd/batchwright")
	cmd.Env = env
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build: %w\n%s", err, said)
	}
	return os.ReadFile(to)
}

// file is one file of a zip.
type file struct {
	name string
	mode os.FileMode
	data []byte
}

// zipped packs files with one date for all, the first a zip can hold.
func zipped(files []file) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		head := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)}
		head.SetMode(f.mode)
		to, err := w.CreateHeader(head)
		if err != nil {
			return nil, err
		}
		if _, err := to.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// module is a library that the program is built from.
type module struct{ Path, Version, Dir string }

// licenses is the license texts of Go and of every library in the program.
func licenses(env []string) ([]byte, error) {
	list, err := modules(env)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	for _, m := range list {
		texts, err := licenseFiles(m.Dir)
		if err != nil {
			return nil, err
		}
		if len(texts) == 0 {
			return nil, fmt.Errorf("%s has no license file in %s", m.Path, m.Dir)
		}
		fmt.Fprintf(&out, "%s\n%s %s\n\n", strings.Repeat("=", 78), m.Path, m.Version)
		for _, path := range texts {
			text, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			out.Write(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")))
			out.WriteString("\n")
		}
	}
	return out.Bytes(), nil
}

// modules lists Go itself and the libraries of a build, by path.
func modules(env []string) ([]module, error) {
	cmd := exec.Command("go", "list", "-deps", "-json=Module", "./cmd/batchwright")
	cmd.Env = env
	data, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("go env: %w", err)
	}
	list := []module{{Path: "Go", Dir: strings.TrimSpace(string(root))}}
	for in := json.NewDecoder(bytes.NewReader(data)); ; {
		var p struct{ Module *module }
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("go list: %w", err)
		}
		if p.Module != nil && p.Module.Version != "" && !slices.Contains(list, *p.Module) {
			list = append(list, *p.Module)
		}
	}
	slices.SortFunc(list, func(a, b module) int { return strings.Compare(a.Path, b.Path) })
	return list, nil
}

// licenseFiles are the files of a folder that hold its terms.
func licenseFiles(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		for _, begins := range []string{"LICENSE", "LICENCE", "COPYING", "NOTICE"} {
			if !e.IsDir() && strings.HasPrefix(name, begins) && !strings.HasSuffix(name, ".GO") {
				out = append(out, filepath.Join(folder, e.Name()))
			}
		}
	}
	return out, nil
}
