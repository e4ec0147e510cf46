package settings

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"time"

	"batchwright/orders/measure"
)

// Rates is what work and supplies cost, and how a price is made of that. An
// amount that was never set is 0 and not Given: nothing is invented for it.
type Rates struct {
	Labour, Overhead          measure.Money // an hour
	OverheadOf                string        // "labour", "saw": the hours Overhead counts
	OverheadYear              measure.Money // what a year's overhead comes to, where no rate is set
	HoursYear                 float64       // hours of OverheadOf that carry it
	Glue                      measure.Money // a kilogram
	Finish                    measure.Money // a litre
	Abrasive                  measure.Money // a sheet
	Nails                     measure.Money // a hundred
	Hinge, Catch              measure.Money // one, with its screws
	Sharpening                measure.Money // of the blade
	CutsPerSharpening         float64       // cut passes
	OffcutWorth               float64       // percent of what the wood of a kept offcut cost
	Margin, Markup            float64       // percent of the price; of the cost
	RoundTo                   measure.Money // prices are whole multiples of it
	CardFee, Tax              float64       // percent of what is charged; of the price without it
	PricesHold                string        // "yes": prices include Tax; "no": it is added to them
	TaxName                   string
	Deposit                   float64 // percent of the total
	ValidDays, DeliveryDays   float64
	ShopName, Address, Terms  string
	CustomerAddress           string
	TaxNumber, PaymentDetails string
	NextInvoice               int            // the number of the next invoice, or the least it may have
	PaymentDays               float64        // to pay an invoice
	PackAround                measure.Length // on every side of what a carton holds
	Cartons                   []measure.Size // inside sizes to choose from; empty: any
	CartonKilograms           float64        // a packed carton weighs no more
	FairName                  string
	FairDate                  time.Time // midnight UTC; zero: not said
	FairHours                 float64   // of work until the fair, where no date says it
	StallCost, TravelCost     measure.Money
	StandHours                float64 // at the fair, travel included
	StallHolds, VehicleLitres float64 // boxes; litres; 0: no limit
	PackingDays               float64
	UnsoldWorth               float64       // percent of its wood and supplies
	CarryHome                 measure.Money // one box
	ProfitWanted              measure.Money // from the fair
	EveningHours              float64       // of one evening of extra work
	GuessWeighs               float64       // fairs
}

// HourlyOverhead is the overhead an hour: the rate, else the year's overhead
// over the year's hours, rounded half to even to the cent. Not ok: neither is
// set.
func (s *Shop) HourlyOverhead() (measure.Money, bool) {
	r := &s.Rates
	switch {
	case s.Given("Overhead rate"):
		return r.Overhead, true
	case s.Given("Overhead a year") && r.HoursYear > 0:
		return r.OverheadYear.Per(r.HoursYear), true
	}
	return 0, false
}

// TaxInside reports whether the shop's prices include the tax.
func (r *Rates) TaxInside() bool { return r.Tax > 0 && r.PricesHold == "yes" }

// TaxOf is the tax on an amount at the shop's prices, rounded once, half to
// even: added to it, or the part tax / (100 + tax) of it where they include it.
func (r *Rates) TaxOf(amount measure.Money) measure.Money {
	rate, whole := measure.Exact(r.Tax), big.NewRat(100, 1)
	if r.TaxInside() {
		whole.Add(whole, rate)
	}
	return amount.At(rate.Quo(rate, whole))
}

// Takings splits a price at which one is sold: the tax in it, and what is left
// of it after that and the card company's share of what the customer pays.
func (r *Rates) Takings(price measure.Money) (tax, left measure.Money) {
	if r.TaxInside() {
		tax = r.TaxOf(price)
	}
	return tax, price - tax - price.At(measure.Exact(r.FeeOfPrice()/100))
}

// FeeOfPrice is the card fee in percent of a price as it is printed: where the
// tax is added to that, the fee is on both.
func (r *Rates) FeeOfPrice() float64 {
	if r.TaxInside() {
		return r.CardFee
	}
	return r.CardFee * (1 + r.Tax/100)
}

// TaxNote says with its name whether printed prices include the tax; empty:
// there is none.
func (r *Rates) TaxNote(u measure.Unit) string {
	switch {
	case r.Tax == 0:
		return ""
	case r.TaxInside():
		return r.TaxName + " " + u.Percent(r.Tax, -1) + " included"
	}
	return "plus " + r.TaxName + " " + u.Percent(r.Tax, -1)
}

