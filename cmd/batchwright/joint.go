package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"batchwright/jigplan"
	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
	"batchwright/reports/workbook"
)

// jointFlags describe one joint as it is asked for at the command line.
type jointFlags struct {
	finger, thickness, mate string
	heights                 []string
	lead, pattern, card     string
	settings                map[string]*string // Shop settings by name
}

// jointSettings are the flags that set a Shop setting for this command.
var jointSettings = []struct{ flag, setting, help string }{
	{"rod", "Rod", "threaded `ROD`: 3/8-16, M8x1.25, Tr10x2, \"1/2-10 acme 2-start\" (default the shop's, else 3/8-16)"},
	{"stops", "Stops per turn", "index stops of one turn of the wheel (default 1)"},
	{"kerf", "Blade kerf", "measured kerf of the blade (default the shop's, else 3/32 in, not measured)"},
	{"fit-min", "Fit at least", "tightest fit, slot minus pin (default 0)"},
	{"fit-max", "Fit at most", "loosest fit, slot minus pin (default 0.010 in)"},
	{"second-pass", "Second pass", "yes: where no fit is within the limits, cut the whole card twice, the second time with a shim (default no)"},
	{"layout", "Layout", "edge, centred or best (default best)"},
	{"edge-origin", "Edge origin", "`TURNS` from the marked edge to the first full slot (default 0)"},
	{"overlap", "Least overlap of passes", "least overlap of neighboring passes (default 0.010 in)"},
	{"travel", "Rod travel", "carriage travel the rod allows (default 7 in)"},
	{"side-starts", "Side starts with", "notch or pin at a side's marked edge (default notch)"},
}

func jointCommand(c *common) *cobra.Command {
	var f jointFlags
	cmd := &cobra.Command{
		Use:   "joint --finger 1/4 --height 3-1/2",
		Short: "One joint: ways to cut a finger; fit map, test corner, lost count",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return c.joint(cmd.Context(), &f) },
	}
	f.add(c, cmd)
	cmd.Flags().StringVar(&f.pattern, "pattern", "", "a decorative `PATTERN` from the marked edge: \"1/4 1/2 3/4\", \"repeat 1/4 1/2\", \"key 3/4\", \"rising 1/4 to 3/4\", \"mirrored 1/4 to 3/4\"; \"pin\" before it starts with a pin")
	outputFlag(cmd, &f.card, "card", "", "write the count card of the best program to the workbook `FILE`")
	c.jsonFlag(cmd)
	cmd.AddCommand(jointMapCommand(c), jointCornerCommand(c), jointLostCommand(c), jointBudgetCommand(c))
	return cmd
}

// add puts the flags that describe a joint on a command.
func (f *jointFlags) add(c *common, cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.finger, "finger", "", "wanted width of a finger (default: from 1/8, 1/4, 3/8, 1/2 in, nearest half the thickness)")
	flags.StringArrayVar(&f.heights, "height", nil, "height of the boards, across the fingers; several, separated by semicolons, share one program")
	flags.StringVar(&f.thickness, "thickness", "1/2 in", "thickness of the boards")
	flags.StringVar(&f.mate, "mate", "", "thickness of the boards they meet (default the same)")
	flags.StringVar(&f.lead, "lead", "", "carriage travel of one turn, as measured (default from the rod)")
	f.settings = map[string]*string{}
	for _, s := range jointSettings {
		f.settings[s.setting] = flags.String(s.flag, "", s.help)
	}
	flags.StringVar(&c.units, "units", "", "in or mm: how results are printed, and the unit of a number that has none")
	c.plainFlags(cmd)
}

// request reads the flags over the shop's settings; every flag that cannot be
// read is named at once.
func (f *jointFlags) request(ctx context.Context, c *common) (joint.Request, error) {
	shop, err := c.shopFor(ctx, 0)
	if err != nil {
		return joint.Request{}, err
	}
	s := shop.settings
	wrong := f.set(&s)
	read := func(flag, text string) measure.Length {
		if text == "" {
			return 0
		}
		l, err := measure.Parse(text, s.Reading())
		if err == nil && l == 0 {
			err = fmt.Errorf("%q is not a size: it must be more than 0", text)
		}
		if err != nil {
			wrong = append(wrong, fmt.Errorf("--%s: %w", flag, err))
		}
		return l
	}
	q := joint.Request{Finger: read("finger", f.finger), RowA: read("thickness", f.thickness), Settings: s}
	q.RowB = q.RowA
	if f.mate != "" {
		q.RowB = read("mate", f.mate)
	}
	for _, h := range c.eachOf(f.heights) {
		q.Heights = append(q.Heights, read("height", h))
	}
	if q.Lead, err = readLead(f.lead, s); err != nil {
		wrong = append(wrong, fmt.Errorf("--lead: %w", err))
	}
	if len(q.Heights) == 0 {
		wrong = append(wrong, errors.New("--height is missing: give the boards' height, such as --height 3-1/2"))
	}
	if len(wrong) > 0 {
		return q, exit{exitUsage, errors.Join(wrong...)}
	}
	if f.lead != "" && q.Lead.Sign() == 0 {
		return q, c.impossible(errors.New("a lead of 0 moves nothing: give the travel of one turn, such as 1/16"))
	}
	return q, nil
}

