package intake

import (
	"strings"
	"testing"

	"batchwright/orders/measure"
)

// spellings are headings as people write them, by the column they mean.
var spellings = map[*layout]map[string]string{
	&boxesLayout: {
		"Box": "Box|Name|Item|Box name|BOX|Product|Description|Model|Code|SKU|Ref.|ID|Item name|Box No.|Article|Box type",
		"Count": "Count|Qty|QTY|Qty.|Quantity|No. of boxes|Number of boxes|Pieces|pcs|How many|Number required|No. off|Units|Order qty|Required|Boxes|" +
			"Quantity ordered?|Qty required|Quantty|Count (boxes)",
		"Length": "Length|L|LENGTH|length|Len|Lgth|Length (in)|Length (mm)|Length, mm|Length mm|Length in mm|Length in inches|Length [mm]|L (mm)|Length \"|Box length|Overall length|" +
			"Length (inches)|Lenght|Lengh|Length (outside)|Inside length|Length - mm|Length: in|Internal length (mm)|Length (finished)|L.",
		"Width":  "Width|W|Wd|Width (in)|Breadth|WIDTH MM|Box width|Widht|Wdth|Outside width|Width, inches|Width(mm)|W [in]",
		"Height": "Height|H|Ht|Ht.|Height (in)|HEIGHT|Box height|Heigth|Hight|Hgt|Inner height, mm|Height (mm)|H (in)|Overall height",
		"Measured": "Measured|Inside/outside|Inside / Outside|Inside or outside|In/out|In or out|Measured (inside/outside)|Measurement|Dimensions are|Internal/External|" +
			"Internal or external|Sizes are|inside outside|Mesured",
		"Thickness":       "Thickness|T|Thk|Thick|Thickness (in)|Wall|Wall thickness|Side thickness|Material thickness|Stock thickness|Thicknes|Thickness mm|Sides thickness|Wall (mm)|Board thickness",
		"End thickness":   "End thickness|End thickness (in)|Ends thickness|Thickness of ends|end thk|END THICKNESS",
		"Wood":            "Wood|Species|Timber|Material|Wood species|Wood type|Type of wood|Lumber|WOOD|Speces|Kind of wood|Box wood",
		"Finger":          "Finger|Finger size|Fingers|Finger width|Joint|Finger (in)|Joint size|Pin width|Finger joint|Box joint|Finger size (mm)",
		"Height may vary": "Height may vary|Height tolerance|Height may vary (in)|Height plus or minus|Height variation|Height may vary (plus or minus)",
		"Bottom":          "Bottom|Base|Bottom panel|Bottom type|BOTTOM|Bottom (groove/rabbet/nailed/none, thickness, wood)|Botom",
		"Lid":             "Lid|Top|Cover|Lid type|Lid style|LID|Lid (none/lift-off/sliding)",
		"Dividers":        "Dividers|Divider|Compartments|Partitions|Dividers (2 x 3)|Deviders",
		"Grain":           "Grain|Grain match|Matched grain|Grain matching|Grain (matched/any)",
		"Finish":          "Finish|Coating|Surface finish|Finishing",
		"Customer":        "Customer|Client|Customer name|Ordered by|Buyer|For",
		"Due":             "Due|Due date|Deadline|Date due|Needed by|Delivery date|Ready by|Required by|Due Date:",
		"Price":           "Price|Unit price|Price each|Sale price|Selling price|Price ($)|Price (€)",
		"Quantities":      "Quantities|Price breaks|Quantity breaks|Quantities (10; 25; 50)",
		"Notes":           "Notes|Note|Remarks|Comments|Special instructions|NOTES|Comment|Instructions",
	},
	&partsLayout: {
		"Part": "Part|Part name|Component|Item|Label", "Count": "Count|Qty|Number of parts|Pieces", "Grain": "Grain|Grain direction|Grain (length/either)",
		"Thickness": "Thickness|T|Part thickness|Finished thickness", "Length": "Length|Finished length|Length (mm)",
	},
	&rackLayout: {
		"Board": "Board|Board ID|Tag|Label|ID", "Count": "Count|Qty|On hand|In stock|Number of boards", "Class": "Class|Thickness class|Nominal|Nominal thickness|Quarters|Rough thickness|Class (4/4 ...)",
		"Thickness": "Thickness|True thickness|Actual thickness|Thickness (true)|True thickness (mm)", "Width": "Width|Width at the narrow end|Width (at the narrow end)|Narrow width|Width (at the narrow end), mm",
		"Cost": "Cost|Cost each|Unit cost|Cost per board foot|Cost/bf|Cost per m2", "Defects": "Defects|Knots|Flaws|Defects (from the marked end)", "Place": "Place|Location|Shelf|Bin|Where",
	},
	&yardLayout: {
		"Price":   "Price|Price each|Price per board foot|Price/bf|Price per bf|Price (per board foot)|Price per m2|Price per m²|Price per square meter|Price per cubic meter|Price/m3|$/bf|€/m³|Price per bd ft",
		"Arrives": "Arrives|ETA|Arrival date|Expected|Available from|Arrives (date)",
	},
	&shopLayout:    {"Setting": "Setting|Settings|Parameter|Option", "Value": "Value|Values|Set to", "Unit": "Unit|Units|UOM"},
	&catalogLayout: {"Sells low": "Sells low|Low|Low demand", "Sells likely": "Sells likely|Likely|Demand|Expected sales", "Sells high": "Sells high|High", "Sells mean": "Sells mean|Mean|Average|Mean demand", "Sells spread": "Sells spread|Spread|Standard deviation|SD", "Woods": "Woods|Possible woods"},
}

