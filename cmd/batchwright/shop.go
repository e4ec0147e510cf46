package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan/batch"
	"batchwright/jigplan/kit"
	"batchwright/nesting/rack"
	"batchwright/orders"
	"batchwright/orders/intake"
	"batchwright/orders/measure"
	"batchwright/orders/store"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

func shopCommand(c *common) *cobra.Command {
	cmd := &cobra.Command{Use: "shop", Short: "The shop file: settings, blades, rods; export, import, backup, restore, verify, history"}
	cmd.AddCommand(c.shopShow(), c.shopSet(), c.shopExport(), c.shopImport(), c.shopBackup(), c.shopRestore(), c.shopVerify(), c.shopHistory())
	return group(cmd)
}

// shopState is everything editable that the shop file holds, and the rest of
// what shop show prints.
type shopState struct {
	stored       []kit.Setting
	settings     orders.Settings
	blades, rods []kit.Tool
	profile      kit.Profile
	factors      []kit.Factor
	boards       []rack.Board
}

func (s *shopState) read(tx *store.Tx) error {
	var errs [7]error
	s.stored, errs[0] = kit.Stored(tx)
	s.settings, errs[1] = kit.Settings(tx, orders.DefaultSettings())
	s.blades, errs[2] = kit.Blades(tx)
	s.rods, errs[3] = kit.Rods(tx)
	s.profile, errs[4] = kit.Latest(tx)
	s.factors, errs[5] = kit.Calibration(tx)
	s.boards, errs[6] = rack.List(tx, rack.Filter{})
	return errors.Join(errs[:]...)
}

// readState is the state of the shop, also where there is no shop file yet.
func (c *common) readState(ctx context.Context) (shopState, error) {
	s := shopState{settings: orders.DefaultSettings()}
	_, named, _ := c.shopPath()
	err := c.readShop(ctx, s.read)
	if errors.Is(err, store.ErrAbsent) && !named {
		err = nil
	}
	return s, err
}

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
		facts.Add("Jig profile", fmt.Sprintf("%d, since %s: %s", s.profile.Version, s.profile.At.Format(time.DateOnly), s.profile.Why))
	}
	for _, b := range s.blades {
		facts.Add("Blade "+b.Name, b.Size.DecimalInches()+" in"+inUse(b.InUse))
	}
	for _, r := range s.rods {
		facts.Add("Rod "+r.Name, strings.TrimSpace(leadText(r.Size)+inUse(r.InUse)))
	}
	settings := s.sheet(!all)
	settings.Title = "Settings of this shop"
	out := []reports.Table{facts}
	if len(settings.Rows) > 0 {
		out = append(out, settings)
	}
	if len(s.factors) > 0 {
		out = append(out, factorTable(s.factors))
	}
	return out
}

func inUse(yes bool) string {
	if yes {
		return ", in use"
	}
	return ""
}

func leadText(lead measure.Length) string {
	if lead == 0 {
		return "lead by its name"
	}
	return "lead " + lead.DecimalInches() + " in"
}

// sheet is the Shop sheet: every setting, or those alone that have a value of
// their own. A blank value is the default.
func (s *shopState) sheet(onlyStored bool) reports.Table {
	t := reports.Table{Title: "Shop", Head: []string{"Setting", "Value", "Unit", "Default", "What it does"}}
	own := map[string]kit.Setting{}
	for _, row := range s.stored {
		own[row.Name] = row
	}
	for _, d := range orders.Definitions {
		row, has := own[d.Name]
		delete(own, d.Name)
		if has || !onlyStored {
			t.Add(d.Name, row.Value, row.Unit, strings.TrimSpace(d.Default+" "+d.Unit), d.Help)
		}
	}
	for _, row := range s.stored {
		if _, rest := own[row.Name]; rest {
			t.Add(row.Name, row.Value, row.Unit, "", "")
		}
	}
	return t
}

func (c *common) shopSet() *cobra.Command {
	cmd := &cobra.Command{
		Use: "set SETTING VALUE", Short: "Change one setting, such as: shop set \"Carriage opening\" 5", Args: cobra.ExactArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			name, ok := orders.SettingName(args[0])
			if !ok {
				probe := orders.DefaultSettings()
				return refuse("%w; shop show --all lists them", probe.Set(args[0], args[1], orders.Entry{}))
			}
			var changes []string
			err := c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return c.carryOut(cmd.Context(), s, func(tx *store.Tx) (what string, err error) {
					changes, err = kit.Set(tx, kit.Setting{Name: name, Value: args[1]}, "shop set")
					return spoken("shop set", changes), err
				})
			})
			if err != nil {
				return err
			}
			return c.saidChanges(changes)
		},
	}
	return c.shopFlags(cmd, true)
}

