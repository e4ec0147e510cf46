package shop

import (
	"path/filepath"
	"testing"
)

func TestFuseIsRemote(t *testing.T) {
	const mounts = `/dev/sda1 / ext4 rw 0 0
anna@files:/srv /home/anna/the\040shop fuse.sshfs rw 0 0
/dev/sdb1 /media/stick fuseblk rw 0 0
/dev/sdc1 /home/anna/the\040shop/disk fuseblk rw 0 0
`
	for folder, want := range map[string]bool{
		"/home/anna": false, "/home/anna/the shop": true, "/home/anna/the shop/data": true, "/home/anna/the shopping": false,
		"/media/stick/data": false, "/home/anna/the shop/disk/data": false,
	} {
		if got := fuseIsRemote(mounts, folder); got != want {
			t.Errorf("%s is remote: %v, want %v", folder, got, want)
		}
	}
	if onNetwork(filepath.Join(t.TempDir(), "not", "there", "yet")) {
		t.Error("a folder of this machine that is not there yet is taken for another's")
	}
}
