package main

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"rsc.io/qr"
)

// servesFor is how long a page is served when nobody ends it.
const servesFor = 12 * time.Hour

func pageCommand(c *common) *cobra.Command {
	var address string
	cmd := &cobra.Command{
		Use:   "page FILE.html",
		Short: "Show a count page on a phone or tablet at the saw",
		Long: "Serves one count page on the local network, to phones and tablets on the same Wi-Fi, until Ctrl-C or for\n" +
			"twelve hours. It prints the address and a QR code. Only this file is served, under a random path.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.servePage(cmd.Context(), args[0], address) },
	}
	cmd.Flags().StringVar(&address, "address", "", "serve on this `ADDRESS`, for example 192.168.1.20:8080 (default: the first local one, any free port)")
	cmd.Flags().BoolVar(&c.quiet, "quiet", false, "print the address only")
	return cmd
}

// servePage serves one file until the maker or the clock ends it.
func (c *common) servePage(ctx context.Context, path, address string) error {
	html, err := readFile(path)
	if err != nil {
		return err
	}
	if head := strings.ToLower(string(html[:min(len(html), 512)])); !strings.Contains(head, "<html") {
		return refuse("%q is not a web page: name a count page, for example demo-count.html, which batchwright plan writes", path)
	}
	if address == "" {
		if address, err = localAddress(); err != nil {
			return err
		}
	}
	if _, _, err := net.SplitHostPort(address); err != nil {
		address = net.JoinHostPort(strings.Trim(address, "[]"), "0")
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return refuse("cannot serve on %s: %w; name another address with --address", address, err)
	}
	secret := make([]byte, 8)
	if _, err := rand.Read(secret); err != nil {
		return refuse("cannot make a random path: %w", err)
	}
	host := listener.Addr().String()
	at := "/" + hex.EncodeToString(secret)
	if err := c.sayPage("http://" + host + at); err != nil {
		return err
	}
	return serveUntil(ctx, listener, onePage(host, at, html))
}

// sayPage prints the address, and its QR code for a phone's camera.
func (c *common) sayPage(url string) error {
	fmt.Fprintln(c.world.out, url)
	code, err := qr.Encode(url, qr.M)
	if err != nil {
		return refuse("cannot make the QR code: %w", err)
	}
	if !c.quiet {
		fmt.Fprint(c.world.out, qrText(code))
	}
	c.sayf("Open it on a phone or tablet on the same network. Ctrl-C ends it; it ends by itself after twelve hours.")
	c.sayf("The network is not encrypted: use your own Wi-Fi. If the screen goes dark, set the phone's display to stay on.")
	return nil
}

// qrText draws a QR code with half blocks, light on dark and dark on light
// alike: the code's quiet zone is drawn too.
func qrText(code *qr.Code) string {
	const quiet = 2
	var out strings.Builder
	light := func(x, y int) bool { return !code.Black(x, y) }
	for y := -quiet; y < code.Size+quiet; y += 2 {
		for x := -quiet; x < code.Size+quiet; x++ {
			switch upper, lower := light(x, y), light(x, y+1) || y+1 >= code.Size+quiet; {
			case upper && lower:
				out.WriteString("█")
			case upper:
				out.WriteString("▀")
			case lower:
				out.WriteString("▄")
			default:
				out.WriteString(" ")
			}
		}
		out.WriteString("\n")
	}
	return out.String()
}

// localAddress is this machine's address on the local network: the first
// private one, else the loopback.
func localAddress() (string, error) {
	list, err := net.InterfaceAddrs()
	if err != nil {
		return "", refuse("cannot find this machine's address: %w; name one with --address", err)
	}
	for _, a := range list {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsPrivate() && n.IP.To4() != nil {
			return n.IP.String(), nil
		}
	}
	return "127.0.0.1", nil
}

// onePage answers requests for one path of one host, and nothing else: a page
// elsewhere that points a name of its own at this machine gets no answer.
func onePage(host, at string, html []byte) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cache-Control", "no-store")
		switch {
		case r.Host != host:
			http.Error(w, "not here", http.StatusMisdirectedRequest)
		case r.URL.Path != at:
			http.NotFound(w, r)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			head.Set("Allow", "GET, HEAD")
			http.Error(w, "read only", http.StatusMethodNotAllowed)
		default:
			head.Set("Content-Type", "text/html; charset=utf-8")
			w.Write(html)
		}
	})
}

// serveUntil serves until the context or the clock ends, or Ctrl-C.
func serveUntil(ctx context.Context, listener net.Listener, handler http.Handler) error {
	ctx, cancel := context.WithTimeout(ctx, servesFor)
	defer cancel()
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt)
	defer stop()
	server := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	select {
	case err := <-done:
		return refuse("the page is no longer served: %w", err)
	case <-ctx.Done():
	}
	if err := server.Close(); err != nil && !errors.Is(err, http.ErrServerClosed) {
		return refuse("cannot end the server: %w", err)
	}
	return nil
}
