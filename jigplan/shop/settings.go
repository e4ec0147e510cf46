package shop

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// Setting is one row of the Shop sheet, as it was written.
type Setting struct{ Name, Value, Unit string }

// shown is the setting as a person of the shop reads it.
func (s Setting) shown(unit measure.Unit) string {
	return strings.TrimSpace(settings.ShownValue(s.Name, s.Value, unit) + " " + s.Unit)
}

// called is its name as a person of the shop reads it.
func (s Setting) called(unit measure.Unit) string {
	if d, ok := settings.Find(s.Name); ok && d.Name == s.Name {
		return d.Named(unit)
	}
	return s.Name
}

// sameNumber reports whether two rows hold the same plain number: 42.50 and 42.5.
func sameNumber(a, b Setting) bool {
	x, errX := strconv.ParseFloat(a.Value, 64)
	y, errY := strconv.ParseFloat(b.Value, 64)
	return errX == nil && errY == nil && x == y && a.Unit == b.Unit
}

// StoredSettings lists the settings that differ from the defaults, in the order the
// settings are defined, those for one finger or one wood at the end.
func StoredSettings(tx *Tx) ([]Setting, error) {
	out, err := listRows(tx, func(rows *sql.Rows) (s Setting, err error) {
		err = rows.Scan(&s.Name, &s.Value, &s.Unit)
		if name, ok := settings.NameOf(s.Name); ok {
			s.Name = name // an earlier name
		}
		return s, err
	}, "SELECT name, value, unit FROM settings ORDER BY name")
	slices.SortStableFunc(out, func(a, b Setting) int { return settingPlace(a.Name) - settingPlace(b.Name) })
	return out, err
}

func settingPlace(name string) int {
	for i, d := range settings.Definitions {
		if d.Name == name {
			return i
		}
	}
	return len(settings.Definitions)
}

// Settings is the shop's settings over base: the defaults, or what the command
// line says. The rods and blades that lie in the shop come with them.
func Settings(tx *Tx, base settings.Shop) (settings.Shop, error) {
	stored, err := StoredSettings(tx)
	if err != nil {
		return base, err
	}
	out := base.Clone()
	for _, own := range []struct {
		list func(*Tx) ([]Tool, error)
		into *[]settings.Owned
	}{{Rods, &out.OwnRods}, {Blades, &out.OwnBlades}} {
		tools, err := own.list(tx)
		if err != nil {
			return base, err
		}
		*own.into = nil
		for _, t := range tools {
			*own.into = append(*own.into, settings.Owned{Name: t.Name, Size: t.Size})
		}
	}
	return out, ApplySettings(&out, stored)
}

// ApplySettings writes rows of settings into s, as a Shop sheet does.
func ApplySettings(s *settings.Shop, rows []Setting) error {
	for _, r := range rows {
		entry := settings.Entry{Source: orders.Source{Sheet: settings.ShopFileSheet, Cell: r.Name}, Bare: settingUnits[r.Unit], Dates: measure.ISODates}
		if per, ok := settings.MeasureOf(r.Unit); ok && strings.HasPrefix(r.Name, settings.CostOfWood+" ") {
			r.Value += " per " + string(per)
		}
		err := s.Set(r.Name, r.Value, entry)
		if entry.DecimalComma = s.DecimalMark == ","; err != nil && entry.DecimalComma {
			err = s.Set(r.Name, r.Value, entry) // kept with its comma, as older versions did
		}
		if err != nil {
			return fmt.Errorf("setting %q: %w", r.Name, err)
		}
	}
	return nil
}

// settingUnits are what the Unit column may say of a length; other units are those
// the setting has anyway.
var settingUnits = map[string]measure.Unit{"in": measure.Inches, "mm": measure.Millimetres, "cm": measure.Centimetres, "ft": measure.Feet}

// ReplaceSettings makes the shop's settings those given, checked as a whole, and says
// what changes. A setting that is not given returns to its default.
func ReplaceSettings(tx *Tx, rows []Setting, why string) (changes []string, err error) {
	fresh := settings.Default()
	if err := ApplySettings(&fresh, rows); err != nil {
		return nil, err
	}
	if wrong := fresh.Conflicts(); len(wrong) > 0 {
		return nil, fmt.Errorf("%s: change %s", wrong[0].Why, wrong[0].Setting)
	}
	old, err := StoredSettings(tx)
	if err != nil {
		return nil, err
	}
	for i := range settings.Definitions {
		for _, earlier := range settings.Definitions[i].Also {
			if _, err := tx.Exec("UPDATE OR IGNORE settings SET name = ? WHERE name = ?", settings.Definitions[i].Name, earlier); err != nil {
				return nil, err
			}
		}
	}
	was := map[string]Setting{}
	for _, s := range old {
		was[s.Name] = s
	}
	for _, s := range rows {
		before, known := was[s.Name]
		delete(was, s.Name)
		if before == s || sameNumber(before, s) {
			continue
		}
		text := "its default"
		if known {
			text = before.shown(fresh.Units)
		}
		changes = append(changes, fmt.Sprintf("%s: %s -> %s", s.called(fresh.Units), text, s.shown(fresh.Units)))
		if _, err := tx.Exec("INSERT INTO settings (name, value, unit) VALUES (?, ?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value, unit = excluded.unit", s.Name, s.Value, s.Unit); err != nil {
			return nil, err
		}
	}
	for name, s := range was {
		changes = append(changes, fmt.Sprintf("%s: %s -> its default", s.called(fresh.Units), s.shown(fresh.Units)))
		if _, err := tx.Exec("DELETE FROM settings WHERE name = ?", name); err != nil {
			return nil, err
		}
	}
	if len(changes) > 0 {
		err = keepProfile(tx, why)
	}
	slices.Sort(changes)
	return changes, err
}

