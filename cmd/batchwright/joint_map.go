package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// jointMapCommand lists what every rod, blade and index reaches.
func jointMapCommand(c *common) *cobra.Command {
	var rods, blades, stops []string
	var fitMin, fitMax, diameter string
	var dead bool
	cmd := &cobra.Command{
		Use:   "map [--rods 3/8-16,M8 --blades 3/32,2.4mm --stops 1,2,4]",
		Short: "Fit map: the fit of every rod, blade and index, and pairs with no usable fit",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			shop, err := c.shopFor(cmd.Context(), 0)
			if err != nil {
				return err
			}
			s := shop.settings
			for _, set := range [][2]string{{"Fit at least", fitMin}, {"Fit at most", fitMax}} {
				if set[1] != "" {
					if err := s.Set(set[0], set[1], s.Entry(settings.Source{})); err != nil {
						return exit{exitUsage, err}
					}
				}
			}
			m, err := fitMap(s, c.eachOf(rods), c.eachOf(blades), strings.FieldsFunc(strings.Join(stops, " "), func(r rune) bool { return strings.ContainsRune(" ,;", r) }))
			if err != nil {
				return exit{exitUsage, err}
			}
			if err := c.writeJSON(mapRecord(m)); err != nil {
				return err
			}
			w := reports.Words{Unit: s.Units}
			if err := c.writeFitMap(s, w, m); err != nil {
				return err
			}
			tables := []reports.Table{mapTable(w, m, dead)}
			if disc, err := discTable(s, w, c.eachOf(rods), c.eachOf(blades), diameter); err != nil {
				return exit{exitUsage, err}
			} else if len(disc.Rows) > 0 {
				tables = append(tables, disc)
			}
			c.show(tables)
			c.tell([]string{fmt.Sprintf("A kerf change of %s changes every fit by %s. The last columns show how far the kerf may be off before the fit is outside your limits.", s.Units.Mark("0.001"), s.Units.Mark("0.002"))})
			return nil
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&rods, "rods", nil, "rods to map (default those the shop owns, else \"tables\": every rod of the thread tables)")
	f.StringArrayVar(&blades, "blades", nil, "kerfs to map (default the shop's blades, else \"tables\": the common ones)")
	f.StringArrayVar(&stops, "stops", nil, "index stops a turn to map (default the wheel's, else 1, 2, 3, 4, 5, 6, 8, 10, 12)")
	f.StringVar(&fitMin, "fit-min", "", "tightest fit (default: the setting Fit at least)")
	f.StringVar(&fitMax, "fit-max", "", "loosest fit (default: the setting Fit at most)")
	f.StringVar(&diameter, "disc", "", "diameter of the circle of holes of a detent disc (default 4 in, 100 mm)")
	f.BoolVar(&dead, "dead", false, "show the pairs with no usable fit too")
	outputFlag(cmd, &c.output, "output", "o", "write the map as a workbook, with drawings, to `FILE`")
	f.StringVar(&c.units, "units", "", "in or mm")
	c.plainFlags(cmd)
	c.jsonFlag(cmd)
	return cmd
}

// fitMap maps the rods and blades named, else those the shop owns, else those
// of the tables.
func fitMap(s settings.Shop, rods, blades, stops []string) ([]joint.Reach, error) {
	if s.FitAtLeast > s.FitAtMost {
		w := reports.Words{Unit: s.Units}
		return nil, fmt.Errorf("fit at least %s is more than fit at most %s: swap --fit-min and --fit-max", w.Fine(s.FitAtLeast.Ratio()), w.Fine(s.FitAtMost.Ratio()))
	}
	known, err := mapRods(s, rods)
	if err != nil {
		return nil, err
	}
	kerfs, err := mapBlades(s, blades)
	if err != nil {
		return nil, err
	}
	var index []int
	if len(stops) == 0 {
		index = wheelStops(s)
	}
	for _, text := range stops {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 1 || n > 100 {
			return nil, fmt.Errorf("%q is not a number of stops a turn: write whole numbers from 1 to 100, as in --stops 1,2,4", text)
		}
		index = append(index, n)
	}
	known, kerfs, index = once(known, func(r joint.Rod) string { return r.Name + r.Lead().String() }), once(kerfs, self), once(index, self)
	return joint.Map(known, kerfs, index, s.FitAtLeast, s.FitAtMost, s.LeastOverlap), nil
}