// impossible refuses a joint that no shop could cut, on the screen and in JSON.
// What would be right stands behind the last colon of the reason.
func (c *common) impossible(why error) error {
	nearest := why.Error()
	if i := strings.LastIndex(nearest, ": "); i >= 0 {
		nearest = nearest[i+2:]
	}
	none := joint.Answer{Refused: &jigplan.Refusal{Why: why.Error(), Nearest: nearest}}
	if err := c.writeJSON(jointRecord(joint.Request{}, none)); err != nil {
		return err
	}
	return exit{exitErrors, why}
}

// set changes settings as the flags say. Another rod is taken at its own lead,
// not at the one that the shop measured of the fitted rod.
func (f *jointFlags) set(s *settings.Shop) (wrong []error) {
	at := s.Entry(settings.Source{})
	for _, known := range jointSettings {
		text := *f.settings[known.setting]
		if text == "" {
			continue
		}
		if err := s.Set(known.setting, text, at); err != nil {
			wrong = append(wrong, fmt.Errorf("--%s: %w", known.flag, err))
		}
		switch known.setting {
		case "Rod":
			s.Lead = measuredLead(s, text)
		case "Edge origin":
			clear(s.EdgeOrigins)
		}
	}
	return wrong
}

// measuredLead is the lead the shop measured of a rod it owns; 0: as named.
func measuredLead(s *settings.Shop, rod string) measure.Length {
	for _, own := range s.OwnRods {
		if strings.EqualFold(own.Name, rod) {
			return own.Size
		}
	}
	return 0
}

// readLead reads a lead exactly, also one that is no whole tick: "1/18".
func readLead(text string, s settings.Shop) (measure.Ratio, error) {
	if text == "" {
		return measure.Ratio{}, nil
	}
	if bare, err := measure.ParseRatio(s.Reading().Plain(text)); err == nil && bare.Abs().Cmp(measure.Whole(1000)) < 0 && bare.Den() < 1_000_000 {
		return bare.Times(int64(s.Units.Ticks())), nil
	}
	l, err := measure.Parse(text, s.Reading())
	return l.Ratio(), err
}

// joint answers one joint on the screen, as JSON, and as a count card.
func (c *common) joint(ctx context.Context, f *jointFlags) error {
	if f.pattern != "" && f.card != "" { // two programs may need two cards
		a, b := beside(f.card, "-row-A"), beside(f.card, "-row-B")
		if err := c.claims(output{"the card of row A", a}, output{"the card of row B", b}); err != nil {
			return err
		}
	}
	q, err := f.request(ctx, c)
	if err != nil {
		return err
	}
	if f.pattern != "" {
		return c.pattern(f, q)
	}
	a, err := joint.Solve(q)
	if err != nil {
		return c.impossible(err)
	}
	if err := proved(a); err != nil {
		return err
	}
	if err := c.writeJSON(jointRecord(q, a)); err != nil {
		return err
	}
	c.show(jointTables(q, a))
	if a.Refused != nil {
		return refusedJoint(a.Refused)
	}
	c.tell(jointWords(q, a))
	return c.jointCard(f.card, q, a.Candidates[0])
}

// tell prints plain lines beneath the tables.
func (c *common) tell(lines []string) {
	if c.quiet {
		return
	}
	out := c.world.out
	if c.json == "-" {
		out = c.world.err
	}
	for _, line := range folded(out, lines) {
		fmt.Fprintln(out, line)
	}
}

// jointWords is what must be said beside the figures.
func jointWords(q joint.Request, a joint.Answer) []string {
	var lines []string
	for _, w := range a.Best().Warnings {
		lines = append(lines, "Note: "+w)
	}
	for _, d := range a.Dialled {
		lines = append(lines, "Without a block: "+d.Price)
	}
	return append(lines, reports.CautionLine)
}

// jointCard writes a candidate's count card as a workbook; one of two programs
// gives two, the second named after its row.
func (c *common) jointCard(path string, q joint.Request, best joint.Candidate) error {
	if path == "" {
		return nil
	}
	about := "finger " + reports.Words{Unit: q.Settings.Units}.Fine(best.Program.Finger)
	programs := named(best)
	for i, p := range programs {
		var mate *jigplan.Program
		if len(programs) == 2 {
			mate = &programs[1-i]
		}
		data, err := workbook.Card(&p, mate, &q.Settings, about)
		if err != nil {
			return refuse("cannot make the card: %w", err)
		}
		to := path
		if i > 0 {
			to = beside(path, "-row-"+string(p.Rows))
		}
		if to, err = c.write(to, data); err != nil {
			return err
		}
		c.sayf("wrote %s", to)
	}
	return nil
}
