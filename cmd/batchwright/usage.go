package main

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"batchwright/orders/spelling"
)

// A wrong command line is answered as every other mistake: where it is, what is
// wrong, what to type instead. The command library's own words never show.

// sayUsage words what is wrong with the arguments and options of a command and
// of all below it.
func sayUsage(cmd *cobra.Command) {
	if allowed := cmd.Args; allowed != nil {
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			if allowed(cmd, args) == nil {
				return nil
			}
			return exit{exitUsage, wrongArguments(cmd, args)}
		}
	}
	cmd.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return exit{exitUsage, wrongOption(cmd, err)} })
	for _, sub := range cmd.Commands() {
		sayUsage(sub)
	}
}

// typed is a command line of a command, as its help shows it.
func typed(cmd *cobra.Command) string {
	_, words, _ := strings.Cut(cmd.Use, " ")
	line := strings.TrimSpace(cmd.CommandPath() + " " + words)
	if example, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n"); example != "" {
		line += "\nfor example: " + strings.TrimSpace(example)
	}
	return line
}

// shortName is a command without the name of the program.
func shortName(cmd *cobra.Command) string {
	return strings.TrimPrefix(cmd.CommandPath(), cmd.Root().Name()+" ")
}

// needed are the arguments that a command cannot do without, in order.
func needed(cmd *cobra.Command) []string {
	words := strings.Fields(cmd.Use)[1:]
	if optional := slices.IndexFunc(words, func(w string) bool { return w[0] == '[' || w[0] == '-' }); optional >= 0 {
		words = words[:optional]
	}
	return words
}

func wrongArguments(cmd *cobra.Command, args []string) error {
	words := needed(cmd)
	switch {
	case slices.Contains(words, "|") && len(args) == 0:
		return fmt.Errorf("%s: nothing is named. Type: %s", shortName(cmd), typed(cmd))
	case len(args) < len(words):
		return fmt.Errorf("%s: %s is missing. Type: %s", shortName(cmd), strings.TrimSuffix(words[len(args)], "..."), typed(cmd))
	case cmd.HasSubCommands():
		return unknownCommand(cmd, args[0])
	}
	extra := args[len(words):]
	if most := strings.Count(cmd.Use, "["); len(extra) > most {
		extra = extra[most:]
	}
	return fmt.Errorf("%s: %q is too much; put names of several words in quotes. Type: %s", shortName(cmd), extra[0], typed(cmd))
}

// unknownCommand names the commands that were probably meant, else all.
func unknownCommand(cmd *cobra.Command, word string) error {
	where := ""
	if cmd.HasParent() {
		where = shortName(cmd) + ": "
	}
	var names []string
	for _, sub := range cmd.Commands() {
		if sub.IsAvailableCommand() {
			names = append(names, sub.Name())
		}
	}
	near, do := nearest(word, names), fmt.Sprintf("Type: %s, and one of %s", cmd.CommandPath(), strings.Join(names, ", "))
	if near != "" {
		do = fmt.Sprintf("Type: %s %s", cmd.CommandPath(), near)
	}
	for _, ending := range []string{".xlsx", ".csv"} {
		if _, err := os.Stat(word + ending); err == nil && !cmd.HasParent() {
			do = fmt.Sprintf("A file is named with its ending. Type: %s plan %s", cmd.CommandPath(), shellWord(word+ending))
		}
	}
	return fmt.Errorf("%sthere is no command %q. %s", where, word, do)
}

// nearest is the name that a mistyped one was meant to be; empty: none is near.
func nearest(word string, names []string) string {
	best, least := "", 3
	for _, name := range names {
		if d := spelling.Distance(strings.ToLower(word), name); d < least && d < len(name) {
			best, least = name, d
		}
	}
	if best != "" {
		return best
	}
	for _, name := range names {
		if len(word) > 2 && (strings.HasPrefix(name, strings.ToLower(word)) || strings.HasPrefix(strings.ToLower(word), name)) {
			return name
		}
	}
	return ""
}

var belowZero = regexp.MustCompile(`^[0-9.,]`)

func wrongOption(cmd *cobra.Command, err error) error {
	var (
		unknown *pflag.NotExistError
		bare    *pflag.ValueRequiredError
		value   *pflag.InvalidValueError
		syntax  *pflag.InvalidSyntaxError
	)
	see := fmt.Sprintf("See %s --help", cmd.CommandPath())
	switch {
	case errors.As(err, &unknown) && belowZero.MatchString(unknown.GetSpecifiedShortnames()):
		number, before := "-"+unknown.GetSpecifiedShortnames(), ""
		for _, arg := range cmd.Flags().Args() {
			before += " " + shellWord(arg)
		}
		return fmt.Errorf("%s: %q reads as an option; after -- it is a number. Type: %s%s -- %s", shortName(cmd), number, cmd.CommandPath(), before, number)
	case errors.As(err, &unknown):
		name, dashes := unknown.GetSpecifiedName(), "--"
		if unknown.GetSpecifiedShortnames() != "" {
			dashes = "-"
		}
		var names []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := nearest(name, names); near != "" && dashes == "--" {
			return fmt.Errorf("%s: there is no option --%s. Did you mean --%s? %s", shortName(cmd), name, near, see)
		}
		return fmt.Errorf("%s: there is no option %s%s. %s", shortName(cmd), dashes, name, see)
	case errors.As(err, &bare):
		f := bare.GetFlag()
		return fmt.Errorf("%s: --%s needs a value. Type: --%s %s", shortName(cmd), f.Name, f.Name, valueOf(f))
	case errors.As(err, &value):
		f := value.GetFlag()
		if f.Value.Type() == "bool" {
			return fmt.Errorf("%s: --%s takes no value, but %q was given. Type: --%s", shortName(cmd), f.Name, value.GetValue(), f.Name)
		}
		return fmt.Errorf("%s: --%s: %q is not %s. Type: --%s %s", shortName(cmd), f.Name, value.GetValue(), kindOf(f), f.Name, valueOf(f))
	case errors.As(err, &syntax):
		return fmt.Errorf("%s: %q is not an option. %s", shortName(cmd), syntax.GetSpecifiedFlag(), see)
	}
	return fmt.Errorf("%s: %w. %s", shortName(cmd), err, see)
}

// shellWord is a word as it is typed.
func shellWord(word string) string {
	if word == "" || strings.ContainsAny(word, " \"';&|<>()#*?$") {
		return fmt.Sprintf("%q", word)
	}
	return word
}

// kindOf is what an option takes, in words.
func kindOf(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "duration":
		return "a time such as 5s or 2m"
	case "int", "int64":
		return "a whole number"
	case "float64":
		return "a number"
	}
	return "a text"
}

// valueOf is a value that an option takes: an example, or what its help calls it.
func valueOf(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "duration":
		return "5s"
	case "int", "int64", "float64":
		return "1"
	}
	name, _ := pflag.UnquoteUsage(f)
	if name == "" || name == "string" || name == "strings" || name == "stringArray" {
		return strings.ToUpper(f.Name)
	}
	return name
}
