package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"batchwright/jigplan/joint"
	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/reports"
)

// jointBudgetCommand says what the fit may come out as, and why.
func jointBudgetCommand(c *common) *cobra.Command {
	var f jointFlags
	habits := joint.UsualHabits
	percent := habits.LeadError * 100
	cmd := &cobra.Command{
		Use:   "budget --finger 1/4 --height 3-1/2",
		Short: "Error budget: how far rod, handle, blade and boards can change the fit",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			p, s, err := c.bestProgram(cmd.Context(), &f)
			if err != nil {
				return err
			}
			if percent < 0 || percent > 10 || habits.HandleDegrees < 0 || habits.HandleDegrees > 180 {
				return exit{exitUsage, fmt.Errorf("a lead error of %g%% and a handle off by %g degrees: 0 to 10%% and 0 to 180 degrees", percent, habits.HandleDegrees)}
			}
			habits.LeadError = percent / 100
			b := joint.BudgetOf(p, habits, s.Units)
			if err := c.writeJSON(budgetRecord(b)); err != nil {
				return err
			}
			w := reports.Words{Unit: s.Units}
			c.show([]reports.Table{budgetTable(w, b)})
			c.tell([]string{againstClass(w, s, b)})
			return nil
		},
	}
	f.add(c, cmd)
	c.jsonFlag(cmd)
	cmd.Flags().Float64Var(&percent, "lead-error", percent, "error of the rod's lead, percent (common practice for hardware rod: 0.1 to 0.3)")
	cmd.Flags().Float64Var(&habits.HandleDegrees, "handle-degrees", habits.HandleDegrees, "how far off its mark the handle may stop")
	return cmd
}

type hazardJSON struct {
	Cause   string         `json:"cause"`
	Low     measure.Length `json:"fit_low_mm"`
	High    measure.Length `json:"fit_high_mm"`
	Matters bool           `json:"matters"`
	Say     string         `json:"say"`
}

func budgetRecord(b joint.Budget) map[string]any {
	var lines []hazardJSON
	for _, h := range b.Hazards {
		lines = append(lines, hazardJSON{h.Cause, ticks(h.Low), ticks(h.High), h.Matters, h.Say})
	}
	return map[string]any{
		"hazards": lines, "fit_low_mm": ticks(b.Low), "fit_high_mm": ticks(b.High),
		"worst_low_mm": ticks(b.WorstLow), "worst_high_mm": ticks(b.WorstHigh),
	}
}

func ticks(f float64) measure.Length { return measure.Length(math.Round(f)) }

// againstClass holds what is to be expected against the fits the shop accepts.
func againstClass(w reports.Words, s settings.Shop, b joint.Budget) string {
	class := func(f float64) string { return joint.FitClass(ticks(f).Ratio()) }
	text := fmt.Sprintf("From %s to %s; accepted: %s to %s", class(b.Low), class(b.High), w.Fine(s.FitAtLeast.Ratio()), w.Fine(s.FitAtMost.Ratio()))
	low, high := b.Low < float64(s.FitAtLeast), b.High > float64(s.FitAtMost)
	switch {
	case low && high:
		return text + ": it may come out too tight or too loose, try a test corner before every batch"
	case low:
		return text + ": it may come out too tight, try a test corner before every batch"
	case high:
		return text + ": it may come out too loose, try a test corner before every batch"
	}
	return text + ": all of it is accepted"
}

func budgetTable(w reports.Words, b joint.Budget) reports.Table {
	fine := func(f float64) string { return w.Fine(ticks(f).Ratio()) }
	t := reports.Table{
		Title: fmt.Sprintf("Expected fit: %s to %s; worst case: %s to %s", fine(b.Low), fine(b.High), fine(b.WorstLow), fine(b.WorstHigh)),
		Head:  []string{"Cause", "Tighter by", "Looser by", "Matters", "What to do"},
	}
	for _, h := range b.Hazards {
		matters := ""
		if h.Matters {
			matters = "yes"
		}
		t.Rows = append(t.Rows, []string{h.Cause, fine(-h.Low), fine(h.High), matters, h.Say})
	}
	return t
}