// SetSetting changes one setting; its name must be one of the defined ones.
func SetSetting(tx *Tx, row Setting, why string) ([]string, error) {
	rows, err := StoredSettings(tx)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(rows, func(s Setting) bool { return s.Name == row.Name })
	if at < 0 {
		rows = append(rows, row)
	} else {
		rows[at] = row
	}
	return ReplaceSettings(tx, rows, why)
}

// Profile is one state of rod, blade and jig.
type Profile struct {
	Version int // 0: the shop file has none yet; the defaults hold
	At      time.Time
	Jig     map[string]string
	Why     string
}

// DefaultProfile is the jig of a shop that has set nothing yet: profile 0.
func DefaultProfile() Profile {
	s := settings.Default()
	return Profile{Jig: jigOf(&s)}
}

// LatestProfile is the profile that holds now.
func LatestProfile(tx *Tx) (Profile, error) {
	all, err := Profiles(tx)
	if err != nil || len(all) == 0 {
		return DefaultProfile(), err
	}
	return all[len(all)-1], nil
}

// Profiles lists every state there was, oldest first.
func Profiles(tx *Tx) ([]Profile, error) {
	return listRows(tx, scanProfile, "SELECT version, at, jig, why FROM profiles ORDER BY version")
}

func scanProfile(rows *sql.Rows) (p Profile, err error) {
	var at, jig string
	if err := rows.Scan(&p.Version, &at, &jig, &p.Why); err != nil {
		return p, err
	}
	if p.At, err = ParseTime(at); err != nil {
		return p, err
	}
	if err := json.Unmarshal([]byte(jig), &p.Jig); err != nil {
		return p, err
	}
	for written, value := range p.Jig {
		if name, ok := settings.NameOf(written); ok && name != written {
			delete(p.Jig, written)
			p.Jig[name] = value
		}
	}
	return p, nil
}

// keepProfile adds a version when the jig is no longer what the latest says.
func keepProfile(tx *Tx, why string) error {
	s, err := Settings(tx, settings.Default())
	if err != nil {
		return err
	}
	jig, err := json.Marshal(jigOf(&s)) // the keys come out sorted
	if err != nil {
		return err
	}
	latest, err := LatestProfile(tx)
	if err != nil {
		return err
	}
	if before, _ := json.Marshal(latest.Jig); string(before) == string(jig) {
		return nil
	}
	last, err := tx.Last(JigProfile(), latest.Version)
	if err != nil {
		return err
	}
	_, err = tx.Exec("INSERT INTO profiles (version, at, jig, why) VALUES (?, ?, ?, ?)", last+1, Time(tx.Now), string(jig), why)
	return err
}

// settingShown is a value of a profile as it is read, lengths in a unit.
func settingShown(name, value string, unit measure.Unit) string {
	for _, d := range settings.Definitions {
		if d.Name != name || d.Unit != "in" {
			continue
		}
		if l, err := measure.Parse(value, measure.Reading{Bare: measure.Millimetres}); err == nil {
			return l.ShowUnit(unit)
		}
	}
	return value
}

// jigOf is the Jig page of the settings as text, lengths in millimetres.
func jigOf(s *settings.Shop) map[string]string {
	out := map[string]string{}
	for _, d := range settings.Definitions {
		if d.Group == "Jig" {
			text, _ := json.Marshal(d.Value(s)) // settings are texts, numbers and lengths
			out[d.Name] = string(text)
		}
	}
	for finger, turns := range s.EdgeOrigins {
		out["Edge origin "+finger.Fraction()] = turns.String()
	}
	return out
}

// Differences says how a profile differs from another, setting by setting,
// lengths in a unit: "Blade kerf 3/32 in -> 0.0935 in".
func (p Profile) Differences(from Profile, unit measure.Unit) []string {
	var out []string
	for name, value := range p.Jig {
		if before := from.Jig[name]; before != value {
			out = append(out, fmt.Sprintf("%s %s -> %s", name, settingShown(name, before, unit), settingShown(name, value, unit)))
		}
	}
	slices.Sort(out)
	return out
}
