package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"batchwright/jigplan/shop"
)

// The full counts take minutes: go test ./cmd/batchwright -run Survives -shop.full
var fullShop = flag.Bool("shop.full", false, "1,000 accepts and 1,000 kills instead of a few")

func counts(few, full int) int {
	if *fullShop {
		return full
	}
	return few
}

// bench is a folder with a rack of 40 boards and an order that takes one.
type bench struct {
	*testing.T
	folder, shop, program string
}

func newBench(t *testing.T) *bench {
	b := &bench{T: t, folder: t.TempDir()}
	b.shop = filepath.Join(b.folder, "shop.db")
	b.program = builtProgram(t)
	b.file("rack.csv", boardList("W", 40))
	b.file("order.csv", "Box,Count,Length,Width,Height,Measured,Thickness,Wood,Finger\nTea,1,10,6,3-3/8,outside,1/2,walnut,1/4\n")
	if out, err := b.command("rack", "import", "rack.csv").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return b
}

func boardList(prefix string, n int) string {
	var list strings.Builder
	list.WriteString("Board,Count,Wood,Class,Length,Width,Cost\n")
	for i := range n {
		fmt.Fprintf(&list, "%s%d,1,walnut,4/4,48,6,20\n", prefix, i+1)
	}
	return list.String()
}

