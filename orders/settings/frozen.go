package settings

import (
	"bytes"
	"encoding/gob"
	"slices"

	"batchwright/orders/measure"
)

// plainSettings is Settings without its methods, so that gob takes its fields.
type plainSettings Shop

// frozenSettings is what of Settings goes into a frozen plan.
type frozenSettings struct {
	Fields  plainSettings
	Sources map[string]Source
	Given   map[string]bool
	Known   []string // the settings there were
}

// GobEncode keeps the settings of a frozen plan, and where each was read.
func (s Shop) GobEncode() ([]byte, error) {
	frozen := frozenSettings{Fields: plainSettings(s), Sources: s.sources, Given: s.given}
	for _, d := range Definitions {
		frozen.Known = append(frozen.Known, d.Name)
	}
	var out bytes.Buffer
	err := gob.NewEncoder(&out).Encode(frozen)
	return out.Bytes(), err
}

// GobDecode reads what GobEncode wrote. Settings that came later than the
// frozen ones hold their defaults.
func (s *Shop) GobDecode(data []byte) error {
	var frozen frozenSettings
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&frozen); err != nil {
		return err
	}
	*s = Shop(frozen.Fields)
	s.sources, s.given = frozen.Sources, frozen.Given
	s.makeMaps()
	for _, d := range Definitions {
		if slices.ContainsFunc(append([]string{d.Name}, d.Also...), func(name string) bool { return slices.Contains(frozen.Known, name) }) {
			continue
		}
		if err := d.set(s, d.Default, Entry{Bare: d.bare}); err != nil {
			return err
		}
	}
	return nil
}

// makeMaps gives the maps that were empty, and so left out, their place again.
func (s *Shop) makeMaps() {
	if s.EdgeOrigins == nil {
		s.EdgeOrigins = map[measure.Length]measure.Ratio{}
	}
	if s.CostOf == nil {
		s.CostOf = map[string]WoodCost{}
	}
	if s.sources == nil {
		s.sources = map[string]Source{}
	}
	if s.given == nil {
		s.given = map[string]bool{}
	}
}
