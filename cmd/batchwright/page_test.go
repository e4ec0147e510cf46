package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rsc.io/qr"
)

// One file under one random path for one host; everything else is refused.
func TestPageServesOneFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x-count.html")
	if err := os.WriteFile(file, []byte("<!DOCTYPE html><html>count</html>"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	read, write := io.Pipe()
	c := &common{world: world{out: write, err: io.Discard}, quiet: true}
	ended := make(chan error, 1)
	go func() { ended <- c.servePage(ctx, file, "127.0.0.1") }()
	url, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	url = strings.TrimSpace(url)
	root := url[:strings.LastIndex(url, "/")]
	for _, want := range []struct {
		method, url, host string
		status            int
	}{
		{"GET", url, "", 200}, {"HEAD", url, "", 200}, {"POST", url, "", 405}, {"GET", root + "/", "", 404},
		{"GET", root + "/x-count.html", "", 404}, {"GET", url + "/../x", "", 404}, {"GET", url, "evil.example", 421},
	} {
		r, err := http.NewRequest(want.method, want.url, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = want.host
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode != want.status {
			t.Errorf("%s %s for %q: status %d, want %d", want.method, want.url, want.host, answer.StatusCode, want.status)
		}
		if got := strings.Contains(string(body), "count</html>"); got != (want.status == 200 && want.method == "GET") {
			t.Errorf("%s %s for %q gives the page: %v", want.method, want.url, want.host, got)
		}
	}
	cancel()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(5 * time.Second):
		t.Error("the server does not end")
	}
}

// The drawing has every dot of the code, two rows a line, within a quiet zone.
func TestQRTextHasEveryDot(t *testing.T) {
	code, err := qr.Encode("http://192.168.1.20:40000/0123456789abcdef", qr.M)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(qrText(code), "\n"), "\n")
	upper := map[rune]bool{'█': true, '▀': true}
	lower := map[rune]bool{'█': true, '▄': true}
	for y := range code.Size {
		row := []rune(lines[(y+2)/2])
		for x := range code.Size {
			light := upper[row[x+2]]
			if (y+2)%2 == 1 {
				light = lower[row[x+2]]
			}
			if light == code.Black(x, y) {
				t.Fatalf("dot %d, %d is light: %v", x, y, light)
			}
		}
	}
}
