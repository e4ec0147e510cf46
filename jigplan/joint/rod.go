package joint

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"batchwright/orders/measure"
)

// Rod is a threaded rod as the trade names it.
type Rod struct {
	Name   string        // "3/8-16", "1/2-10 acme 2-start", "M8x1.25", "Tr16x8(P4)"
	Pitch  measure.Ratio // ticks from thread to thread
	Starts int
	Source string // where the pitch is tabled; empty: in no table here
}

// Lead is the carriage travel of one turn, in ticks: starts times pitch.
func (r Rod) Lead() measure.Ratio { return r.Pitch.Times(int64(r.Starts)) }

// Bounds of what is believed of a rod; beyond them exact arithmetic could
// leave 64 bits, and no shop owns such a rod.
const (
	maxThreadsPerInch = 120
	maxPitch          = 50 * measure.Millimetre
	maxStarts         = 12
)

var (
	inchRod   = regexp.MustCompile(`^((?:#?\d+[- ])?#?\d+(?:/\d+)?|\d*\.\d+)(?: ?in| ?")?[- x]+(\d+)(?: ?tpi)?$`)
	metricRod = regexp.MustCompile(`^m ?(\d+(?:\.\d+)?)(?: ?x ?(\d+(?:\.\d+)?))?$`)
	trapezoid = regexp.MustCompile(`^tr ?(\d+(?:\.\d+)?) ?x ?(\d+(?:\.\d+)?)(?: ?\(?p ?(\d+(?:\.\d+)?)\)?)?$`)
	startsTag = regexp.MustCompile(`[ -]+(?:(\d+)|(double|twin|triple))[- ]?starts?\b`)
	seriesTag = regexp.MustCompile(`[ -]*(unc|unf|uns|coarse|acme|lh|left[- ]hand)\b`)
)

// ParseRod reads a rod's designation: inch ("3/8-16", "1/2-10 acme",
// "1/2-10 2-start"), metric ("M8" is the coarse pitch, "M8x1") and
// trapezoidal ("Tr8x1.5"; "Tr16x8(P4)" is two starts).
func ParseRod(designation string) (Rod, error) {
	text := strings.Join(strings.Fields(strings.ToLower(designation)), " ")
	text = strings.NewReplacer("×", "x", ",", ".", "–", "-", "″", `"`).Replace(text)
	text, starts := takeStarts(text)
	series := strings.TrimSpace(strings.Trim(seriesTag.FindString(text), "- "))
	text = strings.TrimSpace(seriesTag.ReplaceAllString(text, ""))

	var r Rod
	var err error
	switch {
	case trapezoid.MatchString(text):
		r, err = trapezoidalRod(trapezoid.FindStringSubmatch(text))
	case metricRod.MatchString(text):
		r, err = metric(metricRod.FindStringSubmatch(text))
	case inchRod.MatchString(text):
		r, err = inch(inchRod.FindStringSubmatch(text), series)
	default:
		err = fmt.Errorf("a rod is written 3/8-16, 1/2-10 acme, M8x1.25 or Tr10x2")
	}
	if err == nil && starts != 1 {
		r.Starts *= starts
		r.Name = fmt.Sprintf("%s %d-start", r.Name, starts)
	}
	if err == nil {
		err = r.believable()
	}
	if err != nil {
		return Rod{}, fmt.Errorf("rod %q: %w", designation, err)
	}
	return r, nil
}

func takeStarts(text string) (rest string, starts int) {
	m := startsTag.FindStringSubmatch(text)
	if m == nil {
		return text, 1
	}
	rest = startsTag.ReplaceAllString(text, "")
	switch m[2] {
	case "double", "twin":
		return rest, 2
	case "triple":
		return rest, 3
	}
	n, _ := strconv.Atoi(m[1]) // out of range becomes 0 or huge: not believable
	return rest, max(n, 0)
}

func (r Rod) believable() error {
	switch {
	case r.Starts < 1 || r.Starts > maxStarts:
		return fmt.Errorf("%d starts: between 1 and %d are cut", r.Starts, maxStarts)
	case r.Pitch.Sign() <= 0:
		return fmt.Errorf("the pitch must be more than zero: such as 1.25 in M8x1.25")
	case r.Pitch.Cmp(maxPitch.Ratio()) > 0:
		return fmt.Errorf("a pitch over 50 mm is not a threaded rod")
	}
	return nil
}

func inch(m []string, series string) (Rod, error) {
	threads, err := strconv.ParseInt(m[2], 10, 32)
	if err != nil || threads < 1 || threads > maxThreadsPerInch {
		return Rod{}, fmt.Errorf("%q threads an inch: between 1 and %d are cut", m[2], maxThreadsPerInch)
	}
	r := Rod{Name: m[1] + "-" + m[2], Pitch: measure.Inch.Ratio().Over(threads), Starts: 1}
	if series == "acme" {
		r.Name += " acme"
	}
	r.Source = sourceOf(r.Name, r.Pitch)
	return r, nil
}

func metric(m []string) (Rod, error) {
	name := "M" + m[1]
	if m[2] != "" {
		pitch, err := millimetres(m[2])
		name += "x" + m[2]
		return Rod{Name: name, Pitch: pitch, Starts: 1, Source: sourceOf(name, pitch)}, err
	}
	for _, known := range Rods() {
		if known.Name == name {
			return known, nil
		}
	}
	return Rod{}, fmt.Errorf("no coarse pitch is known for %s: write its pitch too, such as %sx1.5", name, name)
}

func trapezoidalRod(m []string) (Rod, error) {
	lead, err := millimetres(m[2])
	if err != nil {
		return Rod{}, err
	}
	r := Rod{Name: "Tr" + m[1] + "x" + m[2], Pitch: lead, Starts: 1}
	if m[3] != "" {
		pitch, err := millimetres(m[3])
		if err != nil {
			return Rod{}, err
		}
		if pitch.Sign() <= 0 || !lead.Div(pitch).IsWhole() || lead.Div(pitch).Num() > maxStarts {
			return Rod{}, fmt.Errorf("lead %s is not a whole number of pitches %s", m[2], m[3])
		}
		r.Name += "(P" + m[3] + ")"
		r.Pitch, r.Starts = pitch, int(lead.Div(pitch).Num())
	}
	r.Source = sourceOf(r.Name, r.Pitch)
	return r, nil
}

func millimetres(text string) (measure.Ratio, error) {
	if len(text) > 9 {
		return measure.Ratio{}, fmt.Errorf("%q is too long for a pitch in millimetres", text)
	}
	mm, err := measure.ParseRatio(text)
	if err != nil {
		return measure.Ratio{}, err
	}
	ticks := mm.Times(int64(measure.Millimetre))
	if !ticks.IsWhole() {
		return measure.Ratio{}, fmt.Errorf("pitch %q is finer than 1/800000 mm", text)
	}
	return ticks, nil
}
