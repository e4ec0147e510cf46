package intake

import (
	"fmt"
	"path/filepath"
	"strings"

	"batchwright/orders"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// ShopBook is a workbook of all that can be edited of a shop.
type ShopBook struct {
	Settings           []SettingRow
	Blades             []Tool
	Rods               []Tool
	Order              *orders.Order // its Rack, Settings and Problems
	HasShop            bool          // a Shop sheet was there
	HasBlades, HasRods bool
}

// SettingRow is a setting with a value of its own, as it was written.
type SettingRow struct {
	orders.Source
	Name, Value, Unit string
}

// Tool is a blade with its kerf, or a rod with its lead.
type Tool struct {
	Name  string
	Size  measure.Length
	InUse bool
	Note  string
}

var (
	shopBookLayout = newLayout("Shop", "settings", append(shopColumns[:len(shopColumns):len(shopColumns)],
		column{"Default", false, ""}, column{"What it does", false, "help"}))
	bladesLayout = newLayout("Blades", "blade", []column{{"Blade", true, "name"}, {"Kerf", true, "measured kerf"}, {"In use", false, "mounted"}, {"Notes", false, "note"}})
	rodsLayout   = newLayout("Rods", "rod", []column{{"Rod", true, "name|thread"}, {"Lead", false, "measured lead"}, {"In use", false, "mounted"}, {"Notes", false, "note"}})
)

// ReadShopBook reads what shop export writes, changed or not. Settings without
// a value are left out: they hold their defaults.
func ReadShopBook(name string, data []byte, base settings.Shop) (out ShopBook, err error) {
	file := filepath.Base(name)
	defer func() {
		if p := recover(); p != nil {
			err = &Refusal{file, "damaged in a way that stopped the reading", fmt.Sprintf("save it again as .xlsx (%v)", p)}
		}
	}()
	b, err := open(file, data)
	if err != nil {
		return out, err
	}
	r := &reader{order: &orders.Order{File: file, SHA256: sum(data), Settings: base.Clone()}, book: b}
	out.Order = r.order
	for _, s := range b.sheets {
		if t := tableNamed(s, &shopBookLayout, b.csv); t != nil {
			out.HasShop = true
			r.order.Settings = settings.Default()
			out.Settings = append(out.Settings, r.settingRows(t)...)
		}
	}
	for _, s := range b.sheets {
		if t := tableNamed(s, &rackFileLayout, b.csv); t != nil {
			r.readRackSheet(t)
		}
		if t := tableNamed(s, &bladesLayout, b.csv); t != nil {
			out.HasBlades = true
			out.Blades = append(out.Blades, r.tools(t, "Blade", "Kerf")...)
		}
		if t := tableNamed(s, &rodsLayout, b.csv); t != nil {
			out.HasRods = true
			out.Rods = append(out.Rods, r.tools(t, "Rod", "Lead")...)
		}
	}
	if !out.HasShop && !out.HasBlades && !out.HasRods && !r.order.HasRack {
		r.problem(orders.Error, orders.Source{}, file, "no shop sheets found", "name the sheets Shop, Rack, Blades and Rods, as shop export does")
	}
	r.inSheetOrder()
	return out, nil
}

// settingRows reads the rows that have a value, and tries each of them.
func (r *reader) settingRows(t *table) (rows []SettingRow) {
	r.quietly(func() { r.eachSetting(t, true) }) // how the others are written
	r.eachLine(t, func(l *line) int {
		name, ok := l.get("Setting")
		value, has := l.get("Value")
		if !ok || !has || l.bad {
			return 0
		}
		own, known := settings.NameOf(name.text)
		if !known {
			l.fault("Setting", name.text, "no such setting", "the help page of batchwright new lists all of them")
			return 0
		}
		if value.kind == dateCell && !settings.TakesDates(own) {
			l.fault("Value", value.text, "the spreadsheet turned this into a date"+dateGuess(value.text), "format the cell as text and type the value again")
			return 0
		}
		unit, _ := l.get("Unit")
		if per, ok := settings.MeasureOf(unit.text); ok && strings.HasPrefix(own, settings.CostOfWood+" ") {
			value.text, unit.text = value.text+" per "+string(per), ""
		}
		as := r.order.Settings.Clone()
		if value.kind == numberCell {
			as.DecimalMark = "." // a number is one whatever the mark
		}
		stored := settings.StoredValue(name.text, value.text, &as)
		rows = append(rows, SettingRow{l.cellOf("Value"), own, stored, strings.ToLower(strings.TrimSpace(unit.text))})
		l.setting(name.text)
		return 0
	})
	return rows
}

func (r *reader) tools(t *table, name, size string) (out []Tool) {
	r.eachLine(t, func(l *line) int {
		tool := Tool{Name: l.text(name), Note: l.text("Notes")}
		tool.Size, _ = l.length(size)
		if tool.Name == "" {
			l.fault(name, "", "the name is missing", "write its name")
		}
		if tool.Size <= 0 && size == "Kerf" && !l.bad {
			l.fault(size, "", "the kerf is missing", "write it as measured in a test cut")
		}
		tool.InUse = l.choice("In use", "no", map[string]string{"yes": "yes", "no": "no", "y": "yes", "n": "no", "x": "yes"}) == "yes"
		if !l.bad {
			out = append(out, tool)
		}
		return 1
	})
	return out
}
