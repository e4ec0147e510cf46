package settings

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"batchwright/orders/measure"
)

// Kept is one setting as a document keeps it: the text that gives its value
// back, with a point and in millimetres, and the cell where it was read.
type Kept struct {
	Name  string `json:"name"`
	Text  string `json:"text"`
	Given bool   `json:"given"` // a sheet or the shop file said so
	Sheet string `json:"sheet"`
	Cell  string `json:"cell"`
}

// asKept is how the texts of kept settings are read.
var asKept = Entry{Bare: measure.Millimetres, Dates: measure.ISODates}

// Keep lists every setting, so that Restore makes the same shop of them. What
// only a row names stands by its value first, then by the row.
func (s *Shop) Keep() (kept []Kept) {
	as := func(name, text string) Kept {
		at := s.sources[name]
		return Kept{name, text, s.given[name], at.Sheet, at.Cell}
	}
	named := map[string]bool{}
	for i := range Definitions {
		d := &Definitions[i]
		named[d.Name] = true
		value := d.value
		if d.exact != nil {
			value = d.exact
		}
		kept = append(kept, as(d.Name, keptText(value(s))))
	}
	for _, finger := range slices.Sorted(maps.Keys(s.EdgeOrigins)) {
		kept = append(kept, Kept{Name: "Edge origin " + finger.Decimal() + " mm", Text: s.EdgeOrigins[finger].String()})
	}
	for _, wood := range slices.Sorted(maps.Keys(s.CostOf)) {
		kept = append(kept, Kept{Name: "Cost of " + wood, Text: s.CostOf[wood].String()})
	}
	for _, name := range slices.Sorted(maps.Keys(s.given)) {
		if !named[name] {
			kept = append(kept, as(name, ""))
		}
	}
	return kept
}

func keptText(value any) string {
	switch v := value.(type) {
	case measure.Length:
		return v.Decimal()
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case fmt.Stringer:
		return v.String()
	}
	return fmt.Sprint(value)
}

// Restore is the shop that Keep listed. Settings that came later hold their
// defaults; a name that no setting has any more, or a value it does not take,
// is an error.
func Restore(kept []Kept) (Shop, error) {
	s := Default()
	order := slices.Clone(kept)
	slices.SortStableFunc(order, func(a, b Kept) int { return rank(a) - rank(b) })
	for _, k := range order {
		d, suffix, ok := find(k.Name)
		if !ok {
			return s, fmt.Errorf("%w %q", ErrUnknown, k.Name)
		}
		if suffix == "" || k.Text != "" {
			if err := s.store(d, suffix, k.Text, asKept); err != nil {
				return s, fmt.Errorf("the setting %s: %w", k.Name, err)
			}
		}
		name := canonical(d.Name, suffix)
		if k.Given {
			s.given[name] = true
		}
		if k.Sheet != "" || k.Cell != "" {
			s.sources[name] = Source{k.Sheet, k.Cell}
		}
	}
	s.KerfMeasured = s.given["Blade kerf"]
	return s, nil
}

// rank puts first what other settings are read by.
func rank(k Kept) int {
	switch k.Name {
	case "Units", "Decimal mark", "Dates":
		return 0
	case "Planed yields":
		return 1
	}
	return 2
}

// keptShop is a shop in a document: its settings, and what the shop file and
// the clock say beside them.
type keptShop struct {
	Rows      []Kept    `json:"rows"`
	OwnRods   []Owned   `json:"own_rods"`
	OwnBlades []Owned   `json:"own_blades"`
	Today     time.Time `json:"today"`
}

// MarshalJSON keeps the settings of a plan in its document.
func (s Shop) MarshalJSON() ([]byte, error) {
	return json.Marshal(keptShop{s.Keep(), append([]Owned{}, s.OwnRods...), append([]Owned{}, s.OwnBlades...), s.Today})
}

// UnmarshalJSON restores what MarshalJSON kept.
func (s *Shop) UnmarshalJSON(data []byte) error {
	var kept keptShop
	err := json.Unmarshal(data, &kept)
	if err == nil {
		*s, err = Restore(kept.Rows)
	}
	s.OwnRods, s.OwnBlades = append([]Owned(nil), kept.OwnRods...), append([]Owned(nil), kept.OwnBlades...)
	s.Today = kept.Today
	return err
}
