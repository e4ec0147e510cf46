package main

import (
	"embed"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"batchwright/orders/measure"
	"batchwright/orders/settings"

	"github.com/spf13/cobra"
)

// manual holds the topics of the manual, one text of at most 80 columns each.
//
//go:embed manual/*.txt
var manual embed.FS

// topics are the pages of the manual, in reading order, with what each is about.
var topics = []struct{ name, about string }{
	{"order", "what to write in the order workbook"},
	{"wood", "boards, buying, and how parts are laid out"},
	{"joints", "fingers, rod, blade and fit"},
	{"saw", "the printed pack, the count page, labels"},
	{"shop", "the shop file: boards, jobs, times, tools"},
	{"quote", "a price for a commission"},
	{"fair", "how many of each box to make for a fair"},
	{"week", "what to do when"},
	{"settings", "every setting with its default"},
	{"json", "reading the results with another program"},
}

// helpCommand prints a topic of the manual, else the help of a command.
func helpCommand(c *common) *cobra.Command {
	return &cobra.Command{
		Use:     "help [TOPIC or command]",
		Short:   "Read the manual, or the help of a command",
		Example: "  batchwright help order",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				if err := cmd.Root().Help(); err != nil {
					return err
				}
				printTopics(c.world.out)
				return nil
			}
			if text, ok := topic(args[0]); ok && len(args) == 1 {
				_, err := io.WriteString(c.world.out, text)
				return err
			}
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 || found == cmd.Root() {
				return exit{exitUsage, fmt.Errorf("help: there is no topic or command %q. Type: batchwright help, and one of %s",
					strings.Join(args, " "), strings.Join(topicNames(), ", "))}
			}
			return found.Help()
		},
	}
}

func printTopics(w io.Writer) {
	fmt.Fprintln(w, "\nThe manual (batchwright help TOPIC):")
	for _, t := range topics {
		fmt.Fprintf(w, "  %-10s %s\n", t.name, t.about)
	}
}

func topicNames() []string {
	var names []string
	for _, t := range topics {
		names = append(names, t.name)
	}
	return names
}

// topic is the text of a topic of the manual.
func topic(name string) (text string, ok bool) {
	if !slices.Contains(topicNames(), name) {
		return "", false
	}
	if name == "settings" {
		return settingsManual(), true
	}
	data, err := manual.ReadFile("manual/" + name + ".txt")
	return string(data), err == nil
}

// settingsManual lists every setting by group: the name with its default and
// unit, and below it what it is for.
func settingsManual() string {
	var b strings.Builder
	b.WriteString("SETTINGS: a row of the Shop sheet, or batchwright shop set NAME VALUE\n\n" +
		"Defaults are in brackets. They are common practice unless a source is named.\n" +
		"The second column is the default with Units mm, where it differs.\n")
	group := ""
	for _, d := range settings.Definitions {
		if d.Group != group {
			group = d.Group
			fmt.Fprintf(&b, "\n%s\n\n", strings.ToUpper(group))
		}
		b.WriteString(settingLine(&d))
		for line := range strings.SplitSeq(wrap(d.Help, 72), "\n") {
			fmt.Fprintf(&b, "      %s\n", strings.TrimRight(line, " "))
		}
	}
	return b.String()
}

// settingLine has a setting's name and its two defaults, below the name where
// they are too long for one line.
func settingLine(d *settings.Definition) string {
	line := strings.TrimRight(fmt.Sprintf("  %-36s%-20s%s", d.Name, bracketed(d, measure.Inches), metricColumn(d)), " ")
	if utf8.RuneCountInString(line) <= 80 {
		return line + "\n"
	}
	out := "  " + d.Name + "\n"
	for _, text := range []string{bracketed(d, measure.Inches), metricColumn(d)} {
		for part := range strings.SplitSeq(wrap(text, 72), "\n") {
			if text != "" {
				out += "      " + strings.TrimRight(part, " ") + "\n"
			}
		}
	}
	return out
}

// bracketed is a setting's default with its unit.
func bracketed(d *settings.Definition, unit measure.Unit) string {
	text := d.DefaultIn(unit)
	if text == "" {
		text = "blank"
	}
	if !strings.HasSuffix(text, " "+d.UnitIn(unit)) && !strings.HasSuffix(text, " F") {
		text += " " + d.UnitIn(unit)
	}
	return "[" + strings.TrimSpace(text) + "]"
}

// metricColumn is the default with Units mm, where it is another one, and the
// name it goes by there.
func metricColumn(d *settings.Definition) string {
	if d.Metric == "" {
		return ""
	}
	text := bracketed(d, measure.Millimetres)
	if d.MetricName != "" {
		text += " " + d.MetricName
	}
	return text
}
