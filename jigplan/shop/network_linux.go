package shop

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
)

// onNetwork reports whether a folder, or the nearest one above it that is there,
// lies on another machine or on a disk that several machines write at once.
func onNetwork(folder string) bool {
	full, err := filepath.Abs(folder)
	if err != nil {
		return false
	}
	var st syscall.Statfs_t
	for syscall.Statfs(full, &st) != nil {
		up := filepath.Dir(full)
		if up == full {
			return false
		}
		full = up
	}
	if kind := uint32(st.Type); kind != fuse {
		return slices.Contains(shared, kind)
	}
	if real, err := filepath.EvalSymlinks(full); err == nil {
		full = real
	}
	mounts, err := os.ReadFile("/proc/self/mounts")
	return err == nil && fuseIsRemote(string(mounts), full)
}

// The numbers are the file systems' own, from the kernel's magic.h and, for
// GFS2, gfs2_ondisk.h.
const fuse = 0x65735546

var shared = []uint32{
	0x6969,                         // NFS
	0xff534d42, 0xfe534d42, 0x517b, // CIFS, SMB2, SMB
	0x01021997,             // 9P
	0x5346414f,             // AFS
	0x73757245,             // Coda
	0x00c36400,             // Ceph
	0x7461636f, 0x01161970, // OCFS2, GFS2
	0x786f4256, // folders a virtual machine shares with its host
}

// fuseIsRemote reports whether the file system that serves a folder is one of
// those user programs that reach over a network. Mounts are lines of device,
// place, kind; the longest place that holds the folder serves it.
func fuseIsRemote(mounts, folder string) bool {
	place, kind := "", ""
	for line := range strings.Lines(mounts) {
		f := strings.Fields(line)
		if len(f) < 3 {
			continue
		}
		at := strings.ReplaceAll(f[1], `\040`, " ")
		inside := folder == at || strings.HasPrefix(folder, strings.TrimSuffix(at, "/")+"/")
		if inside && len(at) >= len(place) {
			place, kind = at, f[2]
		}
	}
	return slices.Contains([]string{"fuse.sshfs", "fuse.davfs", "fuse.davfs2", "fuse.glusterfs", "fuse.ceph", "fuse.ceph-fuse",
		"fuse.rclone", "fuse.s3fs", "fuse.curlftpfs", "fuse.gvfsd-fuse", "fuse.vmhgfs-fuse", "davfs"}, kind)
}
