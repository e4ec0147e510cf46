package measure

import (
	"encoding/json"
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

type numbers struct {
	R Ratio
	A Area
	L Length
	M Money
}

func TestNumbersOfADocumentComeBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Frac(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "num"), rapid.Int64Range(1, 1<<20).Draw(t, "den"))
		a := Area{rapid.Uint64().Draw(t, "hi"), rapid.Uint64().Draw(t, "lo")}
		l := Length(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "ticks"))
		m := Money(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "cents"))
		data := fmt.Sprintf(`{"R":%q,"A":%s,"L":%s,"M":%s}`, r, a.Exact(), l.Decimal(), m)
		var back numbers
		if err := json.Unmarshal([]byte(data), &back); err != nil || back != (numbers{r, a, l, m}) {
			t.Fatalf("%s came back as %v, %v", data, back, err)
		}
	})
	for _, text := range []string{`{"R":"1/0"}`, `{"R":"x"}`, `{"A":-1}`, `{"A":0.0000000000001}`, `{"L":"3"}`, `{"L":0.000001}`, `{"M":0.001}`, `{"M":"1"}`} {
		var n numbers
		if err := json.Unmarshal([]byte(text), &n); err == nil {
			t.Errorf("%s was read as %v", text, n)
		}
	}
	var mm numbers
	if err := json.Unmarshal([]byte(`{"R":25.4,"A":1.5,"L":25.4,"M":12.50}`), &mm); err != nil || mm.R != Inch.Ratio() || mm.L != Inch || mm.M != 1250 ||
		mm.A != (Millimetre).Times(3*Millimetre/2) {
		t.Errorf("in millimetres it is %v, %v", mm, err)
	}
}