// once is a list without what stood in it before.
func once[T any, K comparable](list []T, key func(T) K) []T {
	seen := map[K]bool{}
	var out []T
	for _, t := range list {
		if k := key(t); !seen[k] {
			seen[k] = true
			out = append(out, t)
		}
	}
	return out
}

func self[T any](t T) T { return t }

// fromTables asks for what is sold instead of what the shop owns.
const fromTables = "tables"

func mapRods(s settings.Shop, names []string) ([]joint.Rod, error) {
	switch own := joint.OwnRods(s.OwnRods); {
	case len(names) == 1 && names[0] == fromTables, len(names) == 0 && len(own) == 0:
		return joint.Rods(), nil
	case len(names) == 0:
		return own, nil
	}
	var known []joint.Rod
	for _, text := range names {
		if lead := measuredLead(&s, text); lead > 0 { // whatever the shop calls it
			known = append(known, joint.Rod{Name: text, Pitch: lead.Ratio(), Starts: 1})
			continue
		}
		r, err := joint.ParseRod(text)
		if err != nil {
			return nil, err
		}
		known = append(known, r)
	}
	return known, nil
}

func mapBlades(s settings.Shop, names []string) ([]measure.Length, error) {
	var kerfs []measure.Length
	for _, own := range s.OwnBlades {
		kerfs = append(kerfs, own.Size)
	}
	switch {
	case len(names) == 1 && names[0] == fromTables, len(names) == 0 && len(kerfs) == 0:
		return joint.CommonBlades, nil
	case len(names) == 0:
		return kerfs, nil
	}
	kerfs = nil
	for _, text := range names {
		k, err := measure.Parse(text, s.Reading())
		if err != nil || k < measure.Millimetre/10 || k > 2*measure.Inch {
			return nil, fmt.Errorf("kerf %q: write a kerf between 0.1 mm and 2 in", text)
		}
		kerfs = append(kerfs, k)
	}
	return kerfs, nil
}

// reachJSON is one line of the fit map.
type reachJSON struct {
	Rod     string          `json:"rod"`
	Lead    measure.Ratio   `json:"lead_mm"`
	Kerf    measure.Length  `json:"kerf_mm"`
	Stops   int             `json:"stops_per_turn"`
	Fits    []measure.Ratio `json:"fits_mm"`
	Tight   measure.Ratio   `json:"next_tighter_mm"`
	Loose   measure.Ratio   `json:"next_looser_mm"`
	Fins    bool            `json:"single_cuts_only"`
	Thinner measure.Ratio   `json:"kerf_may_thin_mm"`
	Thicker measure.Ratio   `json:"kerf_may_thicken_mm"`
}

func mapRecord(m []joint.Reach) map[string][]reachJSON {
	out := make([]reachJSON, 0, len(m))
	for _, r := range m {
		line := reachJSON{r.Rod.Name, r.Rod.Lead(), r.Blade, r.Stops, []measure.Ratio{}, r.Tight, r.Loose, r.Fins, r.Thinner, r.Thicker}
		for _, fit := range r.Fits {
			line.Fits = append(line.Fits, fit.Fit)
		}
		out = append(out, line)
	}
	return map[string][]reachJSON{"map": out}
}

