package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

func (c *common) shopShow() *cobra.Command {
	all := false
	cmd := &cobra.Command{
		Use: "show", Short: "Show the shop: settings that differ from the defaults, blades, rods, calibration", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, err := c.readState(cmd.Context())
			if err != nil {
				return err
			}
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			if err := c.writeJSON(s.document(path)); err != nil {
				return err
			}
			c.show(s.tables(path, all))
			return nil
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "every setting, with its default and what it does")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type shopJSON struct {
	Version  int               `json:"version"`
	File     string            `json:"file"`
	Profile  int               `json:"profile"`
	Settings map[string]string `json:"settings"` // that differ from the defaults, as written
	Blades   []toolJSON        `json:"blades"`
	Rods     []toolJSON        `json:"rods"`
	Boards   int               `json:"boards"`
	Factors  []factorJSON      `json:"calibration"`
}

type toolJSON struct {
	Name  string         `json:"name"`
	Size  measure.Length `json:"size_mm"` // the kerf, or the lead as measured (0: from the name)
	InUse bool           `json:"in_use"`
}

type factorJSON struct {
	Element string  `json:"element"`
	Logs    int     `json:"logs"`
	Median  float64 `json:"median"`
	Factor  float64 `json:"factor"`
	Spread  float64 `json:"spread"`
}

func (s *shopState) document(path string) shopJSON {
	doc := shopJSON{1, path, s.profile.Version, map[string]string{}, []toolJSON{}, []toolJSON{}, len(s.boards), []factorJSON{}}
	for _, row := range s.stored {
		doc.Settings[row.Name] = strings.TrimSpace(row.Value + " " + row.Unit)
	}
	for _, t := range s.blades {
		doc.Blades = append(doc.Blades, toolJSON{t.Name, t.Size, t.InUse})
	}
	for _, t := range s.rods {
		doc.Rods = append(doc.Rods, toolJSON{t.Name, t.Size, t.InUse})
	}
	for _, f := range s.factors {
		doc.Factors = append(doc.Factors, factorJSON{f.Element, f.Logs, f.Median, f.Factor, f.Spread})
	}
	return doc
}

func (s *shopState) tables(path string, all bool) []reports.Table {
	facts := reports.Table{Title: path, Head: []string{"", ""}}
	facts.Add("Boards on the rack", fmt.Sprint(len(s.boards)))
	if s.profile.Version > 0 {
		facts.Add("Jig profile", fmt.Sprintf("%d, since %s: %s", s.profile.Version, s.settings.Units.Date(s.profile.At), s.profile.Why))
	}
	for _, b := range s.blades {
		facts.Add("Blade "+b.Name, caliper(b.Size, s.settings.Units)+inUse(b.InUse))
	}
	for _, r := range s.rods {
		facts.Add("Rod "+r.Name, strings.TrimSpace(leadText(r.Size, s.settings.Units)+inUse(r.InUse)))
	}
	settings := s.sheet(!all)
	settings.Title = "Settings of this shop"
	out := []reports.Table{facts}
	if len(settings.Rows) > 0 {
		out = append(out, settings)
	}
	if len(s.factors) > 0 {
		out = append(out, factorTable(s.factors, s.settings.Units))
	}
	return out
}

func inUse(yes bool) string {
	if yes {
		return ", in use"
	}
	return ""
}

func leadText(lead measure.Length, unit measure.Unit) string {
	if lead == 0 {
		return "lead by its name"
	}
	return "lead " + caliper(lead, unit)
}

// caliper is a measured kerf or lead: "0.0935 in", "2.83 mm".
func caliper(l measure.Length, unit measure.Unit) string {
	if unit.Metric() {
		return l.ShowUnit(unit)
	}
	return unit.Mark(l.DecimalInches()) + " in"
}

// defaultText is a setting's default with its unit; that of a temperature has it.
func defaultText(d settings.Definition, u measure.Unit) string {
	def, unit := d.DefaultIn(u), d.UnitIn(u)
	if unit == "" || strings.HasSuffix(def, " "+unit) {
		return def
	}
	return strings.TrimSpace(def + " " + unit)
}

// sheet is the Shop sheet: every setting, or those alone that have a value of
// their own. A blank value is the default.
func (s *shopState) sheet(onlyStored bool) reports.Table {
	t := reports.Table{Title: "Shop", Head: []string{"Setting", "Value", "Unit", "Default", "What it does"}, Numbers: []int{1}}
	own := map[string]shop.Setting{}
	for _, row := range s.stored {
		own[row.Name] = row
	}
	u := s.settings.Units
	for _, d := range settings.Definitions {
		row, has := own[d.Name]
		delete(own, d.Name)
		if has || !onlyStored {
			t.Add(d.Named(u), d.Shown(row.Value, u), row.Unit, defaultText(d, u), d.HelpIn(u))
		}
	}
	for _, row := range s.stored {
		if _, rest := own[row.Name]; rest {
			t.Add(row.Name, settings.ShownValue(row.Name, row.Value, s.settings.Units), row.Unit, "", "")
		}
	}
	return t
}