// rateDefinitions are the settings of money, packing and fairs.
func rateDefinitions() []Definition {
	r := func(s *Shop) *Rates { return &s.Rates }
	percent := func(name, group, def, help string, most float64, field func(*Rates) *float64) Definition {
		return figure(name, group, "%", def, help, most, func(s *Shop) *float64 { return field(r(s)) })
	}
	plain := func(name, group, unit, def, help string, field func(*Rates) *float64) Definition {
		return figure(name, group, unit, def, help, 1e7, func(s *Shop) *float64 { return field(r(s)) })
	}
	word := func(name, group, def, help string, field func(*Rates) *string) Definition {
		return text(name, group, def, help, func(s *Shop) *string { return field(r(s)) })
	}
	return []Definition{
		amount("Labor rate", "Rates", "an hour", "money for an hour of work; blank: not set, and no price is made of hours", func(r *Rates) *measure.Money { return &r.Labour }).also("Labour rate", "labor", "labour", "hourly rate", "wage"),
		amount("Overhead rate", "Rates", "an hour", "money for an hour's share of rent, heat, machines, insurance; blank: Overhead a year over Hours a year, or not set", func(r *Rates) *measure.Money { return &r.Overhead }).also("overhead"),
		choice("Overhead is of", "Rates", "labour", "the hours that carry overhead: labour, all hours; saw, hours at the saw", func(s *Shop) *string { return &s.Rates.OverheadOf }, "labour", "saw"),
		amount("Overhead a year", "Rates", "", "overhead in a year", func(r *Rates) *measure.Money { return &r.OverheadYear }),
		plain("Hours a year", "Rates", "h", "0", "hours a year that Overhead a year is spread over; 0: not set", func(r *Rates) *float64 { return &r.HoursYear }),
		amount("Glue price", "Rates", "a kg", "blank: not set, and glue is not charged", func(r *Rates) *measure.Money { return &r.Glue }),
		amount("Finish price", "Rates", "a litre", "blank: not set, and finish is not charged", func(r *Rates) *measure.Money { return &r.Finish }),
		amount("Abrasive price", "Rates", "a sheet", "blank: not set, and abrasive is not charged", func(r *Rates) *measure.Money { return &r.Abrasive }),
		amount("Nail price", "Rates", "a hundred", "blank: not set, and nails are not charged", func(r *Rates) *measure.Money { return &r.Nails }),
		amount("Hinge price", "Rates", "each", "one hinge with its screws; blank: not set", func(r *Rates) *measure.Money { return &r.Hinge }),
		amount("Catch price", "Rates", "each", "blank: not set", func(r *Rates) *measure.Money { return &r.Catch }),
		amount("Sharpening price", "Rates", "", "one sharpening of the joint blade; blank: not set", func(r *Rates) *measure.Money { return &r.Sharpening }),
		plain("Cuts per sharpening", "Rates", "", "0", "passes between sharpenings; 0: not set", func(r *Rates) *float64 { return &r.CutsPerSharpening }),
		percent("Offcut worth", "Rates", "50", "of a kept offcut's cost, credited to the job; 0: the job pays for whole boards", 100, func(r *Rates) *float64 { return &r.OffcutWorth }),
		percent("Margin", "Rates", "0", "of the price: price = cost / (1 - margin); 0: not set", 1e6, func(r *Rates) *float64 { return &r.Margin }),
		percent("Markup", "Rates", "0", "of the cost: price = cost x (1 + markup); 0: not set", 1e6, func(r *Rates) *float64 { return &r.Markup }),
		amountOr("Round prices to", "Rates", "0.01", "the price of one box is a multiple of this, half to even", func(r *Rates) *measure.Money { return &r.RoundTo }),
		percent("Card fee", "Rates", "0", "of what the customer pays, tax included", 50, func(r *Rates) *float64 { return &r.CardFee }),
		percent("Tax", "Rates", "0", "of the price without it; 0: none is printed", 100, func(r *Rates) *float64 { return &r.Tax }).also("VAT", "sales tax", "tax rate"),
		choice("Prices include tax", "Rates", "no", "yes: each Price in an order or a catalog, and each price printed, includes Tax; no: Tax is added to it", func(s *Shop) *string { return &s.Rates.PricesHold }, "no", "yes").also("VAT included", "tax included"),
		word("Tax name", "Rates", "tax", "as it is printed: VAT, sales tax", func(r *Rates) *string { return &r.TaxName }),
		percent("Deposit", "Rates", "50", "of the total, on acceptance; more where that does not pay for the wood to be bought", 100, func(r *Rates) *float64 { return &r.Deposit }),
		plain("Validity", "Rates", "days", "30", "how long a quote holds", func(r *Rates) *float64 { return &r.ValidDays }),
		plain("Delivery days", "Rates", "days", "1", "open days from the last coat's drying to the customer's door", func(r *Rates) *float64 { return &r.DeliveryDays }),
		word("Customer address", "Rates", "", "on quotes and invoices; a row of the order's own Shop sheet", func(r *Rates) *string { return &r.CustomerAddress }),
		word("Tax number", "Rates", "", "the shop's, printed on invoices", func(r *Rates) *string { return &r.TaxNumber }).also("VAT number"),
		word("Payment details", "Rates", "", "how to pay: bank and account, printed on invoices", func(r *Rates) *string { return &r.PaymentDetails }),
		plain("Payment days", "Rates", "days", "0", "to pay an invoice; 0: the deposit at once, the balance on delivery", func(r *Rates) *float64 { return &r.PaymentDays }),
		count("Next invoice", "Rates", "1", "number of the next invoice; increases by itself, never goes back", func(s *Shop) *int { return &s.Rates.NextInvoice }),
		word("Shop name", "Rates", "", "at the head of quotes and invoices", func(r *Rates) *string { return &r.ShopName }),
		word("Shop address", "Rates", "", "beneath it", func(r *Rates) *string { return &r.Address }),
		word("Terms", "Rates", "", "a sentence of your own among the terms of a quote", func(r *Rates) *string { return &r.Terms }),

		length("Packing around", "Packing", "1", "between the boxes and the carton, each side", func(s *Shop) *measure.Length { return &s.Rates.PackAround }).mm("30"),
		rated("Cartons", "Packing", "in", "", "inside sizes to choose from: 12 x 9 x 4; 16 x 12 x 8; blank: any size", numbers, func(r *Rates) *[]measure.Size { return &r.Cartons }, parseCartons, cartonsText).meaning("inside sizes to choose from: 300 x 250 x 120; 400 x 300 x 220; blank: any size"),
		plain("Heaviest carton", "Packing", "kg", "15", "a packed carton weighs no more", func(r *Rates) *float64 { return &r.CartonKilograms }),

		word("Fair", "Fair", "", "its name, for the sheets", func(r *Rates) *string { return &r.FairName }),
		rated("Fair date", "Fair", "", "", "its first day: 2027-05-15", days, func(r *Rates) *time.Time { return &r.FairDate }, parseDay, dayText),
		plain("Hours to the fair", "Fair", "h", "0", "hours of work until the fair, where they are fewer than the calendar has; 0: the calendar's", func(r *Rates) *float64 { return &r.FairHours }),
		amount("Booth fee", "Fair", "", "blank: not set", func(r *Rates) *measure.Money { return &r.StallCost }).also("Stall cost", "stall fee", "booth cost"),
		amount("Travel cost", "Fair", "", "there and back, nights included; blank: not set", func(r *Rates) *measure.Money { return &r.TravelCost }),
		plain("Booth hours", "Fair", "h", "0", "at the fair and on the way, paid at the labor rate", func(r *Rates) *float64 { return &r.StandHours }).also("Stand hours"),
		plain("Booth holds", "Fair", "boxes", "0", "0: no limit", func(r *Rates) *float64 { return &r.StallHolds }).also("Stall holds"),
		plain("Vehicle holds", "Fair", "litres", "0", "packed boxes; 0: no limit", func(r *Rates) *float64 { return &r.VehicleLitres }),
		plain("Packing days", "Fair", "days", "1", "open days before the fair on which nothing is made", func(r *Rates) *float64 { return &r.PackingDays }),
		percent("Unsold worth", "Fair", "0", "of its wood and supplies: what an unsold box is still worth", 100, func(r *Rates) *float64 { return &r.UnsoldWorth }),
		amount("Cost of an unsold box", "Fair", "a box", "packing and carrying one unsold box; blank: nothing", func(r *Rates) *measure.Money { return &r.CarryHome }).also("Carrying home"),
		amount("Profit wanted", "Fair", "", "to show how many boxes must be sold for it; blank: not shown", func(r *Rates) *measure.Money { return &r.ProfitWanted }),
		plain("Evening", "Fair", "h", "3", "of extra work, to show what one more evening is worth", func(r *Rates) *float64 { return &r.EveningHours }),
		plain("Weight of the demand estimate", "Fair", "fairs", "2", "the catalog's demand estimate counts as this many fairs beside those logged; 0: logged sales are not used", func(r *Rates) *float64 { return &r.GuessWeighs }).also("Guess weighs"),
	}
}