func mapTable(w reports.Words, m []joint.Reach, dead bool) reports.Table {
	t := reports.Table{
		Title: "Fit map",
		Head:  []string{"Rod", "Kerf", "Stops", "Best fit", "", "Next tighter", "Next looser", "Finger step", "Kerf may thin by", "thicken by"},
	}
	shown, lost := 0, 0
	for _, r := range m {
		if r.Dead() {
			lost++
			if !dead {
				continue
			}
		}
		shown++
		row := []string{r.Rod.Name, kerfName(w, r.Blade), strconv.Itoa(r.Stops), "none", "no usable fit", w.Fine(r.Tight), w.Fine(r.Loose), w.Fine(r.Step), "", ""}
		if !r.Dead() {
			row[3], row[4] = w.Fine(r.Fits[0].Fit), joint.FitClass(r.Fits[0].Fit)
			row[8], row[9] = w.Fine(r.Thinner), w.Fine(r.Thicker)
		}
		if r.Fins {
			row[4] += ", single cuts only"
		}
		t.Rows = append(t.Rows, row)
	}
	t.Title = fmt.Sprintf("Fit map: %s of rod, blade and index, %d of them with no usable fit", reports.Counted(len(m), "pair", "pairs"), lost)
	return t
}

// kerfName writes a kerf in the unit it is sold in.
func kerfName(w reports.Words, kerf measure.Length) string {
	if name := w.Len(kerf); !strings.HasPrefix(name, measure.About) {
		return name
	}
	return kerf.ShowUnit(measure.Millimetres)
}

// writeFitMap writes the map as a workbook where -o says.
func (c *common) writeFitMap(s settings.Shop, w reports.Words, m []joint.Reach) error {
	if c.output == "" {
		return nil
	}
	book, err := workbook.FitMap(s.Units, fitGrids(w, m), mapTable(w, m, false))
	if err != nil {
		return refuse("cannot make the fit map: %w", err)
	}
	written, err := c.write(c.output, book)
	if err == nil {
		c.sayf("wrote %s", written)
	}
	return err
}

// fitGrids are the map's drawings: one for each index, rods down, blades across.
func fitGrids(w reports.Words, m []joint.Reach) []reports.Grid {
	byStops := map[int]*reports.Grid{}
	var order []int
	for _, r := range m {
		g := byStops[r.Stops]
		if g == nil {
			g = &reports.Grid{
				Title: fmt.Sprintf("%s of the wheel", reports.Counted(r.Stops, "stop a turn", "stops a turn")), Corner: "rod",
				Legend: "The best fit, slot minus pin, that a rod (down) and a blade's kerf (across) reach at any finger size, in " + fitUnit(w) + ". Outlined: a good fit. Hatched: no fit at any finger size.",
			}
			byStops[r.Stops] = g
			order = append(order, r.Stops)
		}
		if n := len(g.Rows); n == 0 || g.Rows[n-1].Name != r.Rod.Name {
			g.Rows = append(g.Rows, reports.GridRow{Name: r.Rod.Name})
		}
		row := &g.Rows[len(g.Rows)-1]
		if len(g.Rows) == 1 {
			g.Columns = append(g.Columns, kerfName(w, r.Blade))
		}
		row.Cells = append(row.Cells, fitCell(w, r))
	}
	var out []reports.Grid
	for _, stops := range order {
		out = append(out, *byStops[stops])
	}
	return out
}

func fitUnit(w reports.Words) string {
	if w.Unit.Metric() {
		return "hundredths of a millimeter"
	}
	return "thousandths of an inch"
}

func fitCell(w reports.Words, r joint.Reach) reports.GridCell {
	if r.Dead() {
		return reports.GridCell{}
	}
	fit := r.Fits[0].Fit
	unit := measure.Inch / 1000
	if w.Unit.Metric() {
		unit = measure.Millimetre / 100
	}
	cell := reports.GridCell{Text: strconv.FormatFloat(fit.Over(int64(unit)).Float(), 'f', 1, 64), Mark: reports.PlainCell}
	if joint.FitClass(fit) == "good" {
		cell.Mark = reports.BestCell
	}
	return cell
}
