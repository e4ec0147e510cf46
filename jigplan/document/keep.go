package document

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"reflect"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// A document is the published fields, and beside them whatever else of the plan
// prints its workbook. A published figure that is rounded, or written for
// people, stands once more in the member "exact" of its object.

const exactly = "exact"

// Marshal is the whole plan as its document, which Open reads back: what Of
// gives, with all that the published fields leave out. The same plan gives the
// same bytes; of two runs of one order only nesting.seconds may differ.
func Marshal(p *jigplan.Plan) ([]byte, error) {
	published, err := Indent(Of(p))
	if err != nil {
		return nil, err
	}
	doc, err := parsed(published)
	if err != nil {
		return nil, err
	}
	plan := plain(reflect.ValueOf(*p)).(*object)
	plan.set("boards", plain(reflect.ValueOf(p.Layout.Boards)))
	add(doc, plan)
	return Indent(doc)
}

// Open reads a plan from its document. A document of a later version is an
// error, as is one whose exact figures are not those it publishes.
func Open(data []byte) (*jigplan.Plan, error) {
	doc, err := parsed(data)
	if err != nil {
		return nil, fmt.Errorf("this is no plan as JSON: %w", err)
	}
	if v := doc.values["version"]; v != json.Number("1") {
		return nil, fmt.Errorf("this plan is of version %v, and this program reads version 1: read it with the program that wrote it", v)
	}
	if doc.values["findings"] == nil {
		return nil, fmt.Errorf("this plan has the published fields only, and no plan can be made of these: plan its order again")
	}
	if err := overlay(doc); err != nil {
		return nil, err
	}
	whole, err := json.Marshal(doc)
	if err != nil {
		return nil, err
	}
	var p jigplan.Plan
	layout := struct {
		Boards any `json:"boards"`
	}{&p.Layout.Boards}
	for _, into := range []any{&p, &layout} {
		if err := json.Unmarshal(whole, into); err != nil {
			return nil, fmt.Errorf("read the plan: %w", err)
		}
	}
	return &p, nil
}

// object is a JSON object whose members keep their order.
type object struct {
	names  []string
	values map[string]any
}

func (o *object) set(name string, value any) {
	if _, there := o.values[name]; !there {
		o.names = append(o.names, name)
	}
	o.values[name] = value
}

// MarshalJSON writes the members in order.
func (o *object) MarshalJSON() ([]byte, error) {
	pairs := Named{}
	for _, name := range o.names {
		pairs = append(pairs, Pair{name, o.values[name]})
	}
	return pairs.MarshalJSON()
}

func parsed(data []byte) (*object, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	v, err := value(dec)
	if err == nil && dec.More() {
		err = errors.New("something follows it")
	}
	doc, ok := v.(*object)
	if err == nil && !ok {
		err = errors.New("it is no object")
	}
	return doc, err
}

// value reads one value; objects keep the order of their members.
func value(dec *json.Decoder) (any, error) {
	t, err := dec.Token()
	if err != nil {
		return nil, err
	}
	switch t {
	case json.Delim('{'):
		out := &object{values: map[string]any{}}
		for dec.More() {
			name, err := dec.Token()
			if err != nil {
				return nil, err
			}
			v, err := value(dec)
			if err != nil {
				return nil, err
			}
			out.set(name.(string), v)
		}
		_, err = dec.Token()
		return out, err
	case json.Delim('['):
		out := []any{}
		for dec.More() {
			v, err := value(dec)
			if err != nil {
				return nil, err
			}
			out = append(out, v)
		}
		_, err = dec.Token()
		return out, err
	}
	return t, nil
}

// add puts into a published object what it lacks of the noun it tells of.
func add(published, noun *object) {
	exact := &object{values: map[string]any{}}
	for _, name := range noun.names {
		is := noun.values[name]
		was, there := published.values[name]
		switch {
		case !there:
			published.set(name, is)
		case !same(was, is) && !within(was, is):
			exact.set(name, is)
		}
	}
	if len(exact.names) > 0 {
		published.set(exactly, exact)
	}
}

