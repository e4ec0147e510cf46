package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// TestPackStaysThin prints whole batches: pages are paper that somebody carries.
func TestPackStaysThin(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: printing takes seconds, and -short was given")
	}
	for _, name := range []string{"soffice", "pdfinfo"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("skipped: %s is not installed, so nothing can count the pages", name)
		}
	}
	const head = "Box,Count,Length,Width,Height,Measured,Thickness,Wood,Finger,Bottom,Lid\n"
	demo, err := os.ReadFile(filepath.Join(ordersFolder, "demo.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, order string
		most        int
	}{
		{"three.csv", head + "Recipe box,3,6-1/2,4-3/4,4-1/2,outside,1/2,walnut,1/4,groove,lift-off\n", 12},
		{"sixty.csv", head + "Recipe box,20,6-1/2,4-3/4,4-1/2,outside,1/2,cherry,1/4,groove,lift-off\n" +
			"Tea box,16,11,7,3-1/2,outside,1/2,cherry,3/8,groove,sliding\n" +
			"Pencil tray,14,9,3-1/2,2-1/2,outside,3/8,maple,1/4,nailed,none\n" +
			"Tool chest,10,16,9,6,outside,5/8,maple,1/2,groove,hinged\n", 24},
		{"demo.xlsx", string(demo), 34},
	} {
		folder := t.TempDir()
		order, batch := filepath.Join(folder, c.name), filepath.Join(folder, "batch.xlsx")
		if err := os.WriteFile(order, []byte(c.order), 0o644); err != nil {
			t.Fatal(err)
		}
		var said bytes.Buffer
		status := run(context.Background(), world{args: []string{"plan", order, "-o", batch, "--page", "none", "--quiet"},
			out: &said, err: &said, getenv: noShop(folder), now: time.Now})
		if status != exitDone {
			t.Fatalf("%s: exit status %d\n%s", c.name, status, said.String())
		}
		print := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.ToSlash(filepath.Join(folder, "profile")),
			"--headless", "--convert-to", "pdf", "--outdir", folder, batch)
		if said, err := print.CombinedOutput(); err != nil {
			t.Fatalf("LibreOffice: %v\n%s", err, said)
		}
		told, err := exec.Command("pdfinfo", filepath.Join(folder, "batch.pdf")).Output()
		if err != nil {
			t.Fatal(err)
		}
		_, rest, _ := strings.Cut(string(told), "Pages:")
		line, _, _ := strings.Cut(rest, "\n")
		pages, err := strconv.Atoi(strings.TrimSpace(line))
		if err != nil || pages > c.most || pages == 0 {
			t.Errorf("%s prints on %d pages (%v), want at most %d", c.name, pages, err, c.most)
		}
		t.Logf("%s: %d pages", c.name, pages)
	}
}