// spoken words changes for the history; none are nothing to keep.
func spoken(why string, changes []string) string {
	if len(changes) == 0 {
		return ""
	}
	return why + ": " + strings.Join(changes, "; ")
}

func (c *common) saidChanges(changes []string) error {
	if len(changes) == 0 {
		c.sayf("nothing to change: it is so already")
	}
	for _, change := range changes {
		c.sayf("%s", change)
	}
	return nil
}

func (c *common) shopExport() *cobra.Command {
	cmd := &cobra.Command{
		Use: "export FILE.xlsx", Short: "Write everything that can be edited as one workbook", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := c.readState(cmd.Context())
			if err != nil {
				return err
			}
			book, err := s.book()
			if err != nil {
				return refuse("cannot make the workbook: %w", err)
			}
			written, err := c.write(args[0], book)
			if err == nil {
				c.sayf("wrote %s: change it, then batchwright shop import %s", written, written)
			}
			return err
		},
	}
	return c.shopFlags(cmd, false)
}

func (s *shopState) book() ([]byte, error) {
	unit := s.settings.Units
	blades := reports.Table{Title: "Blades", Head: []string{"Blade", "Kerf", "In use", "Notes"}}
	for _, b := range s.blades {
		blades.Add(b.Name, rack.Exact(b.Size, unit), yesNo(b.InUse), b.Note)
	}
	rods := reports.Table{Title: "Rods", Head: []string{"Rod", "Lead", "In use", "Notes"}}
	for _, r := range s.rods {
		lead := ""
		if r.Size > 0 {
			lead = rack.Exact(r.Size, unit)
		}
		rods.Add(r.Name, lead, yesNo(r.InUse), r.Note)
	}
	return workbook.Editable(unit, "The shop", []reports.Table{s.sheet(false), rackSheet(s.boards, unit), blades, rods})
}

func yesNo(yes bool) string { return map[bool]string{true: "yes", false: "no"}[yes] }

func (c *common) shopImport() *cobra.Command {
	cmd := &cobra.Command{
		Use: "import FILE.xlsx", Short: "Make settings, blades, rods and boards what the workbook says", Args: cobra.ExactArgs(1),
		Long: "Reads what shop export wrote, changed or not. A setting without a value returns to its default. Boards are added and\n" +
			"corrected, never removed. Nothing is changed when anything is wrong.",
		RunE: func(cmd *cobra.Command, args []string) error { return c.importShop(cmd.Context(), args[0]) },
	}
	return c.shopFlags(cmd, true)
}

func (c *common) importShop(ctx context.Context, path string) error {
	data, err := readFile(path)
	if err != nil {
		return err
	}
	base, err := c.settings()
	if err != nil {
		return err
	}
	book, err := intake.ReadShopBook(path, data, base)
	if err != nil {
		return refuse("%w", err)
	}
	if book.Order.HasErrors() {
		return c.refuseBoards(book.Order.Problems, "nothing was changed: correct the cells above")
	}
	for i := range book.Order.Rack {
		book.Order.Rack[i].From = "import of " + filepath.Base(path)
	}
	var changes []string
	err = c.changeShop(ctx, func(s *store.Shop) error {
		return c.carryOut(ctx, s, func(tx *store.Tx) (string, error) {
			changes, err = c.replaceShop(tx, book)
			return spoken("shop import of "+filepath.Base(path), changes), err
		})
	})
	if err != nil {
		return err
	}
	return c.saidChanges(changes)
}