// rated makes a definition of Rates whose text is read and written by two
// functions.
func rated[T any](name, group, unit, def, help string, texts textKind, field func(*Rates) *T, parse func(string, Entry) (T, error), show func(T) string) Definition {
	return Definition{Name: name, Group: group, Default: def, Unit: unit, Help: help, Origin: common, dress: texts, bare: measure.Inches,
		set: func(s *Shop, value string, e Entry) error {
			v, err := parse(value, e)
			if err == nil {
				*field(&s.Rates) = v
			}
			return err
		},
		value: func(s *Shop) any { return show(*field(&s.Rates)) }}
}

// amount is money that has no default: blank is not set.
func amount(name, group, unit, help string, field func(*Rates) *measure.Money) Definition {
	d := amountOr(name, group, "", help, field)
	d.Unit, d.Origin = unit, "the shop's own"
	d.value = func(s *Shop) any {
		if !s.given[name] {
			return ""
		}
		return *field(&s.Rates)
	}
	return d
}

func amountOr(name, group, def, help string, field func(*Rates) *measure.Money) Definition {
	return Definition{Name: name, Group: group, Default: def, Help: help, Origin: common, dress: numbers,
		set: func(s *Shop, value string, e Entry) error {
			if value == "" {
				*field(&s.Rates) = 0
				return nil
			}
			m, err := measure.ParseMoney(value, e.DecimalComma)
			if err == nil {
				*field(&s.Rates) = m
			}
			return err
		},
		value: func(s *Shop) any { return *field(&s.Rates) }}
}

