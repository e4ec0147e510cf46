package document

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"

	"batchwright/orders/measure"
)

// Named is a JSON object whose members keep their order.
type Named []Pair

// Pair is one member of an object.
type Pair struct {
	Name  string
	Value any
}

// MarshalJSON writes the pairs as one object, in order.
func (n Named) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	out.WriteByte('{')
	for i, p := range n {
		if i > 0 {
			out.WriteByte(',')
		}
		err1 := enc.Encode(p.Name)
		out.WriteByte(':')
		err2 := enc.Encode(p.Value)
		if err1 != nil || err2 != nil {
			return nil, fmt.Errorf("write %q: %w", p.Name, errors.Join(err1, err2))
		}
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// UnmarshalJSON reads an object, keeping the order of its members; numbers
// stay as they are written.
func (n *Named) UnmarshalJSON(data []byte) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	if t, err := dec.Token(); err != nil || t != json.Delim('{') {
		return fmt.Errorf("%q is not an object", data)
	}
	*n = Named{}
	for dec.More() {
		name, err := dec.Token()
		if err != nil {
			return err
		}
		var value any
		if err := dec.Decode(&value); err != nil {
			return err
		}
		*n = append(*n, Pair{name.(string), value})
	}
	return nil
}

func length(l measure.Length) json.Number { return json.Number(l.Decimal()) }
func ratio(r measure.Ratio) json.Number   { return json.Number(r.Decimal()) }
func money(m measure.Money) json.Number   { return json.Number(m.String()) }

func areaOf(a measure.Area) json.Number { return json.Number(a.Decimal()) }

// float writes minutes and other statistics at nine decimals, which hides the
// noise of binary fractions and nothing else. What is no number is 0.
func float(f float64) json.Number {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "0"
	}
	f, _ = strconv.ParseFloat(strconv.FormatFloat(f, 'f', 9, 64), 64)
	return json.Number(strconv.FormatFloat(f+0, 'f', -1, 64))
}

// each applies f in order; an empty list stays a list, never null.
func each[T, U any](list []T, f func(*T) U) []U {
	out := make([]U, len(list))
	for i := range list {
		out[i] = f(&list[i])
	}
	return out
}

func texts(list []string) []string { return append([]string{}, list...) }
