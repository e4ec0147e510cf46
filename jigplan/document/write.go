package document

import (
	"bytes"
	"encoding/json"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// Indent writes any document the way the plan's is written.
func Indent(v any) ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Of is the published part of a plan's document.
func Of(p *jigplan.Plan) Document {
	return Document{
		Version:  1,
		Order:    Order{p.Order.File, p.Order.SHA256},
		Units:    p.Order.Settings.Units.String(),
		Seed:     p.Seed,
		Partial:  p.Partial,
		Settings: usedSettings(used(p)),
		Totals:   totals(p),
		Parts:    each(p.Parts, part),
		Panels:   each(p.Panels, panel),
		Boards:   boards(p),
		Milling:  each(p.Milling, millingStep),
		Short:    short(p),
		Nesting:  ofLayout(&p.Layout),
		Programs: each(p.Programs, OfProgram),
		Setups:   each(p.Setups, setup),
		Stacks:   each(p.Stacks, stack),
		Sequence: sequence(&p.Sequence),
		Time:     ofTime(&p.Time),
		Findings: Findings(reports.Findings(p)),
	}
}

// Findings is a list of findings as every document gives them.
func Findings(list []orders.Finding) []Finding { return each(list, finding) }

func usedSettings(used []settings.Used) Named {
	out := Named{}
	for _, u := range used {
		out = append(out, Pair{u.Name, u.Value})
	}
	return out
}

// used are the settings as the plan used them: a lead that the rod gives
// stands as its length.
func used(p *jigplan.Plan) []settings.Used {
	all := p.Order.Settings.Used()
	for i := range all {
		if all[i].Name == "Lead" && p.Order.Settings.Lead == 0 && len(p.Programs) > 0 {
			all[i].Value = ratio(p.Programs[0].Lead)
		}
	}
	return all
}

func totals(p *jigplan.Plan) Totals {
	return Totals{
		Boxes:     reports.Boxes(p),
		Parts:     len(p.Parts),
		Boards:    len(p.Layout.Boards),
		AreaUsed:  areaOf(p.Layout.AreaUsed),
		BoardFeet: float(reports.BoardFeet(p.Layout.Boards)),
		Cost:      money(p.Layout.Cost),
		Minutes:   float(p.Time.Minutes),
	}
}

func part(p *orders.Part) partJSON {
	out := partJSON{
		ID: p.ID, Line: p.Source.String(), Box: p.Box, Unit: p.Unit,
		Role: string(p.Role), Wood: p.Wood, Grain: string(p.Grain),
		Length: length(p.Length), Width: length(p.Width), Thickness: length(p.Thickness),
		CutLength: length(p.CutLength), CutWidth: length(p.CutWidth),
		GrainRun: textOrNull(p.Run), Panel: textOrNull(p.Panel),
	}
	if p.Run != "" {
		out.GrainPlace = &p.Place
	}
	return out
}

func panel(g *orders.GluedPanel) panelJSON {
	return panelJSON{
		ID: g.ID, Line: g.Source.String(), Box: g.Box, Unit: g.Unit, Role: string(g.Role), Wood: g.Wood,
		Length: length(g.Length), Width: length(g.Width), Thickness: length(g.Thickness), Strips: g.Strips,
	}
}

// boards are the boards cut, each with what no part of it may touch.
func boards(p *jigplan.Plan) []boardJSON {
	set := &p.Order.Settings
	return each(p.Layout.Boards, func(b *nesting.CutBoard) boardJSON { return board(b, b.Stock.Barred(set)) })
}

func board(b *nesting.CutBoard, barred []orders.Defect) boardJSON {
	return boardJSON{
		ID: b.ID, Source: string(b.Stock.Origin), Wood: b.Stock.Wood, Class: b.Stock.Class,
		Length: length(b.Length), Width: length(b.Width), Thickness: length(b.Thickness),
		Cost:    money(b.Cost),
		Defects: each(barred, defect), Pieces: each(b.Pieces, piece),
		Cuts: each(b.Cuts, cut), Offcuts: each(b.Offcuts, offcut),
	}
}

func defect(d *orders.Defect) Rectangle {
	return Rectangle{length(d.X), length(d.Y), length(d.Length), length(d.Width)}
}

func piece(p *nesting.Piece) pieceJSON {
	return pieceJSON{p.Part, Rectangle{length(p.X), length(p.Y), length(p.Length), length(p.Width)}, p.Turned}
}

func cut(c *nesting.Cut) cutJSON {
	return cutJSON{c.N, string(c.Kind), length(c.At), length(c.From), length(c.To), length(c.Kerf),
		string(c.Guide), string(c.Reference), length(c.Set), length(c.Takes)}
}

func millingStep(m *jigplan.Milling) millingJSON {
	return millingJSON{m.AfterCut, texts(m.Boards), texts(m.Parts), m.Kind, length(m.To), float(m.Minutes)}
}

func offcut(o *nesting.Offcut) offcutJSON {
	return offcutJSON{Rectangle{length(o.X), length(o.Y), length(o.Length), length(o.Width)}, o.Keep}
}

// short lists every part that cannot be made: those with no board, and those
// of a refused joint, each once.
func short(p *jigplan.Plan) []shortJSON {
	return each(reports.Short(p), func(s *nesting.Short) shortJSON { return shortJSON{s.Part, s.Why} })
}

func ofLayout(l *nesting.Layout) nestingJSON {
	return nestingJSON{
		Cost: money(l.Cost), CostBound: money(l.CostBound), Cheapest: money(l.Cheapest),
		CutMinutes: float(l.CutMinutes), WorkCost: money(l.WorkCost),
		AreaUsed: areaOf(l.AreaUsed), AreaParts: areaOf(l.AreaParts), AreaBound: areaOf(l.AreaBound),
		Proven: l.Proven, Stop: string(l.Stop), Seconds: float(l.Seconds),
	}
}

func setup(s *jigplan.Setup) setupJSON {
	return setupJSON{s.ID, s.Program, s.Blade, length(s.BladeHeight), ratio(s.Spacer), texts(s.Stacks)}
}

func stack(s *jigplan.Stack) stackJSON {
	boards := each(s.Boards, func(b *jigplan.StackBoard) stackBoardJSON {
		return stackBoardJSON{b.Part, string(b.Row), ratio(b.Shim), length(b.Carrier)}
	})
	return stackJSON{s.ID, s.Setup, s.End, boards, length(s.Thickness), float(s.Minutes)}
}

func sequence(s *jigplan.Sequence) sequenceJSON {
	return sequenceJSON{texts(s.Setups), float(s.ChangeoverMinutes), float(s.BoundMinutes), s.Proven}
}

// ofTime adds elements of one name together, so that no minute is lost.
func ofTime(t *jigplan.Time) timeJSON {
	sums, order := map[string]float64{}, []string{}
	for _, e := range t.Elements {
		if _, seen := sums[e.Name]; !seen {
			order = append(order, e.Name)
		}
		sums[e.Name] += e.Minutes
	}
	elements := Named{}
	for _, name := range order {
		elements = append(elements, Pair{name, float(sums[name])})
	}
	return timeJSON{float(t.Minutes), float(t.P80Minutes), elements}
}

func finding(p *orders.Finding) Finding {
	return Finding{string(p.Level), p.Sheet, p.Cell, p.Read, p.Did, p.Fix}
}
