package main

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// allowed is the import table: what each package may import beyond the
// standard library. "nouns" are the stages' roots up to its own.
var allowed = map[string][]string{
	"orders/measure":        {},
	"orders/spelling":       {},
	"orders/woods":          {"orders/spelling"},
	"orders/settings":       {"orders/measure", "orders/spelling", "orders/woods"},
	"orders":                {"orders/measure", "orders/settings", "orders/spelling", "orders/woods"},
	"orders/intake":         {"orders", "orders/measure", "orders/settings", "orders/woods", "excelize", "mscfb", "x/text"},
	"orders/parts":          {"orders", "orders/measure", "orders/settings", "orders/woods"},
	"orders/disk":           {},
	"nesting":               {"nesting/solve", "orders", "orders/measure", "orders/settings", "orders/woods"},
	"nesting/solve":         {},
	"nesting/cutting":       {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "nesting/solve"},
	"nesting/check":         {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting"},
	"jigplan":               {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting"},
	"jigplan/joint":         {"orders", "orders/measure", "orders/settings", "orders/woods", "jigplan"},
	"jigplan/setup":         {"orders", "orders/measure", "orders/settings", "orders/woods", "jigplan"},
	"jigplan/sequence":      {"orders", "orders/measure", "orders/settings", "orders/woods", "jigplan"},
	"jigplan/week":          {"jigplan", "jigplan/check", "jigplan/times", "nesting", "orders", "orders/settings"},
	"jigplan/times":         {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan"},
	"jigplan/quote":         {"jigplan", "jigplan/check", "jigplan/plan", "jigplan/times", "jigplan/week", "nesting", "orders", "orders/measure", "orders/settings", "orders/woods"},
	"jigplan/fair":          {"jigplan", "jigplan/plan", "jigplan/quote", "jigplan/week", "nesting/solve", "orders", "orders/measure", "orders/settings", "orders/woods"},
	"jigplan/shop":          {"jigplan", "jigplan/document", "jigplan/plan", "nesting", "orders", "orders/disk", "orders/measure", "orders/settings", "orders/woods", "sqlite", "flock"},
	"jigplan/check":         {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan"},
	"jigplan/improve":       {"orders", "orders/measure", "orders/settings", "nesting", "jigplan", "x/sync"},
	"reports":               {"orders", "orders/measure", "orders/settings", "orders/spelling", "orders/woods", "nesting", "jigplan", "jigplan/improve"},
	"jigplan/document":      {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan", "reports"},
	"reports/draw":          {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan", "reports", "x/image"},
	"reports/workbook":      {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan", "reports", "reports/draw", "excelize"},
	"reports/page":          {"orders", "orders/measure", "orders/settings", "orders/woods", "nesting", "jigplan", "reports"},
	"jigplan/plan":          {"jigplan", "jigplan/check", "jigplan/joint", "jigplan/sequence", "jigplan/setup", "jigplan/times", "nesting", "nesting/check", "nesting/cutting", "orders", "orders/measure", "orders/parts", "orders/settings", "orders/woods"},
	"cmd/batchwright":       {"*", "cobra", "pflag", "go-pretty", "x/term", "mousetrap", "qr"},
	"cmd/release":           {},
	"cmd/benchsets":         {"nesting", "nesting/cutting", "orders", "orders/measure", "jigplan", "jigplan/check", "jigplan/sequence", "jigplan/week", "orders/settings", "go-pretty"},
	"orders/intake/badbook": {"excelize"},
	"orders/intake/messy":   {"orders", "orders/measure"},
}

// modules gives the libraries their short names.
var modules = map[string]string{
	"github.com/xuri/excelize/v2":          "excelize",
	"github.com/richardlehane/mscfb":       "mscfb",
	"golang.org/x/text":                    "x/text",
	"golang.org/x/image":                   "x/image",
	"golang.org/x/sync":                    "x/sync",
	"golang.org/x/term":                    "x/term",
	"modernc.org/sqlite":                   "sqlite",
	"github.com/spf13/cobra":               "cobra",
	"github.com/spf13/pflag":               "pflag",
	"github.com/jedib0t/go-pretty/v6":      "go-pretty",
	"github.com/inconshreveable/mousetrap": "mousetrap",
	"rsc.io/qr":                            "qr",
}

// TestImportTable holds the imports of every package to the table.
func TestImportTable(t *testing.T) {
	for _, fault := range importFaults(os.DirFS("../..")) {
		t.Error(fault)
	}
}

// TestImportTableFindsPlantedImports shows that the guard can fail.
func TestImportTableFindsPlantedImports(t *testing.T) {
	planted := map[string]string{
		"orders/measure":   `"batchwright/orders"`,                      // a leaf that looks up
		"nesting/check":    `"batchwright/nesting/cutting"`,             // a check that shares the code it checks
		"jigplan/joint":    `"batchwright/nesting/cutting"`,             // a verb of another stage
		"reports":          `"github.com/xuri/excelize/v2"`,             // a file format above its place
		"orders/unheardof": `"fmt"`,                                     // a package that nobody placed
		"jigplan/plan":     `_ "modernc.org/sqlite"`,                    // a second way to the shop file
		"cmd/benchsets":    `"batchwright/orders/intake"`,               // a benchmark that reads orders
		"jigplan/setup":    `. "github.com/jedib0t/go-pretty/v6/table"`, // screens belong to cmd
	}
	for pkg, imported := range planted {
		t.Run(pkg, func(t *testing.T) {
			root := t.TempDir()
			source := fmt.Sprintf("package x\n\nimport %s\n", imported)
			if err := os.MkdirAll(filepath.Join(root, pkg), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(root, pkg, "x.go"), []byte(source), 0o644); err != nil {
				t.Fatal(err)
			}
			if faults := importFaults(os.DirFS(root)); len(faults) != 1 {
				t.Errorf("importing %s into %s: %d faults found, want 1: %q", imported, pkg, len(faults), faults)
			}
		})
	}
}

// importFaults reads the imports of all non-test files from source.
func importFaults(root fs.FS) (faults []string) {
	err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && name != "." && strings.HasPrefix(entry.Name(), "."), entry.Name() == "testdata":
			return fs.SkipDir
		case !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		source, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, source, parser.ImportsOnly)
		if err != nil {
			return err
		}
		may, placed := allowed[path.Dir(name)]
		if !placed {
			faults = append(faults, fmt.Sprintf("%s: the table of allowed imports has no row for its package", name))
			return nil
		}
		for _, spec := range file.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value)
			if !mayImport(may, imported) {
				faults = append(faults, fmt.Sprintf("%s imports %s", name, imported))
			}
		}
		return nil
	})
	if err != nil {
		faults = append(faults, err.Error())
	}
	return faults
}

func mayImport(may []string, imported string) bool {
	if own, ok := strings.CutPrefix(imported, "batchwright/"); ok {
		return slices.Contains(may, own) || slices.Contains(may, "*")
	}
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return true // the standard library
	}
	for module, short := range modules {
		if imported == module || strings.HasPrefix(imported, module+"/") {
			return slices.Contains(may, short)
		}
	}
	return false
}

// TestTopLevel keeps the visible top level as it is.
func TestTopLevel(t *testing.T) {
	want := []string{"DEVELOPERS.md", "LICENSE", "Makefile", "README.md", "cmd", "go.mod", "go.sum", "jigplan", "nesting", "orders", "reports", "testdata"}
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(want, e.Name()) && e.Name() != "batchwright" {
			t.Errorf("the top level has %s", e.Name())
		}
	}
}
