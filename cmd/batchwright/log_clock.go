package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"batchwright/jigplan/shop"

	"github.com/spf13/cobra"
)

func (c *common) logStart() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "start ELEMENT", Short: "Start a clock", Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			w.element = args[0]
			if err := c.countDone(cmd.Context(), &w, false); err != nil {
				return err
			}
			return c.changeShop(cmd.Context(), func(s *shop.File) error {
				return c.carryOut(cmd.Context(), s, func(tx *shop.Tx) (string, error) {
					l, err := planned(tx, w)
					if err != nil {
						return "", err
					}
					c.sayf("the clock runs for %s since %s", l.Element, c.unit().Clock(c.world.now()))
					return "log start: " + l.Element, shop.StartClock(tx, shop.Clock{Element: l.Element, Job: l.Job, Stack: l.Stack, Count: l.Count, Who: c.who()})
				})
			})
		},
	}
	return c.workFlags(cmd, &w)
}

func (c *common) logStop() *cobra.Command {
	var w work
	cmd := &cobra.Command{
		Use: "stop [ELEMENT]", Short: "Stop a clock, the last one you started unless one is named, and note the time", Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.stopClock(cmd.Context(), w, strings.Join(args, ""))
		},
	}
	c.sureFlag(cmd)
	return c.workFlags(cmd, &w)
}

func (c *common) stopClock(ctx context.Context, w work, element string) error {
	if err := c.plausibleClock(ctx, &w, element); err != nil {
		return err
	}
	var l shop.TimeLog
	err := c.alterShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			clocks, err := shop.Clocks(tx)
			if err != nil {
				return "", err
			}
			at := pickClock(clocks, element, c.who())
			if at < 0 {
				return "", noClock(clocks, element, c.who())
			}
			clock := clocks[at]
			w.element, w.stack = clock.Element, clock.Stack
			if clock.Job != 0 {
				w.job = jobID(clock.Job)
			}
			if l, err = planned(tx, w); err != nil {
				return "", err
			}
			l.Actual, l.Note, l.Dropped = max(tx.Now.Sub(clock.Started).Minutes(), 1.0/60), w.note, w.dropped()
			return c.logged(l), errors.Join(shop.StopClock(tx, clock), shop.AddTime(tx, l))
		})
	})
	if err == nil {
		c.sayf("%s", c.logged(l))
	}
	return err
}

// plausibleClock asks before a clock is stopped whose time is far from the
// plan, or before it was started, and what was finished.
func (c *common) plausibleClock(ctx context.Context, w *work, element string) error {
	minutes := math.NaN()
	if err := c.readShop(ctx, func(tx *shop.Tx) error {
		clocks, err := shop.Clocks(tx)
		if err != nil {
			return err
		}
		at := pickClock(clocks, element, c.who())
		if at < 0 {
			return noClock(clocks, element, c.who())
		}
		clock := clocks[at]
		w.element, w.stack = clock.Element, clock.Stack
		if clock.Job != 0 {
			w.job = jobID(clock.Job)
		}
		if w.done == "" && clock.Count > 0 {
			w.done = strconv.FormatFloat(clock.Count, 'f', -1, 64)
		}
		minutes = c.world.now().Sub(clock.Started).Minutes()
		return nil
	}); err != nil {
		return err
	}
	l, err := c.beside(ctx, w)
	if err != nil {
		return err
	}
	if minutes < 0 && !c.sure {
		return c.confirm("this clock was started later than it is now: the machine's clock was set back", "--sure")
	}
	if minutes < 1 { // a clock stopped at once is no zero
		return nil
	}
	return c.plausible(l, minutes)
}

// pickClock finds the clock to stop: the last one that who started, or of those
// for an element, the last of who's, else of anybody's; -1 is none.
func pickClock(clocks []shop.Clock, element, who string) int {
	at := -1
	for i, clock := range clocks {
		own := clock.Who == who
		switch {
		case element != "" && !strings.EqualFold(clock.Element, element), element == "" && !own:
		case own || at < 0 || clocks[at].Who != who:
			at = i
		}
	}
	return at
}

func noClock(clocks []shop.Clock, element, who string) error {
	if len(clocks) == 0 {
		return refuse("no clock runs: start one with log start")
	}
	var running []string
	for _, clock := range clocks {
		running = append(running, fmt.Sprintf("%s, started by %s", clock.Element, clock.Who))
	}
	if element != "" {
		return refuse("no clock runs for %s; those that run: %s", element, strings.Join(running, "; "))
	}
	return refuse("no clock of %s runs; name one to stop it: %s", who, strings.Join(running, "; "))
}
