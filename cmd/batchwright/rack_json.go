package main

import (
	"bytes"
	"encoding/json"
	"strconv"

	"batchwright/jigplan/document"
	"batchwright/jigplan/shop"
	"batchwright/orders"
	"batchwright/orders/measure"
)

// writeRack writes the rack as JSON, a board a line: racks are long.
func (c *common) writeRack(found []shop.RackBoard) error {
	if c.json == "" {
		return nil
	}
	out := bytes.NewBufferString("{\n  \"version\": 1,\n  \"boards\": [")
	mm := decimals{}
	for i := range found {
		line, err := json.Marshal(mm.board(&found[i]))
		if err != nil {
			return err
		}
		out.WriteString(map[bool]string{true: "\n    ", false: ",\n    "}[i == 0])
		out.Write(line)
	}
	out.WriteString(map[bool]string{true: "]\n}\n", false: "\n  ]\n}\n"}[len(found) == 0])
	_, err := c.write(c.json, out.Bytes())
	return err
}

// decimals remembers lengths in millimetres: the boards of a rack have few.
type decimals map[measure.Length]json.Number

func (d decimals) of(l measure.Length) json.Number {
	if text, known := d[l]; known {
		return text
	}
	d[l] = json.Number(l.Ratio().Decimal())
	return d[l]
}

type boardJSON struct {
	ID         string               `json:"id"`
	State      shop.BoardState      `json:"state"`
	ReservedBy string               `json:"reserved_by"` // a job's id, or empty
	UsedBy     string               `json:"used_by"`
	Wood       string               `json:"wood"`
	Class      string               `json:"class"`
	Thickness  json.Number          `json:"thickness_mm"` // rough: the true one, else its class's
	Length     json.Number          `json:"length_mm"`
	Width      json.Number          `json:"width_mm"`
	WideEnd    json.Number          `json:"wide_end_mm"`
	Cost       json.Number          `json:"cost"`
	CostKnown  bool                 `json:"cost_known"`
	Place      string               `json:"place"`
	Grain      string               `json:"grain_tag"`
	Moisture   float64              `json:"moisture"`
	Defects    []document.Rectangle `json:"defects"`
	Offcut     bool                 `json:"offcut"`
	From       string               `json:"from"`
	Reason     string               `json:"reason"`
}

func (d decimals) board(b *shop.RackBoard) boardJSON {
	j := boardJSON{ID: b.ID, State: b.State, Wood: b.Wood, Class: b.Class, Thickness: d.of(b.Rough()), Length: d.of(b.Length), Width: d.of(b.Width),
		WideEnd: d.of(b.WideEnd), Cost: json.Number(b.Cost.String()), CostKnown: b.CostKnown, Place: b.Place, Grain: b.GrainTag, Moisture: b.Moisture,
		Defects: []document.Rectangle{}, Offcut: b.Origin == orders.FromOffcut, From: b.From, Reason: b.Reason}
	switch b.State {
	case shop.BoardReserved:
		j.ReservedBy = jobID(b.Job)
	case shop.BoardUsed:
		j.UsedBy = jobID(b.Job)
	}
	for _, f := range b.Defects {
		j.Defects = append(j.Defects, document.Rectangle{X: d.of(f.X), Y: d.of(f.Y), Length: d.of(f.Length), Width: d.of(f.Width)})
	}
	return j
}

func jobID(id int64) string { return strconv.FormatInt(id, 10) }