// At least 200 spellings, at least 99 of 100 understood, none as something else.
func TestHeadingSpellings(t *testing.T) {
	n, matched := 0, 0
	for l, columns := range spellings {
		for want, texts := range columns {
			for text := range strings.SplitSeq(texts, "|") {
				n++
				h := l.read(1, text)
				switch h.name {
				case want:
					matched++
				case "":
					t.Logf("%s: %q is not understood, want %s", l.name, text, want)
				default:
					t.Errorf("%s: %q is read as %s, want %s", l.name, text, h.name, want)
				}
			}
		}
	}
	if n < 200 || matched*100 < n*99 {
		t.Errorf("%d of %d spellings understood, want 200 and 99 %%", matched, n)
	}
}

// Headings that mean something else, or several things, are left alone.
func TestHeadingsNotMatchedWrongly(t *testing.T) {
	for _, text := range []string{"Weight", "Weight (kg)", "Colour", "Total", "Hinges", "Handle", "Tax", "VAT", "Phone", "Address", "Invoice", "Line", "Date ordered", "Volume",
		"Radius", "Diameter", "Angle", "Page", "Screw", "Hours", "Status", "Wholesale", "Email", "Lead", "Kerf", "Stain", "Logo", "Width of lid", "Height of lid", "Depth", "D", "No.", "#"} {
		if h := boxesLayout.read(1, text); h.name != "" {
			t.Errorf("%q is read as %s", text, h.name)
		}
	}
}

func TestHeadingUnits(t *testing.T) {
	cases := map[string]measure.Unit{
		"Length": measure.NoUnit, "Length (mm)": measure.Millimetres, "Length, mm": measure.Millimetres, "Length in mm": measure.Millimetres, "Length mm": measure.Millimetres,
		"Length (in)": measure.Inches, "Length in": measure.Inches, "Length in inches": measure.Inches, "Length \"": measure.Inches, "Length (cm)": measure.Centimetres, "Length (ft)": measure.Feet,
		"Inside length (mm)": measure.Millimetres, "Length [in.]": measure.Inches, "L/mm": measure.Millimetres,
	}
	for text, want := range cases {
		if h := boxesLayout.read(1, text); h.name != "Length" || h.unit != want {
			t.Errorf("%q: %s in %q, want Length in %q", text, h.name, h.unit, want)
		}
	}
	for text, want := range map[string]basis{"Price": perBoard, "Price each": perBoard, "Price per board foot": perBoardFoot, "$/bf": perBoardFoot, "Price per m2": perSquareMetre, "Price/m3": perCubicMetre, "€/m³": perCubicMetre, "Price per sq ft": perSquareFoot, "Cost per bf": perBoardFoot} {
		if h := yardLayout.read(1, text); h.basis != want {
			t.Errorf("%q is %s, want %s", text, h.basis, want)
		}
	}
}
