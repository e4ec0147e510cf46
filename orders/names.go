package orders

// SettingName is a setting's own spelling, whatever the case and spacing it
// was written with; not ok when there is no such setting.
func SettingName(written string) (name string, ok bool) {
	d, suffix, ok := find(written)
	if !ok {
		return "", false
	}
	if suffix != "" && d == &costOf {
		suffix = WoodName(suffix)
	}
	return canonical(d.Name, suffix), true
}
