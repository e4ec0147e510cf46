package reports

import (
	"regexp"
	"slices"

	"batchwright/orders/measure"
)

// Caution is one group of cautions. Its points are paraphrases; Source says of
// what, or that they are common practice.
type Caution struct {
	About  string
	Points []string
	Source string
}

// CautionLine stands on every count card.
const CautionLine = "Turn the wheel only with the sled drawn fully back and the stack clear of the blade. Stop the saw to load, measure, wind back or unload. Your machine's manual and local rules come first."

// cautions are the usual ones for this work. They are generic, and give way to
// the machine's manual and to local rules.
var cautions = []Caution{
	{"First of all", []string{
		"These cautions are generic. The manual of your machine, the rules of your country and town, and your insurer come first.",
		"Electrical work and dust extraction belong to licensed trades.",
		"If a step of this plan cannot be done safely on your machine, do not do it.",
	}, "common practice"},
	{"At the jig", []string{
		"Turn the wheel only with the sled drawn fully back and the stack clear of the blade.",
		"Stop the saw, and wait until the blade stops, before you load, unload, measure or wind back to zero.",
		"Clamp the stack; never hold it. Hands stay outside the marked zone of the sled and never reach over the blade.",
		"A block covers the blade where it leaves the sled.",
		"Set the blade only as high as the joint needs.",
		"Do not talk to the person who counts. Find a lost count by winding back, never by guessing.",
		"No loose sleeves, no gloves near the blade; eyes, ears and lungs protected.",
	}, "common practice"},
	{"Guards", []string{
		"Keep featherboards or a suitable jig at hand for cuts that the standard guard does not allow, such as grooves and rabbets.",
		"A spreader or riving knife that was taken off for a groove goes back on at once afterwards.",
		"A riving knife and a top guard, fitted and set again for every job, prevent most of the accidents: in most of those recorded they were missing or badly set.",
		"Cover the cutter from above for each grooving cut.",
	}, "OSHA 29 CFR 1910.213(c)(2), from memory; California Code of Regulations Title 8 section 4296(a); HSE Woodworking Information Sheet 16 (rev 2); EN 1870-1"},
	{"Hands and push sticks", []string{
		"Keep push sticks or blocks that suit the work within reach.",
		"Use a push stick for pieces shorter than {12 in|300 mm} and for the last {12 in|300 mm} of a longer cut, and to clear the piece between blade and fence.",
		"Stop and think before any work on pieces shorter than {12 in|300 mm}; mill short parts as one long strip and cut them apart afterwards.",
	}, "OSHA 29 CFR 1910.213(s)(9), from memory; CCOHS, push sticks; common practice"},
	{"The machine", []string{
		"The machine runs without noticeable vibration with its largest tool, and its arbor has no play.",
		"The blade is stopped and the machine isolated from its supply while blade, height or spacer are changed.",
		"The blade comes to rest within 10 seconds of switching off, and is no smaller than 60% of the largest the machine takes.",
	}, "OSHA 29 CFR 1910.213(a)(1) and (a)(2); HSE Woodworking Information Sheet 16 (rev 2)"},
	{"Glue and finish", []string{
		"Rags with an oil finish can catch fire by themselves: spread them flat outdoors to dry, or keep them under water in a closed metal can.",
		"Use finishes in a ventilated place, away from flames and sparks, and follow the label.",
	}, "common practice"},
}

// either is a size in the cautions as a shop of inches and one of millimetres
// read it.
var either = regexp.MustCompile(`\{([^|}]*)\|([^}]*)\}`)

func cautionsIn(unit measure.Unit, list []Caution) []Caution {
	which := "$1"
	if unit.Metric() {
		which = "$2"
	}
	for i := range list {
		list[i].Points = slices.Clone(list[i].Points)
		for k, line := range list[i].Points {
			list[i].Points[k] = either.ReplaceAllString(line, which)
		}
	}
	return list
}