func parseDay(text string, e Entry) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return e.day(text)
}

// day reads one date as the shop writes dates.
func (e Entry) day(text string) (time.Time, error) {
	day, err := measure.ParseDate(text, e.Dates)
	var two *measure.TwoDatesError
	switch {
	case errors.As(err, &two):
		return day, fmt.Errorf("%w: write it as %s, or say how dates are written with the setting Dates", err, two.MonthFirst.Format(time.DateOnly))
	case err != nil:
		return day, fmt.Errorf("%q is not a date such as 2027-05-15: %w", text, err)
	}
	return day, nil
}

func dayText(day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return day.Format(time.DateOnly)
}

// parseCartons reads sizes such as "12 x 9 x 4; 16 x 12 x 8".
func parseCartons(text string, e Entry) (sizes []measure.Size, err error) {
	for one := range strings.SplitSeq(text, ";") {
		if strings.TrimSpace(one) == "" {
			continue
		}
		sides := strings.Split(strings.ReplaceAll(strings.ToLower(one), "×", "x"), "x")
		if len(sides) != 3 {
			return nil, fmt.Errorf("%q is not a size such as 12 x 9 x 4", strings.TrimSpace(one))
		}
		var at [3]measure.Length
		for i, side := range sides {
			if at[i], err = measure.Parse(side, e.reading()); err != nil {
				return nil, err
			}
			if at[i] <= 0 {
				return nil, fmt.Errorf("%q is not above zero", strings.TrimSpace(side))
			}
		}
		sizes = append(sizes, measure.Size{Length: at[0], Width: at[1], Height: at[2]})
	}
	return sizes, nil
}

func cartonsText(sizes []measure.Size) string {
	var out []string
	for _, s := range sizes {
		out = append(out, fmt.Sprintf("%s x %s x %s", s.Length.ShowUnit(measure.Millimetres), s.Width.ShowUnit(measure.Millimetres), s.Height.ShowUnit(measure.Millimetres)))
	}
	return strings.Join(out, "; ")
}
