package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"time"

	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// shopPath is where the shop file lies: --shop, else BATCHWRIGHT_SHOP, else the
// user's data folder. Named means that somebody asked for this very file.
func (c *common) shopPath() (path string, named bool, err error) {
	if c.shop != "" {
		return c.shop, true, nil
	}
	if path := c.world.getenv("BATCHWRIGHT_SHOP"); path != "" {
		return path, false, nil
	}
	folder, err := c.dataFolder()
	return filepath.Join(folder, "batchwright", "shop.db"), false, err
}

// dataFolder is where programs keep what their user made with them.
func (c *common) dataFolder() (string, error) {
	if folder := c.world.getenv("XDG_DATA_HOME"); filepath.IsAbs(folder) {
		return folder, nil
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		folder, err := os.UserConfigDir()
		if err != nil {
			return "", refuse("there is no folder for the shop file: %w; name one with --shop", err)
		}
		return folder, nil
	}
	home := c.world.getenv("HOME")
	if home == "" {
		return "", refuse("there is no home folder for the shop file: name one with --shop")
	}
	return filepath.Join(home, ".local", "share"), nil
}

// changeShop opens the shop file for a change, made new when there is none.
// Reservations whose day is past lapse first.
func (c *common) changeShop(ctx context.Context, do func(*shop.File) error) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); c.dryRun && errors.Is(err, fs.ErrNotExist) {
		if err := shop.Missing(path); err != nil {
			return exit{exitErrors, err}
		}
		folder, err := os.MkdirTemp("", "batchwright-*")
		if err != nil {
			return refuse("cannot try the change: %w", err)
		}
		defer os.RemoveAll(folder)
		path = filepath.Join(folder, "shop.db")
	}
	s, err := shop.Open(ctx, path, shop.Options{Now: c.world.now})
	if err != nil {
		return exit{exitErrors, err}
	}
	err = c.lapse(ctx, s)
	if err == nil {
		err = do(s)
	}
	return shopError(errors.Join(err, s.Close()))
}

// alterShop opens a shop file that must be there for a change.
func (c *common) alterShop(ctx context.Context, do func(*shop.File) error) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return absent(path)
	}
	return c.changeShop(ctx, do)
}

func absent(path string) error {
	if err := shop.Missing(path); err != nil {
		return exit{exitErrors, err}
	}
	return refuse("%w: %s; rack import, rack add or job accept makes it", shop.ErrNoFile, path)
}

// readShop opens the shop file to look at it. It is never made by looking.
func (c *common) readShop(ctx context.Context, do func(*shop.Tx) error) error {
	path, _, err := c.shopPath()
	if err != nil {
		return err
	}
	s, err := shop.Open(ctx, path, shop.Options{Now: c.world.now, ReadOnly: true})
	if errors.Is(err, shop.ErrOld) {
		s, err = shop.Open(ctx, path, shop.Options{Now: c.world.now})
	}
	if errors.Is(err, shop.ErrNoFile) {
		return absent(path)
	}
	if err != nil {
		return exit{exitErrors, err}
	}
	overdue := false
	err = s.View(ctx, func(tx *shop.Tx) error {
		late, err := shop.Overdue(tx, c.today())
		overdue = len(late) > 0
		if err != nil || overdue {
			return err
		}
		return do(tx)
	})
	err = errors.Join(err, s.Close())
	if err == nil && overdue {
		return c.changeShop(ctx, func(s *shop.File) error { return s.View(ctx, do) })
	}
	return shopError(err)
}

func (c *common) lapse(ctx context.Context, s *shop.File) error {
	var overdue []shop.Job
	if err := s.View(ctx, func(tx *shop.Tx) (err error) {
		overdue, err = shop.Overdue(tx, c.today())
		return err
	}); err != nil || len(overdue) == 0 {
		return err
	}
	return s.Update(ctx, c.who(), func(tx *shop.Tx) (string, error) {
		lapsed, err := shop.Lapse(tx, c.today())
		what := ""
		for _, j := range lapsed {
			what += fmt.Sprintf("job %d lapsed; ", j.ID)
			c.sayf("job %d (%s) lapsed: it was held until %s, and its boards are free again", j.ID, j.Name, c.unit().Date(j.Held))
		}
		return what, err
	})
}

// shopError gives an error of the shop file its exit status.
func shopError(err error) error {
	var e exit
	if err == nil || errors.As(err, &e) {
		return err
	}
	return exit{exitErrors, err}
}

// carryOut makes a change, or with --dry-run tries it and takes it back.
func (c *common) carryOut(ctx context.Context, s *shop.File, do func(*shop.Tx) (string, error)) error {
	if !c.dryRun {
		return s.Update(ctx, c.who(), do)
	}
	if err := s.Try(ctx, do); err != nil {
		return err
	}
	c.sayf("nothing was changed: this was a dry run")
	return nil
}

// who is the person at the machine, for the history.
func (c *common) who() string {
	for _, name := range []string{"BATCHWRIGHT_WHO", "USER", "LOGNAME", "USERNAME"} {
		if who := c.world.getenv(name); who != "" {
			return who
		}
	}
	return "somebody"
}

