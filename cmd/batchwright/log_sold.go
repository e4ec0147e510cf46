package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/jigplan/document"
	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/woods"
	"batchwright/reports"
)

// heldFair says which fair is meant.
type heldFair struct{ name, day string }

func (c *common) soldFlags(cmd *cobra.Command, which *heldFair) *cobra.Command {
	cmd.Flags().StringVar(&which.name, "fair", "", "the fair's `NAME` (default the last one whose mix was given out or noted)")
	cmd.Flags().StringVar(&which.day, "date", "", "its first day, a `DATE` such as 2027-04-17 (default as it is known, else today)")
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, true)
}

func (c *common) logSold() *cobra.Command {
	var which heldFair
	cmd := &cobra.Command{
		Use:   "sold [FAIR.xlsx | BOX[, WOOD]=SOLD[ of BROUGHT] ...]",
		Short: "Note what a fair sold; without boxes, show what fairs sold and what is left",
		Long: "The next fair starts from this: boxes left over count as finished, and what was sold improves\n" +
			"the demand estimate. The number brought is known if fair --give-out kept the mix; otherwise give it. The\n" +
			"fair's own workbook can be given, with Sold or Left filled in on its page Sold.",
		Example: "  batchwright log sold catalog-fair.xlsx\n" +
			"  batchwright log sold \"Tea box=3\" \"Card box, maple=5\"\n" +
			"  batchwright log sold \"Tea box, cherry=3 of 5\" --fair \"Autumn market\" --date 2026-10-03",
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.keepSold(cmd.Context(), args, which, false)
		},
	}
	return c.soldFlags(cmd, &which)
}

func (c *common) logLeft() *cobra.Command {
	var which heldFair
	cmd := &cobra.Command{
		Use:     "left BOX[, WOOD]=LEFT[ of BROUGHT] ...",
		Short:   "Note what a fair left over; boxes not named were sold out",
		Long:    "Like log sold, but counted from what came home. Boxes that were brought and are not named count as sold out;\nlog left none says that all of it was.",
		Example: "  batchwright log left \"Tea box=1\" \"Card box, cherry=2\"",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] == "none" {
				args = []string{}
			}
			return c.keepSold(cmd.Context(), args, which, true)
		},
	}
	return c.soldFlags(cmd, &which)
}

// soldWord is one argument of log sold or log left.
type soldWord struct {
	text      string
	box, wood string
	n         int
	brought   int // -1: as it is known
}

// parseSold reads "Tea box, walnut=3 of 5".
func parseSold(text string) (soldWord, error) {
	at := strings.LastIndex(text, "=")
	wrong := exit{exitUsage, fmt.Errorf("%q is not written like \"Tea box=3\" or \"Tea box, walnut=3 of 5\"", text)}
	if at <= 0 {
		return soldWord{}, wrong
	}
	w := soldWord{text: text, brought: -1}
	w.box, w.wood, _ = strings.Cut(text[:at], ",")
	w.box, w.wood = strings.TrimSpace(w.box), strings.TrimSpace(w.wood)
	count, of, said := strings.Cut(text[at+1:], " of ")
	var err, err2 error
	w.n, err = strconv.Atoi(strings.TrimSpace(count))
	if said {
		w.brought, err2 = strconv.Atoi(strings.TrimSpace(of))
	}
	if w.box == "" || errors.Join(err, err2) != nil || w.n < 0 || said && w.brought < 0 {
		return soldWord{}, wrong
	}
	return w, nil
}

// soldWords are what the arguments say, boxes or a workbook.
func (c *common) soldWords(args []string, left bool) (words []soldWord, err error) {
	if !left && isSoldSheet(args) {
		return c.soldSheet(args[0])
	}
	for _, arg := range args {
		w, err := parseSold(arg)
		if err != nil {
			return nil, err
		}
		words = append(words, w)
	}
	return words, nil
}

