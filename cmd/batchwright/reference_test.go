package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"batchwright/jigplan/document"
	"batchwright/orders/intake/messy"
	"batchwright/reports/workbook"
)

var (
	referenceFolder = flag.String("reference", "", "`folder` that make reference compares with; an empty one is filled")
	secondsTaken    = regexp.MustCompile(`"seconds": [0-9.e-]+`)
)

// A move of code changes nothing that a maker or another program reads: every
// JSON and workbook of the reference is compared byte for byte with what an
// earlier commit wrote, the seconds of the search apart.
func TestReference(t *testing.T) {
	if *referenceFolder == "" {
		t.Skip("make reference REFERENCE=folder, before and after a move")
	}
	orders, stall := referenceOrders(t)
	for _, f := range referenceFiles(t, orders, stall) {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Error(err)
			continue
		}
		data = secondsTaken.ReplaceAll(data, []byte(`"seconds": 0`))
		kept := filepath.Join(*referenceFolder, filepath.Base(f))
		was, err := os.ReadFile(kept)
		switch {
		case os.IsNotExist(err):
			if err := os.WriteFile(kept, data, 0o644); err != nil {
				t.Fatal(err)
			}
			t.Logf("kept %s", kept)
		case err != nil || !bytes.Equal(was, data):
			if err := os.WriteFile(kept+".now", data, 0o644); err != nil {
				t.Fatal(err)
			}
			t.Errorf("%s is not what it was: see %s.now (%v)", kept, kept, err)
		}
	}
}

// referenceFiles runs the commands of the reference and names what they wrote.
func referenceFiles(t *testing.T, orders []string, stall string) (files []string) {
	folder := t.TempDir()
	command := func(shop string, args ...string) {
		file := filepath.Join(folder, shop+".db")
		var said bytes.Buffer
		w := world{args: append(args, "--quiet", "--shop", file), out: io.Discard, err: &said, getenv: noShop(folder), now: referenceDay}
		if status := run(context.Background(), w); status != exitDone && status != exitIncomplete {
			t.Logf("%v ended with %d: %s", args, status, said.String())
		}
	}
	n := 0
	written := func(shop string, args ...string) {
		n++
		name := filepath.Join(folder, strconv.Itoa(n)+"-"+args[0])
		command(shop, append(args, "--think", "0s", "-o", name+".xlsx", "--json", name+".json")...)
		files = append(files, name+".json", name+".xlsx")
	}
	for _, shop := range []string{"plain", "quotes", "fairs", "weeks"} {
		command(shop, "shop", "set", "Clamps", "8")
	}
	command("saws", "shop", "set", "Resaw up to", "8")
	command("saws", "rack", "add", "K1", "--wood", "walnut", "--class", "8/4", "--length", "60", "--width", "7", "--cost", "48")
	command("saws", "rack", "add", "R1", "--wood", "walnut", "--class", "4/4", "--length", "96", "--width", "8", "--cost", "60")
	for _, o := range orders {
		shop := "plain"
		if base := filepath.Base(o); strings.HasPrefix(base, "resaw") || strings.HasPrefix(base, "fourcorners") {
			shop = "saws"
		}
		written(shop, "plan", o, "--partial", "--page", "none")
	}
	in := func(name string) string { return filepath.Join(ordersFolder, name) }
	written("quotes", "quote", in("quote-one.xlsx"), "--number", "one", "--from", "2027-03-08")
	written("quotes", "quote", in("quote-forty.xlsx"), "--number", "forty", "--from", "2027-03-08")
	written("fairs", "fair", in("catalog.xlsx"), "--from", "2027-03-29")
	command("stall", "shop", "set", "Fair", "May fair")
	command("stall", "shop", "set", "Fair date", "2099-05-16")
	command("stall", "shop", "set", "Booth fee", "60")
	command("stall", "rack", "add", "C1", "--count", "6", "--wood", "cherry", "--class", "4/4", "--length", "96", "--width", "8", "--cost", "40")
	written("stall", "fair", stall, "--from", "2099-05-11")
	written("weeks", "week", in("week-fair.xlsx"), in("week-school.xlsx"), in("week-tea.xlsx"), "--from", "2027-03-08")
	written("weeks", "week", in("demo.xlsx"), "--from", "2027-01-04")
	return files
}

func referenceDay() time.Time { return time.Date(2027, 1, 4, 9, 0, 0, 0, time.UTC) }

// referenceOrders are the orders of testdata, lists of the scripts, and messy
// sheets enough for 40; and a fair's catalog.
func referenceOrders(t *testing.T) (list []string, stall string) {
	var err error
	list, err = filepath.Glob(filepath.Join(ordersFolder, "*.xlsx"))
	if err != nil || len(list) == 0 {
		t.Fatalf("no orders: %v", err)
	}
	list = slices.DeleteFunc(list, func(f string) bool { return filepath.Base(f) == "catalog.xlsx" })
	folder := t.TempDir()
	put := func(name string, data []byte) {
		name = filepath.Join(folder, name)
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
		list = append(list, name)
	}
	for _, script := range []string{"resaw", "fourcorners", "patterns", "errors", "fair"} {
		archive, err := txtar.ParseFile(filepath.Join("testdata/script", script+".txtar"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			switch {
			case script == "fair" && f.Name != "catalog.csv":
			case strings.HasSuffix(f.Name, ".csv"):
				put(script+"-"+f.Name, f.Data)
			}
		}
	}
	list, stall = list[:len(list)-1], list[len(list)-1]
	cases, err := messy.All()
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; len(list) < 40 && i < len(cases); i += 11 {
		put("messy"+strconv.Itoa(i)+filepath.Ext(cases[i].File), cases[i].Data)
	}
	return list, stall
}

// The document is the plan: read back, it prints the same workbook, byte for
// byte, and it is written the same again.
func TestDocumentReadBackPrintsTheSame(t *testing.T) {
	orders, _ := referenceOrders(t)
	for i, o := range orders {
		if testing.Short() && i%3 != 0 {
			continue
		}
		t.Run(filepath.Base(o), func(t *testing.T) {
			folder := t.TempDir()
			in := func(name string) string { return filepath.Join(folder, name) }
			w := world{args: []string{"plan", o, "--partial", "--page", "none", "--think", "0s", "-o", in("x.xlsx"), "--json", in("x.json"), "--quiet"},
				out: io.Discard, err: io.Discard, getenv: noShop(folder), now: referenceDay}
			run(context.Background(), w)
			doc, err := os.ReadFile(in("x.json"))
			if err != nil {
				t.Fatal(err)
			}
			printed, err := os.ReadFile(in("x.xlsx"))
			if err != nil {
				t.Skip("nothing was printed") // the order has nothing that can be planned
			}
			p, err := document.Open(doc)
			if err != nil {
				t.Fatal(err)
			}
			book, err := workbook.Batch(p)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(book, printed) {
				t.Error("the workbook is not the same")
			}
			once, _ := document.Marshal(p)
			p, err = document.Open(once)
			if err != nil {
				t.Fatal(err)
			}
			if twice, err := document.Marshal(p); err != nil || !bytes.Equal(once, twice) {
				t.Errorf("written again it is another document: %v", err)
			}
			var is, was bytes.Buffer
			if err := errors.Join(json.Compact(&is, once), json.Compact(&was, doc)); err != nil || is.String() != was.String() {
				t.Errorf("the document read back is another: %v", err)
			}
		})
	}
}
