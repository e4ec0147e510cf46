// Command benchsets measures the search kernels on open benchmark sets that are
// kept outside the project, and prints how near they come to the known values.
// It judges answers by its own checks and leaves solving to the kernels, which
// never see a known value.
//
// The environment says what to run:
//
//	BATCHWRIGHT_BENCH  folder that holds the sets   [../shared]
//	SETS               part of a file or folder name, comma-separated; "quick"
//	                   (a few instances of every set), "all"   [quick]
//	LIMIT              seconds an instance   [5]
//	KERF               run the cutting sets shifted to this kerf, an integer   [0]
//	OUT                file that gets one JSON object a line   [none]
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"strconv"
	"strings"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	good, err := run(ctx, os.Getenv, os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "benchsets:", err)
		os.Exit(2)
	}
	if !good {
		os.Exit(1)
	}
}

// settings is what the environment asks for.
type settings struct {
	folder string
	sets   []string // parts of names; empty: all of them
	quick  bool
	limit  time.Duration
	kerf   int64
	out    string
}

func readSettings(env func(string) string) (settings, error) {
	s := settings{folder: env("BATCHWRIGHT_BENCH"), out: env("OUT"), limit: 5 * time.Second}
	if s.folder == "" {
		s.folder = "../shared"
	}
	switch sets := env("SETS"); sets {
	case "", "quick":
		s.quick = true
	case "all":
	default:
		for name := range strings.SplitSeq(sets, ",") {
			s.sets = append(s.sets, strings.TrimSpace(name))
		}
	}
	if text := env("LIMIT"); text != "" {
		seconds, err := strconv.ParseFloat(text, 64)
		if err != nil || !(seconds > 0) || seconds > 1e6 {
			return s, fmt.Errorf("LIMIT %q is no number of seconds: use one like 5 or 0.5", text)
		}
		s.limit = time.Duration(seconds * float64(time.Second))
	}
	if text := env("KERF"); text != "" {
		kerf, err := strconv.ParseInt(text, 10, 64)
		if err != nil || kerf < 0 {
			return s, fmt.Errorf("KERF %q is no whole number of at least 0", text)
		}
		s.kerf = kerf
	}
	return s, nil
}

// wants reports whether a set of this name is asked for.
func (s settings) wants(name string) bool {
	if len(s.sets) == 0 {
		return true
	}
	for _, part := range s.sets {
		if strings.Contains(name, part) {
			return true
		}
	}
	return false
}

// run measures every set asked for and reports whether all answers were valid
// and none contradicts a known optimum.
func run(ctx context.Context, env func(string) string, screen io.Writer) (good bool, err error) {
	s, err := readSettings(env)
	if err != nil {
		return false, err
	}
	sets, err := findSets(s)
	if errors.Is(err, fs.ErrNotExist) {
		fmt.Fprintf(screen, "skipped: no benchmark sets in %q; BATCHWRIGHT_BENCH names their folder\n", s.folder)
		return true, nil
	}
	if err != nil {
		return false, err
	}
	out := io.Discard
	if s.out != "" {
		file, err := os.Create(s.out)
		if err != nil {
			return false, err
		}
		defer func() { err = errors.Join(err, file.Close()) }()
		out = file
	}
	return measureSets(ctx, s, sets, out, screen)
}