// keepSold notes what was sold, or shows it.
func (c *common) keepSold(ctx context.Context, args []string, which heldFair, left bool) error {
	words, err := c.soldWords(args, left)
	if err != nil {
		return err
	}
	if len(words) == 0 && !left {
		return c.showSold(ctx, which)
	}
	var noted []orders.Sale
	err = c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			known, err := shop.Sales(tx)
			if err != nil {
				return "", err
			}
			at, err := c.fairOf(which, known)
			if err != nil {
				return "", err
			}
			if noted, err = soldOf(words, at.of(known), at, left); err != nil {
				return "", err
			}
			return soldText(at, noted), shop.AddSales(tx, noted)
		})
	})
	if err != nil {
		return err
	}
	if c.dryRun {
		c.show([]reports.Table{reports.Sales(noted, c.unit())})
		return nil
	}
	return c.showSold(ctx, heldFair{name: noted[0].Fair, day: noted[0].Day.Format(time.DateOnly)})
}

// soldText is a line of the history.
func soldText(at fairAt, noted []orders.Sale) string {
	var each []string
	for i := range noted {
		each = append(each, fmt.Sprintf("%s %d of %d", boxText(&noted[i]), noted[i].Sold, noted[i].Brought))
	}
	return "log sold at " + at.Fair + ": " + strings.Join(each, "; ")
}

func boxText(s *orders.Sale) string {
	if s.Wood == "" {
		return s.Box
	}
	return s.Box + ", " + s.Wood
}

// fairAt is one fair.
type fairAt struct {
	Fair string
	Day  time.Time
}

// of are the notes of that fair.
func (at fairAt) of(all []orders.Sale) (out []orders.Sale) {
	for _, s := range all {
		if orders.NameKey(s.Fair) == orders.NameKey(at.Fair) && s.Day.Equal(at.Day) {
			out = append(out, s)
		}
	}
	return out
}

// fairOf finds the fair that is meant: the last known one of that name and day,
// else a new one of both.
func (c *common) fairOf(which heldFair, known []orders.Sale) (fairAt, error) {
	var day time.Time
	var err error
	if which.day != "" {
		if day, err = c.dateFlag("date", which.day); err != nil {
			return fairAt{}, err
		}
	}
	for i := len(known) - 1; i >= 0; i-- {
		s := &known[i]
		if (which.name == "" || orders.NameKey(s.Fair) == orders.NameKey(which.name)) && (day.IsZero() || s.Day.Equal(day)) {
			return fairAt{s.Fair, s.Day}, nil
		}
	}
	switch {
	case which.name == "" && len(known) == 0:
		return fairAt{}, refuse("no fair is known yet: name it with --fair, or keep its mix with fair CATALOG.xlsx --give-out")
	case which.name == "":
		return fairAt{}, refuse("no fair of %s is known: name it with --fair", which.day)
	case day.IsZero():
		day = c.today()
	}
	return fairAt{which.name, day}, nil
}

// soldOf sets what was said beside what was brought. All that is wrong is said
// at once.
func soldOf(words []soldWord, brought []orders.Sale, at fairAt, left bool) ([]orders.Sale, error) {
	var out []orders.Sale
	var faults []string
	named := map[int]bool{}
	for _, w := range words {
		s, k, err := matching(w, brought, at)
		if err == nil && k >= 0 && named[k] {
			err = fmt.Errorf("%q: this box is named twice", w.text)
		}
		if err != nil {
			faults = append(faults, err.Error())
			continue
		}
		named[k] = k >= 0
		if w.brought >= 0 {
			s.Brought = w.brought
		}
		if w.n > s.Brought {
			faults = append(faults, fmt.Sprintf("%q: only %d were brought; write =%d of N where more were", w.text, s.Brought, w.n))
			continue
		}
		s.Sold, s.Said = w.n, true
		if left {
			s.Sold = s.Brought - w.n
		}
		out = append(out, s)
	}
	for k, s := range brought {
		if left && !named[k] {
			s.Sold, s.Said = s.Brought, true
			out = append(out, s)
		}
	}
	if len(faults) > 0 {
		return nil, refuse("%s", strings.Join(faults, "\n"))
	}
	if len(out) == 0 {
		return nil, refuse("nothing was noted as brought to %s: write \"BOX=LEFT of BROUGHT\"", at.Fair)
	}
	return out, nil
}