// within adds to an object, or to the objects of a list one by one, where both
// sides are such.
func within(published, noun any) bool {
	switch is := noun.(type) {
	case *object:
		was, ok := published.(*object)
		if ok {
			add(was, is)
		}
		return ok
	case []any:
		was, ok := published.([]any)
		if !ok || len(was) != len(is) {
			return false
		}
		for i := range is {
			_, whole := is[i].(*object)
			_, told := was[i].(*object)
			if whole != told || !whole && !same(was[i], is[i]) {
				return false
			}
		}
		for i := range is {
			within(was[i], is[i])
		}
		return true
	}
	return false
}

// same reports whether a published value is the noun's, exactly. Null is
// nothing: no text, and no shim.
func same(published, noun any) bool {
	switch was := published.(type) {
	case nil:
		return noun == "" || noun == json.Number("0") || noun == exact("0")
	case json.Number:
		is, ok := noun.(json.Number)
		return ok && rational(string(was)).Cmp(rational(string(is))) == 0
	case string:
		return noun == was || noun == exact(was)
	case bool:
		return noun == was
	}
	return false
}

func rational(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat)
	}
	return r
}

// inMillimetres is a length as its decimal, where that ends, by the name of its
// member; all else as it stands.
func inMillimetres(name string, v any) any {
	switch is := v.(type) {
	case []any:
		for i := range is {
			is[i] = inMillimetres(name, is[i])
		}
	case exact:
		mm := new(big.Rat).Quo(rational(string(is)), new(big.Rat).SetInt64(int64(measure.Millimetre)))
		if digits, ends := mm.FloatPrec(); ends && strings.HasSuffix(name, "_mm") {
			return json.Number(mm.FloatString(digits))
		}
	}
	return v
}

// exact is a ratio as its fraction.
type exact string

// overlay puts the exact figures of every object in the place of its published
// ones, and no list in the place of an empty one.
func overlay(v any) error {
	switch v := v.(type) {
	case []any:
		for _, one := range v {
			if err := overlay(one); err != nil {
				return err
			}
		}
	case *object:
		if exact, ok := v.values[exactly].(*object); ok {
			for _, name := range exact.names {
				if _, there := v.values[name]; !there {
					return fmt.Errorf("the exact figure of %q stands beside none", name)
				}
				v.set(name, exact.values[name])
			}
		}
		for name, one := range v.values {
			if list, ok := one.([]any); ok && len(list) == 0 {
				v.values[name] = nil // as the nouns have it
			}
			if err := overlay(one); err != nil {
				return err
			}
		}
	}
	return nil
}

// plain is a noun as objects, lists, numbers and texts, exact.
func plain(v reflect.Value) any {
	switch is := v.Interface().(type) {
	case measure.Ratio:
		return exact(is.String())
	case measure.Area:
		return json.Number(is.Exact())
	case measure.Length:
		return json.Number(is.Decimal())
	case measure.Money:
		return json.Number(is.String())
	case time.Time, settings.Shop:
		return marshaled(is)
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return plain(v.Elem())
	case reflect.Struct:
		out := &object{values: map[string]any{}}
		for i := range v.NumField() {
			name, f := v.Type().Field(i).Tag.Get("json"), v.Field(i)
			switch {
			case v.Type().Field(i).Anonymous:
				inner := plain(f).(*object)
				for _, name := range inner.names {
					out.set(name, inner.values[name])
				}
			case name != "-":
				out.set(name, inMillimetres(name, plain(f)))
			}
		}
		return out
	case reflect.Slice, reflect.Array:
		out := make([]any, v.Len())
		for i := range out {
			out[i] = plain(v.Index(i))
		}
		return out
	case reflect.String:
		return strings.ToValidUTF8(v.String(), "\uFFFD")
	}
	return marshaled(v.Interface())
}

// marshaled is a value as its JSON says it. What has none is nothing: a number
// that is none, as everywhere in the document.
func marshaled(v any) any {
	data, err := json.Marshal(v)
	if err != nil {
		return json.Number("0")
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	out, _ := value(dec) // it was written a line above
	return out
}
