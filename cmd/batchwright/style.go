package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
)

// settings are the defaults of a shop that writes as this one does: its units,
// decimal mark and dates, with --units before them. It reads the shop file, so
// it is not for use inside a transaction.
func (c *common) settings() (settings.Shop, error) {
	if c.think < 0 {
		return settings.Default(), exit{exitUsage, fmt.Errorf("--think cannot be negative (%v): 0 is the shortest search, 5s is usual", c.think)}
	}
	if c.written == nil {
		s := c.shopWriting()
		c.written = &s
	}
	s := c.written.Clone()
	return s, c.applyUnits(&s)
}

// writingSettings are those every reader and printer of figures follows.
var writingSettings = []string{"Units", "Decimal mark", "Dates"}

// shopWriting has the shop file's units, decimal mark and dates, else the
// defaults. A file that cannot be read is reported by whoever needs it.
func (c *common) shopWriting() settings.Shop {
	s := settings.Default()
	s.Today = c.today()
	path, _, err := c.shopPath()
	if err != nil {
		return s
	}
	ctx := context.Background()
	file, err := shop.Open(ctx, path, shop.Options{Now: c.world.now, ReadOnly: true})
	if err != nil {
		return s
	}
	defer file.Close()
	_ = file.View(ctx, func(tx *shop.Tx) error {
		stored, err := shop.StoredSettings(tx)
		for _, row := range stored {
			for _, name := range writingSettings {
				if row.Name == name {
					err = errors.Join(err, s.Set(row.Name, row.Value, settings.Entry{}))
				}
			}
		}
		return err
	})
	return s
}

// settingsIn are the shop's settings inside a transaction.
func (c *common) settingsIn(tx *shop.Tx) (settings.Shop, error) {
	s, err := shop.Settings(tx, settings.Default())
	s.Today = c.today()
	return s, errors.Join(err, c.applyUnits(&s))
}

// applyUnits has --units go before what the shop says.
func (c *common) applyUnits(s *settings.Shop) error {
	if c.dates != "" {
		if err := s.Set("Dates", c.dates, settings.Entry{}); err != nil {
			return exit{exitUsage, fmt.Errorf("--dates: %w", err)}
		}
	}
	switch c.units {
	case "":
	case "in":
		s.SetUnits(measure.Inches)
	case "mm":
		s.SetUnits(measure.Millimetres)
	default:
		return exit{exitUsage, fmt.Errorf("--units %q is neither in nor mm", c.units)}
	}
	return nil
}

// unit is how this shop writes lengths, numbers and dates.
func (c *common) unit() measure.Unit {
	s, err := c.settings()
	if err != nil {
		return measure.Inches
	}
	return s.Units
}

// dateFlag reads a day from the command line as the shop writes dates.
func (c *common) dateFlag(flag, text string) (time.Time, error) {
	s, err := c.settings()
	if err != nil {
		return time.Time{}, err
	}
	day, err := measure.ParseDate(text, s.Dates)
	return day, c.wrongDate(flag, text, err)
}

// momentFlag reads a day with a time of day or none.
func (c *common) momentFlag(flag, text string) (at time.Time, timed bool, err error) {
	s, err := c.settings()
	if err != nil {
		return at, false, err
	}
	at, timed, err = measure.ParseMoment(text, s.Dates)
	return at, timed, c.wrongDate(flag, text, err)
}

func (c *common) wrongDate(flag, text string, err error) error {
	var two *measure.TwoDatesError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &two):
		return exit{exitUsage, fmt.Errorf("--%s: %w: write %s or %s, or set Dates with shop set", flag, err,
			two.MonthFirst.Format(time.DateOnly), two.DayFirst.Format(time.DateOnly))}
	}
	return exit{exitUsage, fmt.Errorf("--%s %q is not a date such as %s", flag, text, c.unit().NumericDate(time.Date(2027, 3, 18, 0, 0, 0, 0, time.UTC)))}
}

// numberArg reads a number as the shop writes it.
func (c *common) numberArg(text string) (float64, error) {
	s, err := c.settings()
	if err != nil {
		return 0, err
	}
	return s.Reading().Number(text)
}

// momentIn is a day and time of this computer's clock as the shop writes them.
func momentIn(unit measure.Unit, t time.Time) string {
	return unit.Date(t.Local()) + " " + unit.Clock(t.Local())
}

// eachOf parts the values of a list flag: at semicolons, and at commas where
// the shop writes decimal points.
func (c *common) eachOf(texts []string) (out []string) {
	marks := ";,"
	if c.unit().Comma() {
		marks = ";"
	}
	for _, text := range texts {
		for one := range strings.FieldsFuncSeq(text, func(r rune) bool { return strings.ContainsRune(marks, r) }) {
			out = append(out, strings.TrimSpace(one))
		}
	}
	return out
}
