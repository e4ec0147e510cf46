package main

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// libraryWords are words of the libraries below the commands, of Go, of SQL and
// of the operating system: no maker says them.
var libraryWords = regexp.MustCompile(`arg\(s\)|requires at least|accepts (at most|between|\d)|unknown (flag|command|shorthand)|` +
	`invalid (argument|syntax|value|character|memory)|strconv|parsing|flag needs|bad flag|\bflags?\b|<nil>|\bEOF\b|no such file|%!|` +
	`syscall|\bSQL\b|sqlite|unmarshal|json:|runtime error|goroutine|\bstdin\b|shorthand`)

// says runs a command line in a folder of its own and gives what it says.
func says(t *testing.T, dir string, args ...string) (code int, text string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	var out bytes.Buffer
	env := map[string]string{"BATCHWRIGHT_SHOP": filepath.Join(dir, "shop.db"), "HOME": dir}
	code = run(ctx, world{args: args, out: &bytes.Buffer{}, err: &out, getenv: func(k string) string { return env[k] }, now: time.Now})
	return code, out.String()
}

// everyCommand visits the commands that a person may type.
func everyCommand(visit func(words []string, cmd *cobra.Command)) {
	var walk func(cmd *cobra.Command, words []string)
	walk = func(cmd *cobra.Command, words []string) {
		visit(words, cmd)
		for _, sub := range cmd.Commands() {
			walk(sub, append(words[:len(words):len(words)], sub.Name()))
		}
	}
	walk(newRoot(&common{world: world{getenv: func(string) string { return "" }, now: time.Now}}), nil)
}

// A wrong command line is answered with where it is wrong, what is wrong, and
// what to type, in a maker's words; the exit status is 2.
func TestWrongUsageIsSaidInThreeParts(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	tried := 0
	wrong := func(cmd *cobra.Command, args ...string) {
		t.Helper()
		tried++
		code, text := says(t, dir, args...)
		where := shortName(cmd) + ": "
		if !cmd.HasParent() {
			where = "batchwright: "
		}
		if code != exitUsage || !strings.Contains(text, where) || !strings.Contains(text, "Type: ") && !strings.Contains(text, "See batchwright") {
			t.Errorf("%q: exit %d, and it says %q: want the place, what is wrong and what to type", args, code, text)
		}
		if found := libraryWords.FindString(text); found != "" {
			t.Errorf("%q: %q in %q", args, found, text)
		}
	}
	everyCommand(func(words []string, cmd *cobra.Command) {
		with := func(more ...string) []string { return append(words[:len(words):len(words)], more...) }
		if len(needed(cmd)) > 0 {
			wrong(cmd, words...)
		}
		if cmd.Runnable() && strings.Count(cmd.Use, "...") == 0 {
			wrong(cmd, with("aaa", "bbb", "ccc", "ddd")...)
		}
		wrong(cmd, with("--no-such-option")...)
		wrong(cmd, with("-7.5")...)
		wrong(cmd, with("--=3")...)
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			switch f.Value.Type() {
			case "bool":
				wrong(cmd, with("--"+f.Name+"=perhaps")...)
				return
			case "duration", "int", "int64", "float64":
				wrong(cmd, with("--"+f.Name, "@@")...)
			}
			wrong(cmd, with("--"+f.Name)...)
		})
	})
	if tried < 500 {
		t.Errorf("%d wrong command lines, want every option of every command", tried)
	}
}

// No command answers an option or argument of nonsense with the words of a
// library.
func TestNonsenseIsAnsweredInPlainWords(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	if code, text := says(t, dir, "rack", "add", "R1", "--wood", "cherry", "--class", "4/4", "--length", "96", "--width", "8"); code != exitDone {
		t.Fatal(text)
	}
	everyCommand(func(words []string, cmd *cobra.Command) {
		if cmd.HasSubCommands() && len(words) < 1 || len(words) > 0 && (words[0] == "completion" || words[0] == "help") {
			return
		}
		for _, nonsense := range []string{"@@", "1e999"} {
			args := append([]string(nil), words...)
			for range needed(cmd) {
				args = append(args, nonsense)
			}
			lines := [][]string{args}
			cmd.Flags().VisitAll(func(f *pflag.Flag) {
				if f.Value.Type() != "bool" {
					lines = append(lines, append(args[:len(args):len(args)], "--"+f.Name+"="+nonsense))
				}
			})
			for _, line := range lines {
				_, text := says(t, dir, line...)
				if found := libraryWords.FindString(text); found != "" {
					t.Errorf("%q: %q in %q", line, found, text)
				}
			}
		}
	})
}
