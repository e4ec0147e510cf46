package document

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"batchwright/jigplan"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Every document that the shop file ever kept opens: one is frozen here
// whenever the document changes.
func TestEveryFrozenDocumentOpens(t *testing.T) {
	frozen, err := filepath.Glob("testdata/*.json.gz")
	if err != nil || len(frozen) == 0 {
		t.Fatalf("no frozen documents: %v", err)
	}
	for _, name := range frozen {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		zip, err := gzip.NewReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		doc, err := io.ReadAll(zip)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Open(doc)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		again, err := Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		was, _ := parsed(doc)
		is, _ := parsed(again)
		for _, lost := range lacking("", was, is) {
			t.Errorf("%s: %s is lost, or another, when it is read", name, lost)
		}
	}
}

// lacking names the members of a document that another does not have alike.
func lacking(at string, was, is any) (lost []string) {
	switch was := was.(type) {
	case *object:
		other, ok := is.(*object)
		if !ok {
			return []string{at}
		}
		for _, name := range was.names {
			if inner, there := other.values[name]; there {
				lost = append(lost, lacking(at+"/"+name, was.values[name], inner)...)
			} else {
				lost = append(lost, at+"/"+name)
			}
		}
	case []any:
		other, ok := is.([]any)
		if ok && len(other) != len(was) { // settings that came later stand among those there were
			other = slices.DeleteFunc(slices.Clone(other), func(o any) bool {
				return !slices.ContainsFunc(was, func(w any) bool { return nameOf(w) == nameOf(o) })
			})
		}
		if !ok || len(other) != len(was) {
			return []string{at}
		}
		for i := range was {
			lost = append(lost, lacking(at+"/"+string(rune('0'+i%10)), was[i], other[i])...)
		}
	default:
		if was != is {
			lost = []string{at}
		}
	}
	return lost
}

func nameOf(v any) any {
	if o, ok := v.(*object); ok {
		return o.values["name"]
	}
	return nil
}

// A field without a name in the document would be lost in it.
func TestEveryFieldOfAPlanHasAName(t *testing.T) {
	seen := map[reflect.Type]bool{reflect.TypeFor[settings.Shop](): true, reflect.TypeFor[time.Time](): true,
		reflect.TypeFor[measure.Ratio](): true, reflect.TypeFor[measure.Area](): true}
	var look func(reflect.Type)
	look = func(noun reflect.Type) {
		switch noun.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array:
			look(noun.Elem())
		case reflect.Map:
			t.Errorf("%v is a map: a document has lists", noun)
		case reflect.Struct:
			names := map[string]bool{}
			for i := 0; i < noun.NumField() && !seen[noun]; i++ {
				f := noun.Field(i)
				name := f.Tag.Get("json")
				if !f.Anonymous && (name == "" || names[name] || !f.IsExported()) {
					t.Errorf("%v.%s has no name of its own in the document: give it a json tag", noun, f.Name)
				}
				names[name] = true
				look(f.Type)
			}
			seen[noun] = true
		}
	}
	look(reflect.TypeFor[jigplan.Plan]())
}

// A renamed field is what the frozen documents guard against: a member that the
// nouns do not know is found.
func TestLostMembersAreFound(t *testing.T) {
	whole, err := Marshal(plan())
	if err != nil {
		t.Fatal(err)
	}
	was, err := parsed(bytes.Replace(whole, []byte(`"stack_bound"`), []byte(`"stacks_at_least"`), 1))
	if err != nil {
		t.Fatal(err)
	}
	is, _ := parsed(whole)
	if lost := strings.Join(lacking("", was, is), " "); lost != "/stacks_at_least" {
		t.Errorf("lost: %q", lost)
	}
}

// What is no whole document is refused with what to do.
func TestDocumentsThatAreNotOpened(t *testing.T) {
	whole, err := Marshal(plan())
	if err != nil {
		t.Fatal(err)
	}
	published, err := Indent(Of(plan()))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ doc, says string }{
		"cut short":      {string(whole[:len(whole)/2]), "no plan as JSON"},
		"a list":         {"[]", "no plan as JSON"},
		"later version":  {strings.Replace(string(whole), `"version": 1`, `"version": 9`, 1), "version 9"},
		"published only": {string(published), "plan its order again"},
		"no length":      {strings.Replace(string(whole), `"cut_width_mm": `, `"cut_width_mm": "wide", "was": `, 1), "not a length"},
		"beside nothing": {strings.Replace(string(whole), `"version": 1`, `"version": 1, "exact": {"lead": "1"}`, 1), "beside none"},
	} {
		if _, err := Open([]byte(c.doc)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want it to say %q", name, err, c.says)
		}
	}
}
