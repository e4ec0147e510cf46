package settings

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"
)

// Every setting comes back from a document exactly, with the cell it was read
// in: defaults of both kinds of shop, zeros, and what only a row names.
func TestKeptSettingsComeBack(t *testing.T) {
	shops := map[string]Shop{"inches": Default()}
	rows := map[string]map[string]string{
		"metric": {"Units": "mm"},
		"zeros":  {"End trim": "0", "Crosscut kerf": "0", "Planing allowance": "0", "Learning exponent": "0"},
		"rows": {"Edge origin 1/2": "-1", "Edge origin 3/8": "13/2", "Cost of walnut": "9.50", "Cost of birch plywood": "38/m2",
			"Cost of ash": "1450 per m3", "Cost of oak": "62 each", "Holidays": "2027-01-01, 2027-12-24 to 2027-12-31",
			"Blade kerf": "0.0955", "Fit at least": "-0.002", "Temperature": "70 F", "Cartons": "12 x 9 x 4; 16 x 12 x 8",
			"Fair date": "2027-05-15", "Labor rate": "90.25",
			"Planed yields": "4/4: 13/16; 30: 26", "Wheel stops": "1, 2, 4", "Allowance": "noise continuous", "Decimal mark": ",", "Dates": "day first"},
	}
	for name, texts := range rows {
		s := Default()
		for _, first := range []string{"Units", "Decimal mark", ""} {
			for setting, value := range texts {
				if (setting == "Units" || setting == "Decimal mark") != (first != "") || first != "" && first != setting {
					continue
				}
				if err := s.Set(setting, value, Entry{Source: Source{"Shop", "B3"}, Bare: s.Units}); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
			}
		}
		shops[name] = s
	}
	own := Default()
	own.OwnRods, own.OwnBlades = []Owned{{"3/8-16", 1_270_000}}, []Owned{{Name: "thin"}}
	own.Today = time.Date(2027, 1, 4, 0, 0, 0, 0, time.UTC)
	shops["beside"] = own
	for name, s := range shops {
		data, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var back Shop
		if err := json.Unmarshal(data, &back); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if reflect.DeepEqual(s, back) {
			continue
		}
		v, w := reflect.ValueOf(s), reflect.ValueOf(back)
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && !reflect.DeepEqual(v.Field(i).Interface(), w.Field(i).Interface()) {
				t.Errorf("%s: %s came back as\n%+v, want\n%+v", name, f.Name, w.Field(i).Interface(), v.Field(i).Interface())
			}
		}
		if !reflect.DeepEqual(s.sources, back.sources) || !reflect.DeepEqual(s.given, back.given) {
			t.Errorf("%s: sources or given came back as %v %v, want %v %v", name, back.sources, back.given, s.sources, s.given)
		}
	}
	var back Shop
	if err := json.Unmarshal([]byte(`{"rows":[{"name":"Endtrimm","text":"1"}]}`), &back); err == nil {
		t.Error("a setting that there is not was restored")
	}
}