// replaceShop carries out an import in the transaction given.
func (c *common) replaceShop(tx *store.Tx, book intake.ShopBook) (changes []string, err error) {
	note := func(more []string, e error) {
		changes, err = append(changes, more...), errors.Join(err, e)
	}
	if book.HasShop {
		var rows []kit.Setting
		for _, r := range book.Settings {
			rows = slices.DeleteFunc(rows, func(s kit.Setting) bool { return s.Name == r.Name })
			rows = append(rows, kit.Setting{Name: r.Name, Value: r.Value, Unit: r.Unit})
		}
		note(kit.Replace(tx, rows, "shop import"))
	}
	if book.HasTools {
		note(kit.ReplaceBlades(tx, toolsOf(book.Blades)))
		note(kit.ReplaceRods(tx, toolsOf(book.Rods)))
	}
	boards, refused, e := rack.Put(tx, book.Order.Rack, book.Order.Settings.Units)
	if e == nil && len(refused) > 0 {
		e = c.refuseBoards(refusedProblems(refused), "nothing was changed")
	}
	for _, b := range boards {
		changes = append(changes, strings.TrimSpace("board "+b.ID+" "+b.What+": "+b.How))
	}
	return changes, errors.Join(err, e)
}

func toolsOf(rows []intake.Tool) (out []kit.Tool) {
	for _, t := range rows {
		out = append(out, kit.Tool{Name: t.Name, Size: t.Size, InUse: t.InUse, Note: t.Note})
	}
	return out
}

func (c *common) shopBackup() *cobra.Command {
	cmd := &cobra.Command{
		Use: "backup FILE", Short: "Copy the shop file while it is in use, and check the copy by opening it", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			s, err := store.Open(cmd.Context(), path, store.Options{Now: c.world.now, ReadOnly: true})
			if err != nil {
				return exit{exitErrors, err}
			}
			if err := errors.Join(s.Backup(cmd.Context(), args[0]), s.Close()); err != nil {
				return exit{exitErrors, err}
			}
			c.sayf("backed up %s to %s, opened it and found it whole", path, args[0])
			return nil
		},
	}
	return c.shopFlags(cmd, false)
}

func (c *common) shopRestore() *cobra.Command {
	cmd := &cobra.Command{
		Use: "restore BACKUP", Short: "Put a backup in the place of the shop file; what was there is kept beside it", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, _, err := c.shopPath()
			if err != nil {
				return err
			}
			if c.dryRun {
				c.sayf("nothing was changed: %s would take the place of %s", args[0], path)
				return nil
			}
			if err := store.Restore(cmd.Context(), args[0], path); err != nil {
				return exit{exitErrors, err}
			}
			if err := c.changeShop(cmd.Context(), func(s *store.Shop) error {
				return s.Update(cmd.Context(), c.who(), func(*store.Tx) (string, error) { return "shop restore of " + filepath.Base(args[0]), nil })
			}); err != nil {
				return err
			}
			c.sayf("%s is now what %s holds; what was there before lies beside it as %s.before-restore", path, args[0], filepath.Base(path))
			return nil
		},
	}
	return c.shopFlags(cmd, true)
}

func (c *common) shopVerify() *cobra.Command {
	cmd := &cobra.Command{
		Use: "verify", Short: "Check the whole shop file: exit 0 only when nothing is wrong", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return c.verifyShop(cmd.Context()) },
	}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}

type verifyJSON struct {
	Version int      `json:"version"`
	File    string   `json:"file"`
	Faults  []string `json:"faults"`
}

func (c *common) verifyShop(ctx context.Context) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	s, err := store.Open(ctx, path, store.Options{Now: c.world.now, ReadOnly: true})
	var faults []string
	if err == nil {
		faults, err = batch.Faults(ctx, s)
		err = errors.Join(err, s.Close())
	}
	if err != nil {
		faults = append(faults, err.Error())
	}
	if err := c.writeJSON(verifyJSON{1, path, append([]string{}, faults...)}); err != nil {
		return err
	}
	if len(faults) > 0 {
		return exit{exitErrors, fmt.Errorf("%s\nrestore the newest backup with batchwright shop restore BACKUP; the file as it is stays beside it", strings.Join(faults, "\n"))}
	}
	c.sayf("%s: nothing is wrong", path)
	return nil
}

func (c *common) shopHistory() *cobra.Command {
	most := 0
	cmd := &cobra.Command{
		Use: "history", Short: "Who changed what, and when", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			t := reports.Table{Head: []string{"When", "Who", "What"}}
			if err := c.readShop(cmd.Context(), func(tx *store.Tx) error {
				list, err := tx.History(most)
				for _, e := range list {
					t.Add(e.At.Local().Format("2006-01-02 15:04:05"), e.Who, e.What)
				}
				return err
			}); err != nil {
				return err
			}
			c.show([]reports.Table{t})
			return nil
		},
	}
	cmd.Flags().IntVar(&most, "most", 40, "how many changes, the newest first")
	return c.shopFlags(cmd, false)
}
