package main

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// crooked are phrases that take two readings, each with what is said instead.
// The list is ours, from sentences that readers had to read twice.
var crooked = [][2]string{
	{`\bThe batch$`, "This batch"},
	{`How to mend it`, "What to do"},
	{`as likely as not|four times in five`, "median; 80% chance of ... or less"},
	{`of what is used up becomes parts`, "yield N%"},
	{`no fewer will do`, "fewest possible"},
	{`no order is quicker`, "fastest order (proven)"},
	{`[Cc]hanging over`, "setup changes"},
	{`stack ends is miscounted`, "chance of at least one miscount in N stack ends"},
	{`boards lower by`, "maximum board height"},
	{`the rod lets it go`, "the rod allows N of travel"},
	{`rounded in silence|is no whole`, "cannot be stored exactly; nearest values: ..."},
	{`nothing to do, if that is meant|nothing to do, if it is meant`, "OK if intended"},
	{`there is no box, part or board`, "no boxes, parts or boards found"},
	{`it does not begin with`, "start with ..."},
	{`area in square met(re|er)s as money`, "no prices given; layouts are compared by area"},
	{`as it lies`, "rough"},
	{`lie on boards of typical size`, "planned on standard-size boards"},
	{`\bhangs? on\b`, "depends on"},
	{`slot less pin`, "slot minus pin"},
	{`not legal|dead pairs?`, "outside your limits; pairs with no usable fit"},
	{`[Pp]rices come of`, "Prices come from"},
	{`^Behind |of the shop file\.`, "After 1 job already accepted"},
	{`Chance of it`, "Chance of that margin"},
	{`is given its place when`, "work is scheduled once the deposit arrives"},
	{`all of it together`, "everything"},
	{`\bin \d+ goes|%d goes`, "in 4 groups"},
	{`\bin hand \d`, "16 days to spare"},
	{`late by weight`, "late (weighted)"},
	{`^From hand`, "From stock"},
	{`[Oo]ne stroke for each`, "Tally"},
	{`found it whole|nothing is wrong`, "backup OK; no problems found"},
	{`write over it`, "replace this row"},
	{`cost nothing that is`, "labor is not priced"},
	{`equally dear|\bdearer\b`, "at equal cost; more"},
	{`Replaceable boards`, "Largest stack"},
	{`Guess weighs`, "Weight of the demand estimate"},
	{`Carrying home`, "Cost of an unsold box"},
	{`until the blade stands`, "wait until the blade stops"},
	{`\bcombs\b`, "featherboards"},
	{`\b[Tt]umble\b`, "flip end for end"},
	{`four walls stand`, "outside size"},
	{`does not reach the clamp`, "too short to clamp; minimum ..."},
	{`above the best possible`, "within N% of the best possible"},
	{`proven best`, "best possible (proven)"},
	{`time to think ran out`, "stopped at the time limit"},
	{`heading is not known`, "unknown heading; column skipped"},
	{`read as a total, and it agrees`, "total row, matches; skipped"},
	{`this row counts|the one that counts`, "this row is used"},
	{`part them into|\bparted by\b`, "split them into separate columns"},
	{`\bis no size\b|called so\b`, "is not a size; no such setting"},
	{`is there already`, "already exists"},
	{`take the order again from where`, "get a fresh copy of the order"},
	{`is less than nothing`, "cannot be negative"},
	{`say only what went wrong`, "print errors only"},
	{`mistake of the program`, "a bug in the program, not an error in your order"},
	{`page to hang up|bar picture`, "a wall page; a bar chart"},
	{`Begin no new box after|Glue no box after`, "Last day to start a box; Last day to glue up"},
	{`\bthe boxes bring\b|no mix brings|The boxes bring`, "The boxes earn; best mix within these limits"},
	{`Totals hold`, "Totals include"},
	{`figure in a frame`, "an outlined cell"},
	{`^kept as quote|for the shop alone`, "saved as quote; for the shop only"},
	{`taken of the quote`, "what the customer accepted"},
	{`\breckon(ed|s|ing)?\b|\banew\b|\btill\b|\btelephone\b|\bcolours?\b`, "calculated, again, until, phone, labor, color"},
	{`\d %( |$|[^a-z0-9.+#*\-])|%(d|s|v|[.0-9]+f|g) %%`, "80%: no space before the sign"},
	{`.\blabour\b|\blabour\b.`, "labor"},
	{`the office program`, "LibreOffice"},
	{`hardly meant`, "probably a mistake"},
}

// wordsKept are places where a phrase of the list is right as it stands.
var wordsKept = []string{
	"Replaceable boards", "Guess weighs", "Carrying home", "Labour rate", // old names of settings, still read
	"labour, all hours", // the word the setting takes
}

// shownText are the texts a user can meet: string literals of the commands and
// of what they call, the manual and the README.
func shownText(t *testing.T, visit func(at, text string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			skip := err == nil && path != root && (d.Name()[0] == '.' || d.Name() == "testdata" || d.Name() == "benchsets" || d.Name() == "messy" || d.Name() == "badbook")
			if skip {
				return fs.SkipDir
			}
			return err
		}
		at, _ := filepath.Rel(root, path)
		switch {
		case strings.HasSuffix(path, "_test.go"):
			return nil
		case strings.HasSuffix(path, ".go"):
			return literals(path, func(line int, text string) { visit(at+":"+strconv.Itoa(line), text) })
		case filepath.Base(filepath.Dir(path)) == "manual", at == "README.md", strings.HasSuffix(path, ".html"), strings.HasSuffix(path, ".js"):
			text, err := os.ReadFile(path)
			for i, line := range strings.Split(string(text), "\n") {
				visit(at+":"+strconv.Itoa(i+1), line)
			}
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// literals shows the texts of a Go file, pieces that are added together as one;
// struct tags and imports are no texts.
func literals(path string, visit func(line int, text string)) error {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, nil, 0)
	if err != nil {
		return err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			ast.Inspect(n.Type, func(ast.Node) bool { return true })
			return n.Tag == nil
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				if text, err := strconv.Unquote(n.Value); err == nil {
					visit(files.Position(n.Pos()).Line, text)
				}
			}
		}
		return true
	})
	return nil
}

var printTexts = flag.Bool("texts", false, "print every text a user can meet, with its place")

// No text a user can meet has a phrase that took two readings.
func TestTextsAreReadOnce(t *testing.T) {
	rules := make([]*regexp.Regexp, len(crooked))
	for i, c := range crooked {
		rules[i] = regexp.MustCompile(c[0])
	}
	texts := 0
	shownText(t, func(at, text string) {
		texts++
		if *printTexts && strings.Contains(strings.TrimSpace(text), " ") {
			fmt.Printf("%s\t%s\n", at, strings.TrimSpace(text))
		}
		for i, rule := range rules {
			if found := rule.FindString(text); found != "" && !isKept(text) {
				t.Errorf("%s: %q in %q: say %s", at, found, text, crooked[i][1])
			}
		}
	})
	if texts < 5000 {
		t.Errorf("%d texts, want all of them", texts)
	}
}

func isKept(text string) bool {
	for _, kept := range wordsKept {
		if strings.Contains(text, kept) {
			return true
		}
	}
	return false
}