// today is this day's date, as dates stand in orders: midnight UTC.
func (c *common) today() time.Time {
	y, m, d := c.world.now().Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// held is what the shop file holds for a plan. The zero value is no shop file.
type held struct {
	there     bool
	keeps     bool // boards are kept in it
	unitsSaid bool // on the command line
	path      string
	settings  settings.Shop
	free      []orders.Board
	yard      []orders.Board // what can be bought
	profile   shop.Profile
	factors   []shop.Factor
	holders   map[string]int64 // boards that are not free, and the job that holds each
	reserved  []shop.RackBoard // by other jobs
}

// shopFor reads what the shop file offers a plan, with the boards a job holds
// already counted as free. Without a shop file the defaults hold, unless
// --shop named one that is not there.
func (c *common) shopFor(ctx context.Context, job int64) (held, error) {
	base, err := c.settings()
	if err != nil {
		return held{}, err
	}
	h := held{settings: base, unitsSaid: c.units != ""}
	path, named, err := c.shopPath()
	if err != nil {
		if named {
			return h, err
		}
		return h, nil // nowhere to keep a shop file is no hindrance to planning
	}
	h.path = path
	err = c.readShop(ctx, func(tx *shop.Tx) error { return h.read(tx, job) })
	if errors.Is(err, shop.ErrNoFile) && !named {
		return h, nil
	}
	return h, err
}

func (h *held) read(tx *shop.Tx, job int64) (err error) {
	units := h.settings.Units
	if h.settings, err = shop.Settings(tx, h.settings); err != nil {
		return err
	}
	if h.unitsSaid {
		h.settings.SetUnits(units) // --units goes before the shop file
	}
	if h.factors, err = shop.Calibration(tx); err != nil {
		return err
	}
	if err := shop.Calibrate(&h.settings, h.factors); err != nil {
		return err
	}
	if h.profile, err = shop.LatestProfile(tx); err != nil {
		return err
	}
	if h.free, err = shop.BoardsFor(tx, job); err != nil {
		return err
	}
	if h.yard, err = shop.Yard(tx); err != nil {
		return err
	}
	taken, err := shop.TakenBoards(tx)
	h.holders = map[string]int64{}
	for _, b := range taken {
		if b.Job == job && b.State == shop.BoardReserved {
			continue
		}
		h.holders[b.ID] = b.Job
		if b.State == shop.BoardReserved {
			h.reserved = append(h.reserved, b)
		}
	}
	h.keeps, h.there = len(h.free)+len(taken) > 0, true
	return err
}

// furnish gives an order without a Rack sheet the free boards of the shop
// file, and says what was used. A Rack sheet of its own stays, less the boards
// that jobs hold.
func (h *held) furnish(o *orders.Order) {
	if !h.there {
		return
	}
	used := []string{}
	switch {
	case o.HasRack:
		h.withoutHeld(o)
	case h.keeps:
		o.Rack, o.HasRack = h.free, true
		used = append(used, strconv.Itoa(len(h.free))+" free boards")
	}
	if !o.HasYard && len(h.yard) > 0 {
		o.Yard, o.HasYard = slices.Clone(h.yard), true
		used = append(used, reports.Counted(len(h.yard), "line", "lines")+" of its yard")
	}
	o.TellApart()
	text := "its settings"
	if o.HasShop {
		text = "its settings, unless the order's Shop sheet has them"
	}
	used = append(used, text)
	if h.profile.Version > 0 && !o.Settings.OwnJig() {
		used = append(used, fmt.Sprintf("jig profile %d of %s", h.profile.Version, o.Settings.Units.Date(h.profile.At)))
	}
	if len(h.factors) > 0 {
		used = append(used, fmt.Sprintf("%d calibrated times", len(h.factors)))
	}
	for i, text := range used {
		if i == 0 {
			continue
		}
		used[0] += ", " + text
	}
	if len(used) > 0 {
		o.Findings = append(o.Findings, orders.Finding{Level: orders.Note, Read: filepath.Base(h.path),
			Did: "the shop file was used: " + used[0], Fix: "OK if intended; a Rack sheet in the order replaces the rack, a row on its Shop sheet replaces one setting"})
	}
}

// withoutHeld takes boards that a job holds or used up out of the order's own
// Rack sheet.
func (h *held) withoutHeld(o *orders.Order) {
	var kept []orders.Board
	for _, line := range o.Rack {
		for _, id := range shop.PhysicalIDs(line.ID, line.Count) {
			job, taken := h.holders[id]
			if !taken {
				one := line
				one.ID, one.Count = id, 1
				kept = append(kept, one)
				continue
			}
			did := fmt.Sprintf("board %s is already reserved by job %d, or was used up by it; not planned on", id, job)
			if job == 0 {
				did = fmt.Sprintf("board %s was removed from the rack; not planned on", id)
			}
			o.Findings = append(o.Findings, orders.Finding{Level: orders.Note, Source: line.Source, Read: id, Did: did, Fix: "see rack list --all"})
		}
	}
	o.Rack = kept
}
