package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/store"
	"batchwright/reports"
	"batchwright/reports/record"
	"batchwright/reports/workbook"
)

func rackCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "rack", Short: "Boards on hand: list, import, add, count, remove"}
	cmd.AddCommand(c.rackList(), c.rackImport(), c.rackAdd(), c.rackCount(), c.rackRemove())
	return group(cmd)
}

// group makes a command of subcommands insist on one of them.
func group(cmd *cobra.Command) *cobra.Command {
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) > 0 {
			return exit{exitUsage, fmt.Errorf("%s has no command %q; see batchwright %s --help", cmd.Name(), args[0], cmd.Name())}
		}
		return cmd.Help()
	}
	for _, sub := range cmd.Commands() {
		sub.SetFlagErrorFunc(func(sub *cobra.Command, err error) error {
			return exit{exitUsage, fmt.Errorf("%w; see batchwright %s %s --help", err, cmd.Name(), sub.Name())}
		})
	}
	return cmd
}

// shopFlags are the flags of the commands on the shop file.
func (c *common) shopFlags(cmd *cobra.Command, changes bool) *cobra.Command {
	c.plainFlags(cmd)
	cmd.Flags().StringVar(&c.units, "units", "", "in or mm: how results are printed, and what a bare number means where nothing else says")
	if changes {
		cmd.Flags().BoolVar(&c.dryRun, "dry-run", false, "show what would change, and change nothing")
	}
	return cmd
}

func (c *common) rackList() *cobra.Command {
	var f rack.Filter
	var length, width, state string
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the boards: on the screen, as JSON, or as a workbook to change and import again",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f.State = rack.State(state)
			var err1, err2 error
			f.MinLength, err1 = c.lengthFlag("min-length", length)
			f.MinWidth, err2 = c.lengthFlag("min-width", width)
			if err := errors.Join(err1, err2); err != nil {
				return exit{exitUsage, err}
			}
			return c.listRack(cmd.Context(), f)
		},
	}
	cmd.Flags().StringVar(&f.Wood, "wood", "", "only boards of this wood")
	cmd.Flags().StringVar(&f.Class, "class", "", "only boards of this class, such as 4/4")
	cmd.Flags().StringVar(&length, "min-length", "", "only boards at least so long")
	cmd.Flags().StringVar(&width, "min-width", "", "only boards at least so wide")
	cmd.Flags().StringVar(&state, "state", "", "only boards that are free, reserved, used or removed")
	cmd.Flags().BoolVar(&f.All, "all", false, "used and removed boards as well")
	cmd.Flags().StringVarP(&c.output, "output", "o", "", "write the list as a workbook to `FILE`")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

// lengthFlag reads a length from the command line; empty is 0.
func (c *common) lengthFlag(name, text string) (measure.Length, error) {
	if text == "" {
		return 0, nil
	}
	s, err := c.settings()
	if err != nil {
		return 0, err
	}
	l, err := measure.Parse(text, s.Reading())
	if err != nil {
		return 0, fmt.Errorf("--%s: %w", name, err)
	}
	return l, nil
}

func (c *common) listRack(ctx context.Context, f rack.Filter) error {
	var found []rack.Board
	unit := measure.Inches
	if err := c.readShop(ctx, func(tx *store.Tx) (err error) {
		if unit, err = c.shopUnits(tx); err != nil {
			return err
		}
		found, err = rack.List(tx, f)
		return err
	}); err != nil {
		return err
	}
	if err := c.writeRack(found); err != nil {
		return err
	}
	if c.output != "" {
		book, err := workbook.Editable(unit, "Boards on hand", []reports.Table{rackSheet(found, unit)})
		if err != nil {
			return refuse("cannot make the workbook: %w", err)
		}
		written, err := c.write(c.output, book)
		if err != nil {
			return err
		}
		c.sayf("wrote %s", written)
	}
	if !c.quiet && c.json != "-" {
		c.show([]reports.Table{rackTable(found, unit)})
	}
	return nil
}

