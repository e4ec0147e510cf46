package settings

import (
	"bytes"
	"encoding/gob"
	"reflect"
	"testing"

	"batchwright/orders/measure"
)

// Zeros are the danger: an encoding leaves them out, and 0 is a legal trim.
func TestFrozenSettingsComeBack(t *testing.T) {
	zeroed := Default()
	for _, name := range []string{"End trim", "Crosscut kerf", "Planing allowance", "Learning exponent"} {
		if err := zeroed.Set(name, "0", Entry{Source: Source{"Shop", "B3"}}); err != nil {
			t.Fatal(err)
		}
	}
	rich := Default()
	for name, value := range map[string]string{"Edge origin 1/2": "-1", "Cost of walnut": "9.50", "Holidays": "2027-01-01", "Units": "mm"} {
		if err := rich.Set(name, value, Entry{Bare: measure.Inches}); err != nil {
			t.Fatal(err)
		}
	}
	for name, s := range map[string]Shop{"defaults": Default(), "zeros": zeroed, "maps": rich} {
		var frozen bytes.Buffer
		if err := gob.NewEncoder(&frozen).Encode(s); err != nil {
			t.Fatal(err)
		}
		var back Shop
		if err := gob.NewDecoder(&frozen).Decode(&back); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(s, back) {
			t.Errorf("%s: came back as\n%+v, want\n%+v", name, back, s)
		}
	}
}
