package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// outputArgs are arguments for every command that writes a file, order.csv
// where it reads one, FILE where the argument is the output.
var outputArgs = map[string][]string{
	"plan":             {"order.csv"},
	"check":            {"order.csv"},
	"new":              {"FILE"},
	"joint":            {},
	"joint map":        {},
	"joint lost":       {},
	"joint corner":     {},
	"joint budget":     {},
	"quote":            {"order.csv"},
	"quote show":       {"1"},
	"quote list":       {},
	"quote invoice":    {"1"},
	"quote paid":       {"1", "20"},
	"quote decline":    {"1"},
	"fair":             {"order.csv"},
	"week":             {"order.csv", "more.csv"},
	"rack list":        {},
	"rack add":         {"W9"},
	"rack import":      {"order.csv"},
	"rack yard import": {"order.csv"},
	"rack yard list":   {},
	"rack yard clear":  {},
	"rack count":       {"order.csv"},
	"job accept":       {"order.csv"},
	"job repeat":       {"1"},
	"job change":       {"1", "order.csv"},
	"job recut":        {"1", "P1"},
	"job show":         {"1"},
	"job list":         {},
	"job finish":       {"1"},
	"job cancel":       {"1"},
	"log review":       {},
	"log sold":         {"order.csv"},
	"log left":         {"order.csv"},
	"rack remove":      {"W1"},
	"shop show":        {},
	"shop export":      {"FILE"},
	"shop backup":      {"FILE"},
	"shop verify":      {},
	"undo":             {},
	"log list":         {},
	"shop blade list":  {},
	"shop rod list":    {},
	"labels":           {"order.csv"},
	"improve":          {"order.csv"},
}

// victims are names that no output may have, and what the message says.
var victims = map[string]string{
	"shop.db":             "would overwrite the shop file",
	"./sub/../shop.db":    "would overwrite the shop file",
	"link-to-shop.db":     "would overwrite the shop file",
	"hard-link-to-shop":   "would overwrite the shop file",
	"shop.db-wal":         "belongs to the shop file",
	"shop.db-shm":         "belongs to the shop file",
	"shop.db-journal":     "belongs to the shop file",
	"shop.db.before-1":    "belongs to the shop file",
	"shop.db.before-27":   "belongs to the shop file",
	"sub/link/shop.db":    "would overwrite the shop file",
	"sub":                 "is a folder: name a file in it",
	"read-only.xlsx":      "is read-only",
	"not-there/file.xlsx": "there is no folder",
}

// inputVictims are further ones for a command that reads order.csv.
var inputVictims = []string{"order.csv", "sub/link/order.csv", "link-to-order.csv", "hard-link-to-order.csv"}

func outputFolder(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	s, err := shop.Open(context.Background(), filepath.Join(folder, "shop.db"), shop.Options{})
	if err == nil {
		err = s.Close()
	}
	write := func(name string, mode fs.FileMode) error {
		return os.WriteFile(filepath.Join(folder, name), []byte("Box,Count\n"), mode)
	}
	link := func(to, name string) error { return os.Symlink(to, filepath.Join(folder, name)) }
	hard := func(to, name string) error {
		return os.Link(filepath.Join(folder, to), filepath.Join(folder, name))
	}
	err = errors.Join(err, write("order.csv", 0o644), write("more.csv", 0o644), write("read-only.xlsx", 0o444),
		os.Mkdir(filepath.Join(folder, "sub"), 0o755), link("..", "sub/link"), link("shop.db", "link-to-shop.db"),
		link("order.csv", "link-to-order.csv"), hard("shop.db", "hard-link-to-shop"), hard("order.csv", "hard-link-to-order.csv"))
	if err != nil {
		t.Skip("a folder with links cannot be made here: ", err)
	}
	return folder
}

