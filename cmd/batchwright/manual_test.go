package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestManualRuns runs every command of the manual and of the README as written,
// each text from an empty home. Lines directly below a command are what it
// prints; each must be found in its output, whatever the spacing.
func TestManualRuns(t *testing.T) {
	program := filepath.Dir(builtProgram(t))
	texts := map[string]string{}
	for _, name := range topicNames() {
		texts[name], _ = topic(name)
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	texts["README.md"] = string(readme)
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			runExamples(t, program, text)
		})
	}
}

// runExamples runs the lines that start with a dollar sign.
func runExamples(t *testing.T, program, text string) {
	home := t.TempDir()
	data, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(data, filepath.Join(home, "testdata")); err != nil {
		t.Skipf("no symbolic links here: %v", err)
	}
	output := ""
	below := false
	for line := range strings.Lines(text) {
		command, is := strings.CutPrefix(strings.TrimSpace(line), "$ ")
		switch {
		case is && (strings.HasPrefix(command, "make ") || strings.HasPrefix(command, "git ") || strings.HasPrefix(command, "cd ")):
			below = false
		case is:
			output, below = runExample(t, home, program, command), true
		case strings.TrimSpace(line) == "" || !strings.HasPrefix(line, "    "):
			below = false
		case below && !strings.Contains(oneSpaced(output), oneSpaced(line)):
			t.Errorf("the text says that the command above prints %q; it printed:\n%s", strings.TrimSpace(line), output)
		}
	}
}

func runExample(t *testing.T, home, program, command string) string {
	cmd := exec.Command("sh", "-c", command)
	cmd.Dir = home
	cmd.Env = append(os.Environ(), "HOME="+home, "XDG_DATA_HOME="+home, "BATCHWRIGHT_SHOP=",
		"PATH="+program+string(os.PathListSeparator)+os.Getenv("PATH"))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Errorf("%s: %v\n%s", command, err, out)
	}
	return string(out)
}

func oneSpaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// TestManualFitsAScreen holds every topic to 80 columns; only commands to paste
// may be longer.
func TestManualFitsAScreen(t *testing.T) {
	for _, name := range topicNames() {
		text, ok := topic(name)
		if !ok {
			t.Errorf("topic %s has no text", name)
		}
		for line := range strings.Lines(text) {
			line = strings.TrimRight(line, "\n")
			if utf8.RuneCountInString(line) > 80 && !strings.HasPrefix(strings.TrimSpace(line), "$ ") {
				t.Errorf("%s: %d columns: %s", name, utf8.RuneCountInString(line), line)
			}
		}
	}
}
