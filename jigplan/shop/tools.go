package shop

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/orders/measure"
)

// Tool is a blade with its kerf, or a rod with its measured lead (0: as its
// name says).
type Tool struct {
	Name  string
	Size  measure.Length
	InUse bool
	Note  string
}

// Blades lists the blades, by name.
func Blades(tx *Tx) ([]Tool, error) { return tools(tx, "blades", "kerf") }

// Rods lists the rods, by name.
func Rods(tx *Tx) ([]Tool, error) { return tools(tx, "rods", "lead") }

func tools(tx *Tx, table, size string) ([]Tool, error) {
	return listRows(tx, func(rows *sql.Rows) (t Tool, err error) {
		err = rows.Scan(&t.Name, &t.Size, &t.InUse, &t.Note)
		return t, err
	}, "SELECT name, "+size+", in_use, note FROM "+table+" ORDER BY name")
}

// ReplaceBlades makes the blades those given; one with logged kerfs cannot go.
func ReplaceBlades(tx *Tx, blades []Tool) ([]string, error) {
	return replaceTools(tx, "blades", "kerf", blades)
}

// ReplaceRods makes the rods those given.
func ReplaceRods(tx *Tx, rods []Tool) ([]string, error) {
	return replaceTools(tx, "rods", "lead", rods)
}

func replaceTools(tx *Tx, table, size string, wanted []Tool) (changes []string, err error) {
	old, err := tools(tx, table, size)
	if err != nil {
		return nil, err
	}
	for _, t := range wanted {
		if slices.Contains(old, t) {
			continue
		}
		changes = append(changes, fmt.Sprintf("%s: %s", strings.TrimSuffix(table, "s"), t.Name))
		if err := putTool(tx, table, size, t); err != nil {
			return nil, err
		}
	}
	for _, t := range old {
		if slices.ContainsFunc(wanted, func(w Tool) bool { return w.Name == t.Name }) {
			continue
		}
		if _, err := tx.Exec("DELETE FROM "+table+" WHERE name = ?", t.Name); err != nil {
			return nil, fmt.Errorf("%s %q cannot be removed, because logs use it: keep its row", strings.TrimSuffix(table, "s"), t.Name)
		}
		changes = append(changes, fmt.Sprintf("%s: %s removed", strings.TrimSuffix(table, "s"), t.Name))
	}
	return changes, nil
}

func putTool(tx *Tx, table, size string, t Tool) error {
	_, err := tx.Exec("INSERT INTO "+table+" (name, "+size+", note, in_use) VALUES (?, ?, ?, ?) ON CONFLICT (name) DO UPDATE SET "+size+" = excluded."+size+", note = excluded.note, in_use = excluded.in_use",
		t.Name, int64(t.Size), t.Note, t.InUse)
	return err
}

// KerfLog is one kerf as it was measured.
type KerfLog struct {
	At    time.Time
	Blade string
	Kerf  measure.Length
	After string // "sharpening", "test corner", "new"
	Note  string
}

// LogKerf keeps a measured kerf. The blade becomes the one in use, and its kerf
// the shop's Blade kerf: the next programs are made with it. A blade that was
// not known is added. Written is the kerf as a setting's text, in unit.
func LogKerf(tx *Tx, l KerfLog, written, unit string) (changes []string, err error) {
	blades, err := Blades(tx)
	if err != nil {
		return nil, err
	}
	for _, b := range blades {
		if b.Name != l.Blade && b.InUse {
			b.InUse = false
			if err := putTool(tx, "blades", "kerf", b); err != nil {
				return nil, err
			}
		}
	}
	note := ""
	if i := slices.IndexFunc(blades, func(b Tool) bool { return b.Name == l.Blade }); i >= 0 {
		note = blades[i].Note
	}
	if err := putTool(tx, "blades", "kerf", Tool{l.Blade, l.Kerf, true, note}); err != nil {
		return nil, err
	}
	if _, err := tx.Exec("INSERT INTO kerfs (at, blade, kerf, after, note) VALUES (?, ?, ?, ?, ?)",
		Time(tx.Now), l.Blade, int64(l.Kerf), l.After, l.Note); err != nil {
		return nil, err
	}
	return SetSetting(tx, Setting{"Blade kerf", written, unit}, fmt.Sprintf("kerf of %s after %s", l.Blade, l.After))
}

// Kerfs lists the kerfs as they were measured, oldest first.
func Kerfs(tx *Tx) ([]KerfLog, error) {
	return listRows(tx, scanKerf, "SELECT at, blade, kerf, after, note FROM kerfs ORDER BY id")
}

func scanKerf(rows *sql.Rows) (l KerfLog, err error) {
	var at string
	if err := rows.Scan(&at, &l.Blade, &l.Kerf, &l.After, &l.Note); err != nil {
		return l, err
	}
	l.At, err = ParseTime(at)
	return l, err
}

// BladeInUse is the blade on the saw; the first one gets this name.
func BladeInUse(tx *Tx) (string, error) {
	blades, err := Blades(tx)
	for _, b := range blades {
		if b.InUse {
			return b.Name, err
		}
	}
	return "box joint blade", err
}

// Corner is a test corner as it was measured.
type Corner struct {
	Blade                string
	Finger, Height, Slot measure.Length
	Kerf, Lead           measure.Length // what it tells; nearest tick
	Fit                  measure.Ratio
	Advice               string
}

// LogCorner keeps a test corner.
func LogCorner(tx *Tx, c Corner) error {
	if _, err := tx.Exec("INSERT INTO blades (name, kerf, in_use) VALUES (?, ?, 0) ON CONFLICT DO NOTHING", c.Blade, int64(c.Kerf)); err != nil {
		return err
	}
	_, err := tx.Exec("INSERT INTO corners (at, blade, finger, height, slot, kerf, lead, fit, advice) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
		Time(tx.Now), c.Blade, int64(c.Finger), int64(c.Height), int64(c.Slot), int64(c.Kerf), int64(c.Lead), c.Fit.String(), c.Advice)
	return err
}

// LogMoisture keeps a measured moisture, in percent of the dry weight.
func LogMoisture(tx *Tx, what string, percent float64) error {
	_, err := tx.Exec("INSERT INTO moistures (at, what, percent) VALUES (?, ?, ?)", Time(tx.Now), what, percent)
	return err
}
