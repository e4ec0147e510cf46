package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"batchwright/orders"
)

var updateReadme = flag.Bool("update-readme", false, "write the settings' table into the README")

// TestReadmeListsEverySetting keeps the README's table to the definitions.
func TestReadmeListsEverySetting(t *testing.T) {
	const path, open, shut = "../../README.md", "<!-- settings -->\n", "<!-- /settings -->"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok1 := strings.Cut(string(data), open)
	_, after, ok2 := strings.Cut(rest, shut)
	if !ok1 || !ok2 {
		t.Fatalf("%s has no place for the settings", path)
	}
	want := before + open + settingsTable() + shut + after
	if *updateReadme {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if want != string(data) {
		t.Errorf("the README's settings differ from orders.Definitions: go test ./cmd/batchwright -run Readme -update-readme")
	}
}

func settingsTable() string {
	var b strings.Builder
	group := ""
	for _, d := range orders.Definitions {
		if d.Group != group {
			group = d.Group
			fmt.Fprintf(&b, "\n**%s**\n\n| setting | default | unit | |\n|---|---|---|---|\n", group)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", d.Name, d.Default, d.Unit, strings.ReplaceAll(d.Help, "|", "/"))
	}
	return b.String() + "\n"
}