// rackTable is the rack on the screen.
func rackTable(found []rack.Board, unit measure.Unit) reports.Table {
	t := reports.Table{Head: []string{"Board", "State", "Wood", "Thick", "Length", "Width", "Cost", "Place", "Defects", "From"}}
	for _, b := range found {
		state := string(b.State)
		if b.Job != 0 {
			state += fmt.Sprintf(", job %d", b.Job)
		}
		t.Add(b.ID, state, b.Wood, rack.Thickness(b.Board, unit), b.Length.ShowUnit(unit), b.Width.ShowUnit(unit), costText(b.Board), b.Place, rack.Defects(b.Defects, unit), b.From)
	}
	return t
}

// rackSheet is the rack as a sheet that reads back to the same boards.
func rackSheet(found []rack.Board, unit measure.Unit) reports.Table {
	t := reports.Table{Title: "Rack", Head: []string{"Board", "Count", "Wood", "Class", "Thickness", "Length", "Width", "Cost", "Defects", "Place", "Wide end", "Grain tag", "Moisture"}}
	for _, b := range found {
		thick, wide, moist := "", "", ""
		if b.Thickness > 0 {
			thick = rack.Exact(b.Thickness, unit)
		}
		if b.WideEnd > 0 {
			wide = rack.Exact(b.WideEnd, unit)
		}
		if b.Moisture > 0 {
			moist = strconv.FormatFloat(b.Moisture, 'f', -1, 64)
		}
		t.Add(b.ID, 1, b.Wood, b.Class, thick, rack.Exact(b.Length, unit), rack.Exact(b.Width, unit), costText(b.Board),
			rack.Defects(b.Defects, unit), b.Place, wide, b.GrainTag, moist)
	}
	return t
}

func costText(b orders.Board) string {
	if !b.CostKnown {
		return ""
	}
	return b.Cost.String()
}

// shopUnits is how lengths are printed: as --units says, else as the shop does.
func (c *common) shopUnits(tx *store.Tx) (measure.Unit, error) {
	base, err := c.settings()
	if err != nil || c.units != "" {
		return base.Units, err
	}
	s, err := kit.Settings(tx, base)
	return s.Units, err
}

// writeRack writes the rack as JSON, a board a line: racks are long.
func (c *common) writeRack(found []rack.Board) error {
	if c.json == "" {
		return nil
	}
	out := bytes.NewBufferString("{\n  \"version\": 1,\n  \"boards\": [")
	mm := decimals{}
	for i := range found {
		line, err := json.Marshal(mm.board(&found[i]))
		if err != nil {
			return err
		}
		out.WriteString(map[bool]string{true: "\n    ", false: ",\n    "}[i == 0])
		out.Write(line)
	}
	out.WriteString(map[bool]string{true: "]\n}\n", false: "\n  ]\n}\n"}[len(found) == 0])
	_, err := c.write(c.json, out.Bytes())
	return err
}

// decimals remembers lengths in millimetres: the boards of a rack have few.
type decimals map[measure.Length]json.Number

func (d decimals) of(l measure.Length) json.Number {
	if text, known := d[l]; known {
		return text
	}
	d[l] = json.Number(l.Ratio().Decimal())
	return d[l]
}

type boardJSON struct {
	ID         string             `json:"id"`
	State      rack.State         `json:"state"`
	ReservedBy string             `json:"reserved_by"` // a job's id, or empty
	UsedBy     string             `json:"used_by"`
	Wood       string             `json:"wood"`
	Class      string             `json:"class"`
	Thickness  json.Number        `json:"thickness_mm"` // as it lies: the true one, else its class's
	Length     json.Number        `json:"length_mm"`
	Width      json.Number        `json:"width_mm"`
	WideEnd    json.Number        `json:"wide_end_mm"`
	Cost       json.Number        `json:"cost"`
	CostKnown  bool               `json:"cost_known"`
	Place      string             `json:"place"`
	Grain      string             `json:"grain_tag"`
	Moisture   float64            `json:"moisture"`
	Defects    []record.Rectangle `json:"defects"`
	Offcut     bool               `json:"offcut"`
	From       string             `json:"from"`
	Reason     string             `json:"reason"`
}