// contents are all files of a folder.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Type()&fs.ModeSymlink != 0 {
			return err
		}
		data, err := os.ReadFile(path)
		found[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// No output option of any command replaces the order, the shop file or what
// belongs to it, nor do two outputs share a file: exit status 2, and nothing at
// all is written.
func TestOutputsReplaceNothing(t *testing.T) {
	folder := outputFolder(t)
	t.Chdir(folder)
	before := contents(t, folder)
	tried := 0
	refused := func(want string, args ...string) {
		t.Helper()
		tried++
		var out, said bytes.Buffer
		code := run(context.Background(), world{args: args, out: &out, err: &said, now: time.Now,
			getenv: func(name string) string {
				return map[string]string{"BATCHWRIGHT_SHOP": "shop.db", "USER": "anna"}[name]
			}})
		if code != exitUsage || !strings.Contains(said.String(), want) || out.Len() > 0 {
			t.Errorf("%q: exit %d, printed %q, said %q; want exit 2 and %q", args, code, out.String(), said.String(), want)
		}
		for path, was := range contents(t, folder) {
			if strings.HasSuffix(path, "-shm") || strings.HasSuffix(path, "-wal") {
				continue // SQLite's own, while the shop file is read
			}
			if old, known := before[path]; !known || old != was {
				t.Fatalf("%q wrote %s", args, path)
			}
		}
	}
	for _, cmd := range commandsWithOutputs(t) {
		line := append(strings.Fields(cmd.name), outputArgs[cmd.name]...)
		at := -1
		for i, arg := range line {
			if arg == "FILE" {
				at = i
			}
		}
		for victim, want := range victims {
			for _, flag := range cmd.flags {
				good := append([]string{}, line...)
				if at >= 0 {
					good[at] = "good.xlsx"
				}
				refused(want, append(good, "--"+flag, victim)...)
			}
			if at >= 0 {
				bad := append([]string{}, line...)
				bad[at] = victim
				refused(want, bad...)
			}
		}
		for i, flag := range cmd.flags {
			if strings.Contains(strings.Join(line, " "), "order.csv") {
				for _, victim := range inputVictims {
					refused("would overwrite a file that is read", append(line, "--"+flag, victim)...)
				}
			}
			for _, other := range cmd.flags[:i] {
				refused("would be one file", append(line, "--"+flag, "new.xlsx", "--"+other, "sub/link/new.xlsx")...)
				refused("cannot both go to standard output", append(line, "--"+flag, "-", "--"+other, "-")...)
			}
		}
	}
	// Names that a command makes up.
	for _, args := range [][]string{
		{"plan", "order.csv", "--json", "order-batch.xlsx"},
		{"plan", "order.csv", "--page", "x", "--json", "x.html"},
		{"quote", "order.csv", "--json", "order-cost.xlsx"},
		{"quote", "order.csv", "--json", "order-quote.xlsx"},
		{"quote", "order.csv", "-o", "a.xlsx", "--json", "a-cost.xlsx"},
		{"fair", "order.csv", "--json", "order-fair.xlsx"},
		{"fair", "order.csv", "-o", "a.xlsx", "--json", "a-week.xlsx"},
		{"fair", "order.csv", "-o", "a.xlsx", "--json", "a-batch.xlsx"},
		{"week", "order.csv", "--from", "2027-03-08", "--json", "week-2027-03-08.xlsx"},
		{"joint", "--pattern", "key 3/4", "--height", "6", "--card", "c.xlsx", "--json", "c-row-B.xlsx"},
	} {
		refused("would be one file", args...)
	}
	t.Logf("%d command lines were refused", tried)
}

type outputCommand struct {
	name  string
	flags []string
}

// commandsWithOutputs are all commands that write a file, with the options that
// name one. An option whose help says FILE is an output, and every such command
// needs arguments in the list above.
func commandsWithOutputs(t *testing.T) (out []outputCommand) {
	t.Helper()
	var walk func(cmd *cobra.Command)
	walk = func(cmd *cobra.Command) {
		one := outputCommand{name: strings.TrimPrefix(cmd.CommandPath(), "batchwright ")}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			switch {
			case f.Annotations[outputNote] != nil:
				one.flags = append(one.flags, f.Name)
			case strings.Contains(f.Usage, "`FILE`"):
				t.Errorf("%s --%s names a file and is not declared with outputFlag", one.name, f.Name)
			}
		})
		if len(one.flags) > 0 || cmd.Annotations[argumentNote] != "" {
			if outputArgs[one.name] == nil {
				t.Errorf("%s writes files, and this test has no arguments for it", one.name)
			} else {
				out = append(out, one)
			}
		}
		for _, sub := range cmd.Commands() {
			walk(sub)
		}
	}
	walk(newRoot(&common{}))
	return out
}

// What is written keeps the mode of what it replaces, follows links, honors the
// umask, and leaves nothing beside it; costs are for the shop's eyes only.
func TestWrittenFiles(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no modes here")
	}
	folder := t.TempDir()
	t.Chdir(folder)
	fresh := func() *common {
		return &common{world: world{getenv: func(string) string { return "" }, now: time.Now}, quiet: true}
	}
	if err := errors.Join(os.WriteFile("old", []byte("old"), 0o600), os.Chmod("old", 0o640), os.Symlink("old", "link"),
		os.Symlink("far", "dangling"), os.Mkdir(".batchwright-123", 0o700), os.WriteFile(".batchwright-456", nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	defer umask(umask(0o027))
	tests := []struct {
		path, real string
		write      func(string, []byte) (string, error)
		mode       fs.FileMode
		why        string
	}{
		{"old", "old", fresh().write, 0o640, "the mode of what is replaced"},
		{"link", "old", fresh().write, 0o640, "a link is followed"},
		{"dangling", "far", fresh().write, 0o640, "a link to nothing makes the file it names"},
		{"new", "new", fresh().write, 0o640, "the umask is honored"},
		{"cost", "cost", fresh().writePrivate, 0o600, "only the owner reads costs"},
	}
	for _, tt := range tests {
		if _, err := tt.write(tt.path, []byte(tt.why)); err != nil {
			t.Errorf("%s: %v", tt.why, err)
			continue
		}
		data, err := os.ReadFile(tt.real)
		info, err2 := os.Lstat(tt.real)
		if err = errors.Join(err, err2); err != nil || string(data) != tt.why || info.Mode() != tt.mode {
			t.Errorf("%s: %q, %v, %v; want mode %v", tt.why, data, info.Mode(), err, tt.mode)
		}
	}
	if info, err := os.Lstat("link"); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link itself was replaced")
	}
	left, err := filepath.Glob(".batchwright-*")
	if err != nil || len(left) > 0 {
		t.Errorf("unfinished files of a dead process stay: %q, %v", left, err)
	}
}
