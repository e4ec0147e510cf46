package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/jigplan/shop"
	"batchwright/orders/measure"
	"batchwright/reports"
)

// toolKind is what rods and blades have in common, and what not.
type toolKind struct {
	name, size string // "blade", "kerf"
	list       func(*shop.Tx) ([]shop.Tool, error)
	replace    func(*shop.Tx, []shop.Tool) ([]string, error)
}

var toolKinds = []toolKind{
	{"blade", "kerf", shop.Blades, shop.ReplaceBlades},
	{"rod", "lead", shop.Rods, shop.ReplaceRods},
}

// shopTools are "shop blade" and "shop rod": the tools one owns.
func (c *common) shopTools() (out []*cobra.Command) {
	for _, kind := range toolKinds {
		cmd := &cobra.Command{Use: kind.name, Short: fmt.Sprintf("The %ss you own: add, list, remove", kind.name)}
		cmd.AddCommand(c.toolAdd(kind), c.toolList(kind), c.toolRemove(kind))
		out = append(out, group(cmd))
	}
	return out
}

func (c *common) toolAdd(kind toolKind) *cobra.Command {
	note := ""
	cmd := &cobra.Command{Use: "add BLADE KERF", Short: "Add a blade you own, with its measured kerf, such as: shop blade add \"thin one\" 2.4", Args: cobra.ExactArgs(2)}
	if kind.name == "rod" {
		cmd.Use, cmd.Short, cmd.Args = "add ROD [LEAD]", "Add a rod you own, such as Tr12x3; LEAD is the measured travel of one turn", cobra.RangeArgs(1, 2)
	}
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		t, err := c.toolOf(kind, args)
		if err != nil {
			return exit{exitUsage, err}
		}
		t.Note = note
		return c.changeTools(cmd, kind, func(have []shop.Tool) ([]shop.Tool, error) {
			i := slices.IndexFunc(have, func(o shop.Tool) bool { return strings.EqualFold(o.Name, t.Name) })
			if i < 0 {
				return append(have, t), nil
			}
			t.Name, t.InUse = have[i].Name, have[i].InUse
			have[i] = t
			return have, nil
		})
	}
	return c.shopFlags(cmd, true)
}

// toolOf reads a tool from the command line.
func (c *common) toolOf(kind toolKind, args []string) (t shop.Tool, err error) {
	s, err := c.settings()
	if err != nil {
		return t, err
	}
	t.Name = strings.TrimSpace(args[0])
	if t.Name == "" {
		return t, fmt.Errorf("the %s has no name", kind.name)
	}
	if len(args) > 1 {
		if t.Size, err = measure.Parse(args[1], s.Reading()); err == nil && (t.Size <= 0 || t.Size > measure.Inch*2) {
			err = fmt.Errorf("%q is out of range: write more than 0 and at most %s", args[1], (2 * measure.Inch).ShowUnit(s.Units))
		}
		if err != nil {
			return t, fmt.Errorf("the %s: %w", kind.size, err)
		}
		return t, nil
	}
	if _, err := joint.ParseRod(t.Name); err != nil {
		return t, fmt.Errorf("%w; or give the travel of one turn after the name", err)
	}
	return t, nil
}

func (c *common) toolRemove(kind toolKind) *cobra.Command {
	cmd := &cobra.Command{Use: "remove " + strings.ToUpper(kind.name), Short: fmt.Sprintf("Remove a %s you no longer own", kind.name), Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.changeTools(cmd, kind, func(have []shop.Tool) ([]shop.Tool, error) {
				i := slices.IndexFunc(have, func(o shop.Tool) bool { return strings.EqualFold(o.Name, strings.TrimSpace(args[0])) })
				if i < 0 {
					return nil, refuse("no %s is called %q: shop %s list names them", kind.name, args[0], kind.name)
				}
				return slices.Delete(have, i, i+1), nil
			})
		}}
	return c.shopFlags(cmd, true)
}

// changeTools replaces the tools of a kind by what change makes of them.
func (c *common) changeTools(cmd *cobra.Command, kind toolKind, change func([]shop.Tool) ([]shop.Tool, error)) error {
	var changes []string
	err := c.changeShop(cmd.Context(), func(s *shop.File) error {
		return c.carryOut(cmd.Context(), s, func(tx *shop.Tx) (string, error) {
			have, err := kind.list(tx)
			if err != nil {
				return "", err
			}
			want, err := change(have)
			if err != nil {
				return "", err
			}
			changes, err = kind.replace(tx, want)
			return spoken("shop "+kind.name, changes), err
		})
	})
	if err != nil {
		return err
	}
	return c.saidChanges(changes)
}

func (c *common) toolList(kind toolKind) *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: fmt.Sprintf("List the %ss you own", kind.name), Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, err := c.readState(cmd.Context())
			if err != nil {
				return err
			}
			tools := map[string][]shop.Tool{"blade": s.blades, "rod": s.rods}[kind.name]
			doc := []toolJSON{}
			heading := strings.ToUpper(kind.name[:1]) + kind.name[1:]
			t := reports.Table{Head: []string{heading, strings.ToUpper(kind.size[:1]) + kind.size[1:], "", "Notes"}}
			for _, tool := range tools {
				doc = append(doc, toolJSON{tool.Name, tool.Size, tool.InUse})
				size := "by its name"
				if tool.Size > 0 {
					size = caliper(tool.Size, c.unit())
				}
				t.Add(tool.Name, size, strings.TrimPrefix(inUse(tool.InUse), ", "), tool.Note)
			}
			if err := c.writeJSON(map[string][]toolJSON{kind.name + "s": doc}); err != nil {
				return err
			}
			if len(tools) == 0 {
				c.sayf("no %ss yet: batchwright shop %s add", kind.name, kind.name)
				return nil
			}
			c.show([]reports.Table{t})
			return nil
		}}
	c.jsonFlag(cmd)
	return c.shopFlags(cmd, false)
}
