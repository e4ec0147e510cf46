package orders

import "testing"

func TestDefaultSettingsAreTheContracts(t *testing.T) {
	s := DefaultSettings()
	for _, u := range s.Used() {
		t.Log(u.Name, u.Value)
	}
}