func (b *bench) file(name, text string) {
	if err := os.WriteFile(filepath.Join(b.folder, name), []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
}

// command is the real program in a process of its own.
func (b *bench) command(args ...string) *exec.Cmd {
	cmd := exec.Command(b.program, args...)
	cmd.Dir = b.folder
	cmd.Env = append(os.Environ(), "BATCHWRIGHT_SHOP="+b.shop, "USER=tester")
	return cmd
}

// taken is what job accept acknowledges.
type taken struct {
	Job    *struct{ ID string }
	Boards []string
}

// sound looks at the file as shop verify does, and gives its jobs and boards.
func (b *bench) sound() (map[string]shop.JobState, map[string]shop.RackBoard) {
	b.Helper()
	ctx := context.Background()
	s, err := shop.Open(ctx, b.shop, shop.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	faults, err := shop.Verify(ctx, s)
	if err != nil || len(faults) > 0 {
		b.Fatalf("the shop file is not sound: %v %q", err, faults)
	}
	states, boards := map[string]shop.JobState{}, map[string]shop.RackBoard{}
	if err := s.View(ctx, func(tx *shop.Tx) error {
		list, err := shop.Jobs(tx, "")
		for _, j := range list {
			states[jobID(j.ID)] = j.State
		}
		all, err2 := shop.ListBoards(tx, shop.BoardFilter{All: true})
		for _, board := range all {
			boards[board.ID] = board
		}
		if err == nil {
			err = err2
		}
		return err
	}); err != nil {
		b.Fatal(err)
	}
	return states, boards
}

// Two processes accept jobs against the same 40 boards: no board twice, none
// lost, and nothing goes wrong but that a board is reserved already.
func TestSurvivesTwoProcesses(t *testing.T) {
	b := newBench(t)
	n := counts(40, 1000)
	var mu sync.Mutex
	held := map[string]string{} // board -> job, as acknowledged
	refused, raced := 0, 0
	accept := func(r *rand.Rand) {
		var out, problems bytes.Buffer
		cmd := b.command("job", "accept", "--again", "order.csv", "--think", "1s", "--json", "-", "-o", os.DevNull)
		cmd.Stdout, cmd.Stderr = &out, &problems
		if err := cmd.Run(); err != nil {
			mu.Lock()
			defer mu.Unlock()
			refused++
			if !strings.Contains(problems.String(), "already reserved by job") {
				t.Errorf("%v: %s", err, problems.String())
			}
			return
		}
		var got taken
		if err := json.Unmarshal(out.Bytes(), &got); err != nil || got.Job == nil || len(got.Boards) == 0 {
			t.Errorf("accepted, but said %q (%v)", out.String(), err)
			return
		}
		mu.Lock()
		raced += strings.Count(problems.String(), "planning again on what is free")
		for _, board := range got.Boards {
			if other := held[board]; other != "" {
				t.Errorf("board %s was given to job %s and to job %s", board, other, got.Job.ID)
			}
			held[board] = got.Job.ID
		}
		full := len(held) > 36
		mu.Unlock()
		if !full && r.IntN(10) > 0 {
			return
		}
		// Forget it first: the other process may have its board at once.
		mu.Lock()
		for _, board := range got.Boards {
			delete(held, board)
		}
		mu.Unlock()
		if out, err := b.command("job", "cancel", got.Job.ID).CombinedOutput(); err != nil {
			t.Errorf("cancel: %v\n%s", err, out)
		}
	}
	var both sync.WaitGroup
	for p := range 2 {
		both.Go(func() {
			r := rand.New(rand.NewPCG(7, uint64(p)))
			for range n / 2 {
				accept(r)
			}
		})
	}
	both.Wait()
	states, boards := b.sound()
	if len(boards) != 40 {
		t.Errorf("%d boards, want 40", len(boards))
	}
	for id, board := range boards {
		switch job := held[id]; {
		case job == "" && board.State != shop.BoardFree:
			t.Errorf("board %s is %s by job %d, which nobody was told", id, board.State, board.Job)
		case job != "" && (board.State != shop.BoardReserved || jobID(board.Job) != job || states[job] != shop.JobOpen):
			t.Errorf("board %s was given to job %s and is %s by job %d", id, job, board.State, board.Job)
		}
	}
	t.Logf("%d accepts; %d times the other process took a board meanwhile and it was planned again, %d were refused because a board was reserved", n, raced, refused)
}

// Killed at a random moment of accept, finish, cancel, import and migrate, the
// file is whole and has every change that was acknowledged.
func TestSurvivesKills(t *testing.T) {
	b := newBench(t)
	r := rand.New(rand.NewPCG(11, 1))
	acked := map[string]shop.JobState{} // as acknowledged
	imported := []string{}
	killed, done, known := 0, 0, 0 // done: killed with the change in the file already
	spans := map[string]time.Duration{}
	for i := range counts(20, 1000) {
		name := fmt.Sprintf("K%d-", i)
		b.file("more.csv", boardList(name, 3))
		args := [][]string{
			{"job", "accept", "--again", "order.csv", "--think", "1s", "--json", "-", "-o", os.DevNull},
			{"rack", "import", "more.csv"},
		}[r.IntN(2)]
		open := keys(acked, shop.JobOpen)
		if len(open) > 3 || len(open) > 0 && r.IntN(2) == 0 {
			args = []string{"job", []string{"finish", "cancel"}[r.IntN(2)], open[0]}
		}
		var out bytes.Buffer
		cmd := b.command(args...)
		cmd.Stdout = &out
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// At any moment of what such a command took when it was let end.
		span, began := max(spans[args[1]], 20*time.Millisecond), time.Now()
		time.AfterFunc(time.Duration(r.Int64N(int64(span+span/4))), func() { _ = cmd.Process.Kill() })
		err := cmd.Wait()
		if took := time.Since(began); err == nil {
			spans[args[1]] = (3*span + took) / 4
		} else {
			killed++
			spans[args[1]] = span + span/20 // it may be too short to ever end
		}
		states, boards := b.sound()
		switch {
		case args[1] == "accept" && err == nil:
			var got taken
			if err := json.Unmarshal(out.Bytes(), &got); err != nil || got.Job == nil {
				t.Fatalf("accepted, but said %q", out.String())
			}
			acked[got.Job.ID] = shop.JobOpen
		case args[1] == "accept" && len(states) > known:
			done++
		case args[1] == "finish" && err == nil:
			acked[args[2]] = shop.JobFinished
		case args[1] == "cancel" && err == nil:
			acked[args[2]] = shop.JobCancelled
		case args[1] == "finish" || args[1] == "cancel":
			acked[args[2]] = states[args[2]] // done or not: both are whole
			if states[args[2]] != shop.JobOpen {
				done++
			}
		case args[1] == "import" && err == nil:
			imported = append(imported, name+"1", name+"2", name+"3")
		case args[1] == "import":
			_, first := boards[name+"1"]
			_, last := boards[name+"3"]
			if first != last {
				t.Fatalf("half an import is there")
			}
			if first {
				done++
			}
		}
		known = len(states)
		for id, state := range acked {
			if states[id] != state {
				t.Fatalf("after %v: job %s is %q, acknowledged %q", args, id, states[id], state)
			}
		}
		for _, id := range imported {
			if _, there := boards[id]; !there {
				t.Fatalf("after %v: board %s was imported and is gone", args, id)
			}
		}
	}
	t.Logf("%d commands were killed before they ended, %d of them with the change in the file", killed, done)
}

func keys(m map[string]shop.JobState, state shop.JobState) (out []string) {
	for id, s := range m {
		if s == state {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}
