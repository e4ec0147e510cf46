package fair

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"batchwright/jigplan"
	"batchwright/jigplan/week"
	"batchwright/orders"
	"batchwright/orders/woods"
)

// limit is something shared: what there is, what one box takes, and how much
// one more of it adds.
type limit struct {
	jigplan.Limit
	wood string // key of the wood it is; empty: no wood
	step float64
	uses func(w *way, made, half, fresh int) float64
}

// hoursName is the limit that the clock corrects.
const hoursName = "hours of work"

// endless is a capacity that never binds.
const endless = 1e12

func (f *fairing) capacities() {
	minutes, days, dayMinutes := f.workingTime()
	week, r := &f.set.Week, &f.set.Rates
	hours := minutes * float64(max(0, week.People))
	if r.FairHours > 0 {
		hours = math.Min(hours, r.FairHours*60)
	}
	taken, takenSaw := f.taken()
	add := func(name, unit, more string, has, step float64, uses func(w *way, made, half, fresh int) float64) {
		f.limits = append(f.limits, limit{Limit: jigplan.Limit{Name: name, Unit: unit, Has: max(0, has), More: more}, step: step, uses: uses})
	}
	begun := func(w *way, fresh int) float64 {
		if fresh > 0 {
			return w.Setup
		}
		return 0
	}
	if f.dated() || r.FairHours > 0 {
		add(hoursName, "min", "one more evening of "+hoursText(r.EveningHours), hours-taken, r.EveningHours*60, func(w *way, _, half, fresh int) float64 {
			return w.Minutes*float64(fresh) + begun(w, fresh) + w.Finish*float64(half)
		})
	}
	if f.dated() {
		if week.Clamps < week.ClampsBox {
			f.fair.Unjudged = true
			f.problem(orders.Warning, f.set.Source("Clamps"), strconv.Itoa(week.Clamps), fmt.Sprintf("one box needs %d clamps: no new one can be glued up", week.ClampsBox), "correct Clamps or Clamps a box")
		}
		glueDays := max(0, days-1) // the wood rests a night before it is cut
		atOnce := float64(week.Clamps / max(1, week.ClampsBox))
		cycles := math.Floor(dayMinutes/math.Max(1, week.ClampMinutes+10)) + 1 // in hours, and one over night
		coats := 1 + math.Floor(dayMinutes/math.Max(1, week.DryHours*60))
		add("hours at the saw", "min", "one more evening at the saw, "+hoursText(r.EveningHours), minutes-takenSaw, r.EveningHours*60, func(w *way, _, _, fresh int) float64 {
			return w.Saw*float64(fresh) + begun(w, fresh)
		})
		add("clamps", "glue-ups", "clamps for one more box", atOnce*cycles*float64(glueDays), cycles*float64(glueDays), func(_ *way, _, _, fresh int) float64 { return float64(fresh) })
		add("drying places", "coats", "one more drying place", float64(week.DryingPlaces)*coats*float64(days), coats*float64(days), func(w *way, _, half, fresh int) float64 {
			return float64(w.Coats * (half + fresh))
		})
	}
	if r.StallHolds > 0 {
		add("room at the booth", "boxes", "space for one more box", r.StallHolds, 1, func(_ *way, made, half, fresh int) float64 { return float64(made + half + fresh) })
	}
	if r.VehicleLitres > 0 {
		add("room in the vehicle", "litres", "ten litres more", r.VehicleLitres, 10, func(w *way, made, half, fresh int) float64 { return w.Litres * float64(made+half+fresh) })
	}
	f.woodLimits(add)
}

func hoursText(h float64) string { return strconv.FormatFloat(h, 'f', -1, 64) + " h" }

// workingTime is the open minutes until everything must be ready, less the
// buffer, the open days, and the minutes of the longest day.
func (f *fairing) workingTime() (minutes float64, days int, longest float64) {
	if !f.dated() || !f.fair.Ready.After(f.From) {
		return 0, 0, 0
	}
	byDay := map[string]float64{}
	for _, h := range week.Calendar(f.From, int(f.fair.Ready.Sub(f.From).Hours()/24)+1, f.set.Week) {
		if h.From.Before(f.fair.Ready) {
			byDay[h.From.Format("2006-01-02")] += h.To.Sub(h.From).Minutes()
		}
	}
	for _, m := range byDay {
		minutes += m * (1 - f.set.Week.BufferPercent/100)
		longest = max(longest, m)
	}
	return minutes, len(byDay), longest
}

// taken is the work of the jobs that come first.
func (f *fairing) taken() (all, saw float64) {
	for _, o := range f.Open {
		job, _ := week.Remaining(o, f.set.Week)
		for _, t := range job.Tasks {
			all += float64(t.Minutes)
			if t.Place == jigplan.AtSaw {
				saw += float64(t.Minutes)
			}
		}
	}
	return all, saw
}

// woodLimits are the boards on hand and those the yard has a number of; a wood
// that can be bought without limit is none.
func (f *fairing) woodLimits(add func(name, unit, more string, has, step float64, uses func(w *way, made, half, fresh int) float64)) {
	if len(f.Order.Rack)+len(f.Order.Yard) == 0 {
		return
	}
	area, boards, free := map[string]float64{}, map[string]float64{}, map[string]bool{}
	for _, b := range slices.Concat(f.Order.Rack, f.Order.Yard) {
		key := woods.Key(b.Wood)
		one := b.Length.Times(b.Width).SquareMillimetres() / 1e6
		area[key] += one * float64(b.Count)
		boards[key] += float64(b.Count)
		free[key] = free[key] || b.Unlimited
	}
	for i := range f.ways {
		for key := range f.ways[i].Area {
			if _, known := area[key]; !known {
				area[key] = 0
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(area)) {
		if free[key] {
			continue
		}
		step := 0.0
		if boards[key] > 0 {
			step = area[key] / boards[key]
		}
		add(key, "m2", "one more board of "+key, area[key], step, func(w *way, _, _, fresh int) float64 { return w.Area[key] * float64(fresh) })
		f.limits[len(f.limits)-1].wood = key
	}
}
