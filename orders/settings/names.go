package settings

import "batchwright/orders/woods"

// NameOf is a setting's own spelling, whatever the case and spacing it
// was written with; not ok when there is no such setting.
func NameOf(written string) (name string, ok bool) {
	d, suffix, ok := find(written)
	if !ok {
		return "", false
	}
	if suffix != "" && d == &costOf {
		suffix = woods.Name(suffix)
	}
	return canonical(d.Name, suffix), true
}
