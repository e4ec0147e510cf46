package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"batchwright/jigplan"
	"batchwright/nesting"
	"batchwright/orders/measure"
)

// pool is one thing to buy for all the jobs that need it.
type pool struct {
	jigplan.Purchase // the first job's; Count and Cost are of all
	jobs             []string
	needed, by       time.Time // the first work with it; the day to order it
	words            Words
	currency         string

	boards []*nesting.CutBoard // that are bought, in the order their jobs need them
	kerf   measure.Length
	saved  int // boards not bought because jobs share
}

// pooled is what must be ordered in the printed days, or is needed in them, the
// same things of all jobs together, by the day to order.
func pooled(w *jigplan.Week) (out []*pool) {
	end := midnight(w.From).AddDate(0, 0, w.Days)
	for _, j := range asNeeded(w) {
		for _, buy := range j.Plan.Buy {
			needed := neededAt(w.Schedule.Bookings, j.ID, buy.Kind)
			if needed.IsZero() {
				continue
			}
			by := orderDay(w, needed, buy.Kind)
			if !by.Before(end) {
				continue
			}
			at := slices.IndexFunc(out, func(p *pool) bool { return p.sameThing(&buy) })
			if at < 0 {
				at = len(out)
				out = append(out, &pool{Purchase: buy, needed: needed, by: by, words: WordsOf(j.Plan), currency: j.Plan.Order.Settings.Currency})
				out[at].Count, out[at].Cost, out[at].Amount = 0, 0, 0
			}
			p := out[at]
			p.Amount += buy.Amount
			p.Count, p.Cost, p.CostSaid = p.Count+buy.Count, p.Cost+buy.Cost, p.CostSaid && buy.CostSaid
			p.jobs = append(p.jobs, j.Code)
			set := &j.Plan.Order.Settings
			p.boards, p.kerf = append(p.boards, boughtAs(j.Plan, &buy)...), max(p.kerf, set.CrosscutKerf, set.RipKerf)
			p.needed, p.by = sooner(p.needed, needed), sooner(p.by, by)
		}
	}
	for _, p := range out {
		p.share()
	}
	slices.SortStableFunc(out, func(a, b *pool) int { return cmp.Or(a.by.Compare(b.by), strings.Compare(a.What, b.What)) })
	return out
}

// asNeeded is the jobs in the order in which their work begins.
func asNeeded(w *jigplan.Week) (out []*jigplan.WeekJob) {
	first := map[string]int{}
	for k, b := range slices.Backward(w.Schedule.Bookings) {
		first[b.Job] = k
	}
	for i := range w.Jobs {
		out = append(out, &w.Jobs[i])
	}
	slices.SortStableFunc(out, func(a, b *jigplan.WeekJob) int { return cmp.Compare(first[a.ID], first[b.ID]) })
	return out
}

// why says where it is to be had, and what saves some of it.
func (p *pool) why() string {
	if p.saved == 0 {
		return p.Why
	}
	return joined(", ", p.Why, fmt.Sprintf("%d fewer when each job cuts from the offcut of the one before", p.saved))
}

func (p *pool) sameThing(b *jigplan.Purchase) bool {
	return p.Kind == b.Kind && p.What == b.What && p.Size == b.Size && p.Unit == b.Unit && (p.Count > 0) == (b.Count > 0)
}

// orderDay is the last day to order what is needed at a time; today when that
// is over. Wood rests before it is milled.
func orderDay(w *jigplan.Week, needed time.Time, kind string) time.Time {
	days := w.Settings.Week.BuyingDays
	if kind == "wood" {
		days += w.Settings.Week.AcclimatiseDays
	}
	return later(midnight(needed.Add(-time.Duration(days*24*float64(time.Hour)))), midnight(w.From))
}

// quantity is how much of it is bought for all the jobs.
func (p *pool) quantity() string {
	if p.Count > 0 {
		if p.Board.Sheet {
			return Counted(p.Count, "sheet", "sheets")
		}
		return Counted(p.Count, "board", "boards")
	}
	return jigplan.AmountText(p.Amount, p.Unit, p.words.Unit)
}

func (p *pool) forJobs() string {
	if len(p.jobs) == 1 {
		return "job " + p.jobs[0]
	}
	return "jobs " + Listed(p.jobs, 8)
}

// id names it for the calendar: the same thing, however the week is planned.
func (p *pool) id() string { return joined("-", p.Kind, p.What, p.Size) }

func ofSize(size string) string {
	if size == "" {
		return ""
	}
	return ", " + size
}

// WeekBuy is what must be bought for the week, for all jobs together, with the
// day to order it.
func WeekBuy(w *jigplan.Week) Table {
	t := Table{Title: "To buy", Head: []string{"", "Order by", "Jobs", "What", "Quantity", "Size", "Cost", "Needed", "Why"}}
	for _, p := range pooled(w) {
		cost := ""
		if p.CostSaid {
			cost = InUnit(p.Cost, p.currency, p.words.Unit)
		}
		t.Add("☐", p.words.Unit.LongDay(p.by), strings.Join(p.jobs, ", "), p.What, joined(", ", p.quantity(), yardMeasure(&p.Purchase, p.words)), p.Size, cost,
			p.words.Unit.LongDay(p.needed), p.why())
	}
	if len(t.Rows) > 0 {
		s := &w.Settings.Week
		t.Note(fmt.Sprintf("Order by: %g days before it is needed (Buying takes), wood %g more (Acclimate).", s.BuyingDays, s.AcclimatiseDays))
	}
	return t
}

// neededAt is when the first work of a job that needs a kind of supply begins;
// zero: not in these bookings.
func neededAt(bookings []jigplan.Booking, job, kind string) time.Time {
	places := map[string]jigplan.Place{"wood": jigplan.AtSaw, "glue": jigplan.AtClamps, "finish": jigplan.AtFinish}
	place, ok := places[kind]
	if !ok {
		place = jigplan.AtBench
	}
	for _, b := range bookings {
		if b.Job == job && b.Place == place && (kind != "wood" || len(b.After) == 0) {
			return b.Start
		}
	}
	return time.Time{}
}