func (d decimals) board(b *rack.Board) boardJSON {
	j := boardJSON{ID: b.ID, State: b.State, Wood: b.Wood, Class: b.Class, Thickness: d.of(b.Rough()), Length: d.of(b.Length), Width: d.of(b.Width),
		WideEnd: d.of(b.WideEnd), Cost: json.Number(b.Cost.String()), CostKnown: b.CostKnown, Place: b.Place, Grain: b.GrainTag, Moisture: b.Moisture,
		Defects: []record.Rectangle{}, Offcut: b.Origin == orders.FromOffcut, From: b.From, Reason: b.Reason}
	switch b.State {
	case rack.Reserved:
		j.ReservedBy = jobID(b.Job)
	case rack.Used:
		j.UsedBy = jobID(b.Job)
	}
	for _, f := range b.Defects {
		j.Defects = append(j.Defects, record.Rectangle{X: d.of(f.X), Y: d.of(f.Y), Length: d.of(f.Length), Width: d.of(f.Width)})
	}
	return j
}

func jobID(id int64) string { return strconv.FormatInt(id, 10) }

func (c *common) rackImport() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "import RACK.xlsx",
		Short: "Add the boards of a Rack sheet; a board whose name is known is corrected",
		Long: "Reads the Rack sheet of a workbook or a list. A board whose name the shop does not know is added, one whose name\n" +
			"it knows is corrected. Nothing is changed when any line is wrong, or when a job counts on what would change.",
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return c.importRack(cmd.Context(), args[0]) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) importRack(ctx context.Context, path string) error {
	data, err := readFile(path)
	if err != nil {
		return err
	}
	return c.putBoards(ctx, filepath.Base(path), data, "import of "+filepath.Base(path))
}

// putBoards reads boards and puts them on the rack.
func (c *common) putBoards(ctx context.Context, name string, data []byte, why string) error {
	h, err := c.shopFor(ctx, 0)
	if err != nil && !errors.Is(err, store.ErrAbsent) {
		return err
	}
	order, err := intake.ReadRack(name, data, h.settings)
	if err != nil {
		return refuse("%w", err)
	}
	if order.HasErrors() {
		return c.refuseBoards(order.Problems, "nothing was changed: correct the lines above")
	}
	for i := range order.Rack {
		order.Rack[i].From = why
	}
	var changes []rack.Change
	err = c.changeShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			var refused []rack.Refused
			var err error
			changes, refused, err = rack.Put(tx, order.Rack, order.Settings.Units)
			if err == nil && len(refused) > 0 {
				err = c.refuseBoards(append(order.Problems, refusedProblems(refused)...), "nothing was changed")
			}
			return historyOf(why, changes), err
		})
	})
	if err != nil {
		return err
	}
	if len(order.Problems) > 0 {
		c.show([]reports.Table{reports.ProblemTable(order.Problems)})
	}
	return c.changed(changes)
}

func refusedProblems(refused []rack.Refused) (out []orders.Problem) {
	for _, r := range refused {
		out = append(out, orders.Problem{Level: orders.Error, Source: r.Source, Read: r.ID, Did: r.Why, Fix: r.Fix})
	}
	return out
}

func (c *common) refuseBoards(problems []orders.Problem, what string) error {
	c.show([]reports.Table{reports.ProblemTable(problems)})
	return refuse("%s", what)
}

// changesJSON is what a command changed.
type changesJSON struct {
	Version int          `json:"version"`
	DryRun  bool         `json:"dry_run"`
	Changes []changeJSON `json:"changes"`
}

type changeJSON struct {
	ID   string `json:"id"`
	What string `json:"what"`
	How  string `json:"how"`
}

// changed prints what was changed, board by board.
func (c *common) changed(changes []rack.Change) error {
	doc := changesJSON{1, c.dryRun, []changeJSON{}}
	t := reports.Table{Head: []string{"Board", "", ""}}
	for _, change := range changes {
		doc.Changes = append(doc.Changes, changeJSON{change.ID, change.What, change.How})
		t.Add(change.ID, change.What, change.How)
	}
	if err := c.writeJSON(doc); err != nil {
		return err
	}
	if len(changes) == 0 {
		c.sayf("nothing to change: the rack is so already")
		return nil
	}
	c.show([]reports.Table{t})
	c.sayf("%s", summed(changes))
	return nil
}

// summed counts changes by their kind.
func summed(changes []rack.Change) string {
	var kinds []string
	count := map[string]int{}
	for _, c := range changes {
		if count[c.What] == 0 {
			kinds = append(kinds, c.What)
		}
		count[c.What]++
	}
	for i, kind := range kinds {
		kinds[i] = some(count[kind], "board") + " " + kind
	}
	return strings.Join(kinds, ", ")
}

