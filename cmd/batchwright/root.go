package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"batchwright/orders/disk"
	"batchwright/orders/settings"
)

// common are the flags that several commands share.
type common struct {
	world   world
	output  string
	json    string
	page    string
	shop    string
	think   time.Duration
	seed    int64
	units   string
	dates   string // the order of day and month; empty: as the shop says
	sheet   string // the sheet of boxes to read; empty: by name and headings
	partial bool
	all     bool // the whole result on the screen, not its first screenful
	quiet   bool
	dryRun  bool
	sure    bool

	files   disk.Files
	inputs  []string       // files that were read: never written over
	outputs []output       // files that are written
	dropped bool           // a bare file argument: dropped onto the program
	written *settings.Shop // how the shop writes; nil: not read yet
}

// run carries out one command line and returns the exit status.
func run(ctx context.Context, w world) int {
	c := &common{world: w}
	root := newRoot(c)
	root.SetArgs(c.bareFile(root, w.args))
	root.SetOut(w.out)
	root.SetErr(w.err)
	return status(w, root.ExecuteContext(ctx))
}

func newRoot(c *common) *cobra.Command {
	cobra.MousetrapHelpText = "" // a workbook dropped onto the program starts it without a console
	root := &cobra.Command{
		Use:   "batchwright",
		Short: "Plan batches of finger-jointed boxes cut with a screw-indexed stack jig",
		Long: "Batchwright reads an order of box sizes and counts, nests the parts onto rough stock,\n" +
			"works out the jig programs for this rod, this blade and these boards, and writes a\n" +
			"workbook to carry to the saw. A bare file argument means plan.",
		Example: "  batchwright new mine.xlsx      # a blank order: fill in a row a box\n" +
			"  batchwright mine.xlsx          # plan it: writes mine-batch.xlsx",
		SilenceErrors:     true,
		PersistentPreRunE: c.declare,
		SilenceUsage:      true,
		Args:              cobra.NoArgs,
		RunE:              func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "Flags.FlagUsages", fmt.Sprintf("Flags.FlagUsagesWrapped %d", helpWide)))
	root.AddCommand(verbs(c)...)
	root.SetHelpCommand(helpCommand(c))
	root.InitDefaultCompletionCmd()
	sayUsage(root)
	for _, verb := range root.Commands() {
		foldHelp(verb)
	}
	return root
}

// foldHelp breaks the texts of a command and of those beneath it to lines that
// a screen takes.
func foldHelp(cmd *cobra.Command) {
	lines := strings.Split(wrap(strings.ReplaceAll(cmd.Long, "\n", " "), helpWide), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	cmd.Long = strings.Join(lines, "\n")
	for _, sub := range cmd.Commands() {
		foldHelp(sub)
	}
}

// helpWide is how many places a line of help takes at most.
const helpWide = 100

// verbs lists the commands, one file each.
func verbs(c *common) []*cobra.Command {
	return []*cobra.Command{
		planCommand(c),
		checkCommand(c),
		newCommand(c),
		improveCommand(c),
		jointCommand(c),
		quoteCommand(c),
		fairCommand(c),
		weekCommand(c),
		rackCommand(c),
		jobCommand(c),
		logCommand(c),
		shopCommand(c),
		undoCommand(c),
		pageCommand(c),
		labelsCommand(c),
	}
}

// bareFile turns "batchwright ORDER.xlsx" into "batchwright plan ORDER.xlsx".
// Whatever has an ending is a file: the wrong kinds are named for what they are.
func (c *common) bareFile(root *cobra.Command, args []string) []string {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return args
	}
	for _, verb := range root.Commands() {
		if verb.Name() == args[0] || verb.HasAlias(args[0]) {
			return args
		}
	}
	if filepath.Ext(args[0]) == "" {
		return args
	}
	c.dropped = true
	return append([]string{"plan"}, args...)
}

// orderFlags are the flags of every command that plans.
func (c *common) orderFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	outputFlag(cmd, &c.output, "output", "o", "write the workbook to `FILE`")
	c.jsonFlag(cmd)
	f.DurationVar(&c.think, "think", usualThink, "search time of the whole command, at most")
	f.Int64Var(&c.seed, "seed", 1, "seed of the search: the same seed gives the same plan")
	f.StringVar(&c.units, "units", "", "in or mm: how results are printed, and the unit of a number that has none")
	c.readingFlags(cmd)
	f.BoolVar(&c.partial, "partial", false, "plan the good lines of an order that has errors")
	c.plainFlags(cmd)
}

// readingFlags answer what reading an order may ask.
func (c *common) readingFlags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.dates, "dates", "", "how dates such as 3/4/2027 are read: \"month first\", \"day first\" or ISO")
	name := "sheet"
	if cmd.Name() == "labels" {
		name = "order-sheet" // its --sheet is a sheet of labels
	}
	cmd.Flags().StringVar(&c.sheet, name, "", "read boxes and parts from the sheet of this `NAME` only")
}

// allFlag is the flag of the commands whose result may be longer than a screen.
func (c *common) allFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.all, "all", false, "show everything on the screen, not one screenful")
}

func (c *common) jsonFlag(cmd *cobra.Command) {
	outputFlag(cmd, &c.json, "json", "", "write the result as JSON to `FILE` (- is standard output)")
}

// plainFlags are the flags of every command.
func (c *common) plainFlags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.shop, "shop", "", "the shop file (default BATCHWRIGHT_SHOP, else in your data folder)")
	cmd.Flags().BoolVar(&c.quiet, "quiet", false, "print errors only")
}

// sayf tells the person at the screen something that is no result.
func (c *common) sayf(format string, args ...any) {
	if !c.quiet {
		fmt.Fprintf(c.world.err, format+"\n", args...)
	}
}