// matching finds what was brought of a box; -1: nothing is known of it.
func matching(w soldWord, brought []orders.Sale, at fairAt) (orders.Sale, int, error) {
	var hits, names []int
	for k := range brought {
		if orders.NameKey(brought[k].Box) != orders.NameKey(w.box) {
			continue
		}
		names = append(names, k)
		if w.wood == "" || woods.Key(brought[k].Wood) == woods.Key(w.wood) {
			hits = append(hits, k)
		}
	}
	switch {
	case len(hits) == 1:
		return brought[hits[0]], hits[0], nil
	case len(hits) > 1:
		var woods []string
		for _, k := range hits {
			woods = append(woods, brought[k].Wood)
		}
		return orders.Sale{}, -1, refuse("%q: it was brought in %s; name the wood, as \"%s, %s=%d\"", w.text, strings.Join(woods, " and "), w.box, woods[0], w.n)
	case w.brought < 0 && len(brought) > 0 && len(names) == 0:
		return orders.Sale{}, -1, refuse("%q: no such box was noted as brought to %s (%s); write how many were, as \"%s=%d of N\"", w.text, at.Fair, broughtNames(brought), w.box, w.n)
	case w.brought < 0:
		return orders.Sale{}, -1, refuse("%q: the number brought to %s is not known; write \"%s=%d of N\"", w.text, at.Fair, strings.SplitN(w.text, "=", 2)[0], w.n)
	}
	return orders.Sale{Fair: at.Fair, Day: at.Day, Box: w.box, Wood: w.wood}, -1, nil
}

func broughtNames(brought []orders.Sale) string {
	var names []string
	for i := range brought {
		names = append(names, boxText(&brought[i]))
	}
	return strings.Join(names, "; ")
}

// showSold prints what fairs sold, one of them or all.
func (c *common) showSold(ctx context.Context, which heldFair) error {
	var known []orders.Sale
	if err := c.readShop(ctx, func(tx *shop.Tx) (err error) {
		known, err = shop.Sales(tx)
		return err
	}); err != nil {
		return err
	}
	if which != (heldFair{}) {
		at, err := c.fairOf(which, known)
		if err != nil {
			return err
		}
		known = at.of(known)
	}
	if err := c.writeJSON(document.OfSales(known)); err != nil {
		return err
	}
	c.show([]reports.Table{reports.Sales(known, c.unit())})
	return nil
}

// keepFair keeps what is brought to a fair in the shop file, so that what it
// sells can be noted.
func (c *common) keepFair(ctx context.Context, sales []orders.Sale) error {
	return c.changeShop(ctx, func(s *shop.File) error {
		return c.carryOut(ctx, s, func(tx *shop.Tx) (string, error) {
			if len(sales) == 0 {
				return "", refuse("no box is brought, so there is no mix to keep")
			}
			known, err := shop.Sales(tx)
			if err != nil {
				return "", err
			}
			at := fairAt{sales[0].Fair, sales[0].Day}
			for _, before := range at.of(known) {
				if before.Said {
					return "", refuse("sales of %s are already logged: give another Fair or Fair date, or leave out --give-out", at.Fair)
				}
				if !slices.ContainsFunc(sales, func(s orders.Sale) bool { return sameBox(&s, &before) }) {
					before.Brought, before.Home = 0, 0
					sales = append(sales, before)
				}
			}
			if !c.dryRun {
				c.sayf("kept in the shop file: after the fair, note what came home with log left, or what was sold with log sold")
			}
			return "give out the mix of " + at.Fair, shop.AddSales(tx, sales)
		})
	})
}

func sameBox(a, b *orders.Sale) bool {
	return orders.NameKey(a.Box) == orders.NameKey(b.Box) && woods.Key(a.Wood) == woods.Key(b.Wood)
}