// historyOf words changes for the history; nothing changed is nothing to keep.
func historyOf(why string, changes []rack.Change) string {
	if len(changes) == 0 {
		return ""
	}
	var list []string
	for _, c := range changes[:min(len(changes), 20)] {
		list = append(list, strings.TrimSpace(c.ID+" "+c.What+" "+c.How))
	}
	if len(changes) > 20 {
		list = append(list, fmt.Sprintf("and %d more", len(changes)-20))
	}
	return why + ": " + summed(changes) + " (" + strings.Join(list, "; ") + ")"
}

// addColumns are the flags of rack add, each a column of the Rack sheet.
var addColumns = []struct{ flag, column, help string }{
	{"count", "Count", "how many of the same size"},
	{"wood", "Wood", "the wood"},
	{"class", "Class", "the class, such as 4/4"},
	{"thickness", "Thickness", "the true thickness"},
	{"length", "Length", "the length"},
	{"width", "Width", "the width, at the narrow end"},
	{"wide-end", "Wide end", "the width at the wide end of a tapered board"},
	{"cost", "Cost", "what one board cost"},
	{"defects", "Defects", "defects, such as \"18 to 22; 40 to 43 across 0 to 1 1/2\""},
	{"place", "Place", "where it lies"},
	{"grain", "Grain tag", "a word for its grain, or the log it is from"},
	{"moisture", "Moisture", "its moisture in percent"},
}

func (c *common) rackAdd() *cobra.Command {
	values := make([]string, len(addColumns))
	cmd := &cobra.Command{
		Use:   "add BOARD",
		Short: "Add one board, or several of one size",
		Args:  cobra.ExactArgs(1),
		RunE:  func(cmd *cobra.Command, args []string) error { return c.addBoard(cmd.Context(), args[0], values) },
	}
	for i, column := range addColumns {
		cmd.Flags().StringVar(&values[i], column.flag, map[bool]string{true: "1"}[column.flag == "count"], column.help)
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

// addBoard writes the flags as a line of a list, so that they are read, and
// faults are said, as on a Rack sheet. A name that is known is refused.
func (c *common) addBoard(ctx context.Context, id string, values []string) error {
	head, line := []string{"Board"}, []string{id}
	for i, column := range addColumns {
		if values[i] != "" {
			head, line = append(head, column.column), append(line, values[i])
		}
	}
	for _, needed := range []string{"Wood", "Length", "Width"} {
		if !slices.Contains(head, needed) {
			return exit{exitUsage, fmt.Errorf("--%s is missing", strings.ToLower(needed))}
		}
	}
	if old, err := c.findBoard(ctx, id); err != nil {
		return err
	} else if old != nil {
		return refuse("board %s is there already (%s): choose another name, or correct it with rack import", id, old.State)
	}
	var list bytes.Buffer
	w := csv.NewWriter(&list)
	if err := w.WriteAll([][]string{head, line}); err != nil {
		return err
	}
	return c.putBoards(ctx, "rack add.csv", list.Bytes(), "rack add")
}

func (c *common) findBoard(ctx context.Context, id string) (b *rack.Board, err error) {
	err = c.readShop(ctx, func(tx *store.Tx) (err error) {
		b, err = rack.Find(tx, id)
		return err
	})
	if errors.Is(err, store.ErrAbsent) {
		return nil, nil
	}
	return b, err
}

func (c *common) rackRemove() *cobra.Command {
	var reason string
	cmd := &cobra.Command{
		Use:   "remove BOARD...",
		Short: "Take boards off the rack for a reason; they stay in the record",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if strings.TrimSpace(reason) == "" {
				return exit{exitUsage, errors.New("--reason is missing: say why, such as \"split in the kiln\"")}
			}
			return c.removeBoards(cmd.Context(), args, reason)
		},
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) removeBoards(ctx context.Context, ids []string, reason string) error {
	var changes []rack.Change
	err := c.alterShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			var refused []rack.Refused
			var err error
			changes, refused, err = rack.Remove(tx, ids, reason)
			if err == nil && len(refused) > 0 {
				err = c.refuseBoards(refusedProblems(refused), "nothing was changed")
			}
			return historyOf("rack remove", changes), err
		})
	})
	if err != nil {
		return err
	}
	return c.changed(changes)
}
