package measure

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFrozenNumbersComeBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Frac(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "num"), rapid.Int64Range(1, 1<<20).Draw(t, "den"))
		data, err := r.GobEncode()
		if err != nil {
			t.Fatal(err)
		}
		var back Ratio
		if err := back.GobDecode(data); err != nil || back != r {
			t.Fatalf("%v came back as %v, %v", r, back, err)
		}
		if err := back.GobDecode(data[:len(data)-1]); err == nil {
			t.Fatal("a shortened ratio was read")
		}
		a := Area{rapid.Uint64().Draw(t, "hi"), rapid.Uint64().Draw(t, "lo")}
		data, _ = a.GobEncode()
		var area Area
		if err := area.GobDecode(data); err != nil || area != a {
			t.Fatalf("%v came back as %v, %v", a, area, err)
		}
	})
}
