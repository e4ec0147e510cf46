package parts

import (
	"math"

	"batchwright/orders/measure"
	"batchwright/orders/settings"
	"batchwright/orders/woods"
)

// Moisture is the moisture, in percent, that wood comes to in air of a
// relative humidity (percent) and a temperature (degrees Celsius): the
// two-hydrate formula of Simpson 1998, FPL-RN-0268, Celsius form, equation 4-5
// of the Wood Handbook. It departs from the handbook's table by less than 0.13
// on average and never by more than 0.9 (Simpson 1971).
func Moisture(humidity, celsius float64) float64 {
	h, t := humidity/100, celsius
	w := 349 + 1.29*t + 0.0135*t*t
	k := 0.805 + 0.000736*t - 0.00000273*t*t
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	kh := k * h
	return 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))
}

// Swing is how many tenths of a percent the wood's moisture changes between
// the driest and the dampest air of the settings, rounded up.
func Swing(how *settings.Making) int64 {
	dry, damp := Moisture(how.HumidityLow, how.Celsius), Moisture(how.HumidityHigh, how.Celsius)
	return int64(math.Ceil(math.Abs(damp-dry)*10 - 1e-9))
}

// Movement is how far a width of wood moves: width x coefficient x change of
// moisture (tenths of a percent), rounded up to the next tick.
func Movement(width measure.Length, c Coefficient, tenths int64) measure.Length {
	return measure.Length(width.Ratio().Times(c.PerPoint).Times(tenths).Over(1_000_000).Ceil())
}

// room is what a solid panel of a width is made narrower by, so that it never
// fills its groove: its whole movement, rounded up to what a rule shows. A
// manufactured sheet needs none.
func (f *frame) room(width measure.Length, wood string) measure.Length {
	if width <= 0 || woods.IsSheet(wood) {
		return 0
	}
	step := measure.Inch / 64
	if f.set.Units.Metric() {
		step = measure.Millimetre / 2
	}
	moves := Movement(width, f.known.coefficient(wood), Swing(&f.set.Making))
	return (moves + step - 1) / step * step
}

// knownWoods remembers the woods of one order: a name is looked up once.
type knownWoods map[string]Coefficient

func (k knownWoods) coefficient(wood string) Coefficient {
	c, ok := k[wood]
	if !ok {
		c = CoefficientOf(wood)
		k[wood] = c
	}
	return c
}
