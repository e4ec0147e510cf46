package shop

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"syscall"
	"unsafe"

	"modernc.org/libc"
	lib "modernc.org/sqlite/lib"
)

// A layer between the database and the file system, through which it opens
// every file, log and all: it lets one call fail, as a loose cable, a bad
// sector or a quota does, and all others pass.

// faultKinds are a write that puts nothing down, one that puts half of it down,
// one for which there is no room, a sync that fails, a file that cannot be cut.
var faultKinds = []string{"write", "half", "full", "sync", "cut"}

// restoreKinds also fail to open a file and to delete one; they kill the process
// before any call at all, or in the middle of a write.
var restoreKinds = append([]string{"open", "delete", "create", "rename", "remove", "kill", "torn"}, faultKinds...)

// fault is what goes wrong, and at which such call since it was armed.
type fault struct {
	sync.Mutex
	kind  string
	at    int
	calls int
}

var faults fault

func (f *fault) arm(kind string, at int) {
	f.Lock()
	defer f.Unlock()
	f.kind, f.at, f.calls = kind, at, 0
}

// struck reports whether the call that was to fail has come.
func (f *fault) struck() bool {
	f.Lock()
	defer f.Unlock()
	return f.at > 0 && f.calls >= f.at
}

// strikes counts a call, and names the fault when it is the one that fails.
func (f *fault) strikes(kinds ...string) (kind string) {
	f.Lock()
	defer f.Unlock()
	for _, k := range append(kinds, "kill") {
		if k == f.kind {
			if f.calls++; f.calls == f.at {
				if k == "kill" {
					die()
				}
				return k
			}
		}
	}
	return ""
}

// die ends the process as a power cut does to it: nothing is cleaned up.
func die() {
	_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
	select {}
}

// before is the same for the calls that do not go through the database.
func (f *fault) before(call, _ string) error {
	kinds := []string{call}
	if call == "write" {
		kinds = []string{"write", "half", "full"}
	}
	if f.strikes(kinds...) != "" {
		return errFault
	}
	return nil
}

var errFault = errors.New("the disk failed here")

// The driver keeps its tables of functions in memory of its own: a pointer
// there is a number, and so is a function.
func at[T any](address uintptr) *T { return *(**T)(unsafe.Pointer(&address)) }

func callable[F any](number uintptr) F { return *(*F)(unsafe.Pointer(&number)) }

func number[F any](f F) uintptr { return *(*uintptr)(unsafe.Pointer(&f)) }

type (
	openCall  = func(t *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32
	writeCall = func(t *libc.TLS, file, data uintptr, n int32, where int64) int32
	syncCall  = func(t *libc.TLS, file uintptr, flags int32) int32
	cutCall   = func(t *libc.TLS, file uintptr, size int64) int32
	dropCall  = func(t *libc.TLS, vfs, name uintptr, syncFolder int32) int32
)

// failingDisk puts the layer beneath every database this process opens from
// now on.
func failingDisk() error {
	t := libc.NewTLS()
	if rc := lib.Xsqlite3_initialize(t); rc != lib.SQLITE_OK {
		return fmt.Errorf("the database library does not start: %d", rc)
	}
	plain := lib.Xsqlite3_vfs_find(t, 0)
	layer := libc.Xmalloc(t, libc.Tsize_t(unsafe.Sizeof(lib.Tsqlite3_vfs{})))
	*at[lib.Tsqlite3_vfs](layer) = *at[lib.Tsqlite3_vfs](plain)
	name, err := libc.CString("failing")
	if err != nil {
		return err
	}
	at[lib.Tsqlite3_vfs](layer).FzName = name
	at[lib.Tsqlite3_vfs](layer).FxOpen = number(layerOpen(at[lib.Tsqlite3_vfs](plain).FxOpen))
	drop := callable[dropCall](at[lib.Tsqlite3_vfs](plain).FxDelete)
	layered := func(t *libc.TLS, vfs, name uintptr, syncFolder int32) int32 {
		if faults.strikes("delete") != "" {
			return lib.SQLITE_IOERR_DELETE
		}
		return drop(t, vfs, name, syncFolder)
	}
	kept = append(kept, layered)
	at[lib.Tsqlite3_vfs](layer).FxDelete = number(layered)
	if rc := lib.Xsqlite3_vfs_register(t, layer, 1); rc != lib.SQLITE_OK {
		return fmt.Errorf("the layer cannot be registered: %d", rc)
	}
	return nil
}

// kept holds on to functions whose only reference is a number.
var kept []any

// layerOpen opens a file and puts our calls over its own; files of one kind
// share one table.
func layerOpen(plain uintptr) openCall {
	open, tables := callable[openCall](plain), map[uintptr]uintptr{}
	var mu sync.Mutex
	layered := func(t *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
		if faults.strikes("open") != "" {
			at[lib.Tsqlite3_file](file).FpMethods = 0
			return lib.SQLITE_CANTOPEN
		}
		rc := open(t, vfs, name, file, flags, out)
		methods := &at[lib.Tsqlite3_file](file).FpMethods
		if *methods == 0 {
			return rc
		}
		mu.Lock()
		defer mu.Unlock()
		if tables[*methods] == 0 {
			tables[*methods] = layerMethods(t, *methods)
		}
		*methods = tables[*methods]
		return rc
	}
	kept = append(kept, layered)
	return layered
}

func layerMethods(t *libc.TLS, plain uintptr) uintptr {
	table := libc.Xmalloc(t, libc.Tsize_t(unsafe.Sizeof(lib.Tsqlite3_io_methods{})))
	methods := at[lib.Tsqlite3_io_methods](table)
	*methods = *at[lib.Tsqlite3_io_methods](plain)
	write, flush, cut := callable[writeCall](methods.FxWrite), callable[syncCall](methods.FxSync), callable[cutCall](methods.FxTruncate)
	layeredWrite := func(t *libc.TLS, file, data uintptr, n int32, where int64) int32 {
		switch faults.strikes("write", "half", "full", "torn") {
		case "torn":
			write(t, file, data, n/2, where)
			die()
		case "write":
			return lib.SQLITE_IOERR_WRITE
		case "half":
			write(t, file, data, n/2, where)
			return lib.SQLITE_IOERR_WRITE
		case "full":
			write(t, file, data, n/2, where)
			return lib.SQLITE_FULL
		}
		return write(t, file, data, n, where)
	}
	layeredSync := func(t *libc.TLS, file uintptr, flags int32) int32 {
		if faults.strikes("sync") != "" {
			return lib.SQLITE_IOERR_FSYNC
		}
		return flush(t, file, flags)
	}
	layeredCut := func(t *libc.TLS, file uintptr, size int64) int32 {
		if faults.strikes("cut") != "" {
			return lib.SQLITE_IOERR_TRUNCATE
		}
		return cut(t, file, size)
	}
	kept = append(kept, layeredWrite, layeredSync, layeredCut)
	methods.FxWrite, methods.FxSync, methods.FxTruncate = number(layeredWrite), number(layeredSync), number(layeredCut)
	return table
}
