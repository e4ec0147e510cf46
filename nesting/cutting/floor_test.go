package cutting

import (
	"fmt"
	"math/rand"
	"testing"
	"time"

	"batchwright/nesting"
	"batchwright/orders"
	"batchwright/orders/measure"
)

func rackJob(boards, parts, sizes int) Job {
	rng := rand.New(rand.NewSource(1))
	job := Job{Settings: orders.DefaultSettings()}
	in := measure.Inch
	type sz struct{ l, w, t measure.Length }
	var list []sz
	for range sizes {
		list = append(list, sz{in / 8 * measure.Length(40+rng.Intn(120)), in / 8 * measure.Length(12+rng.Intn(30)), in / 8 * measure.Length(3+rng.Intn(3))})
	}
	for i := range parts {
		s := list[rng.Intn(len(list))]
		job.Parts = append(job.Parts, orders.Part{ID: fmt.Sprint("P", i), Wood: "walnut", Grain: orders.AlongLength, Thickness: s.t,
			CutLength: s.l + in/16, CutWidth: s.w + in/8})
	}
	for i := range boards {
		b := orders.Board{ID: fmt.Sprint("R", i), Wood: "walnut", Count: 1, Class: "4/4", Length: in / 4 * measure.Length(240+rng.Intn(200)), Width: in / 8 * measure.Length(36+rng.Intn(50)), CostKnown: true}
		b.Cost = orders.Money(float64(b.Length.Inches()*b.Width.Inches()) / 144 * float64(700+rng.Intn(200)))
		for range rng.Intn(3) {
			b.Defects = append(b.Defects, orders.Defect{X: in * measure.Length(rng.Intn(60)), Y: in * measure.Length(rng.Intn(5)), Length: in * measure.Length(1+rng.Intn(5)), Width: in * measure.Length(1+rng.Intn(3))})
		}
		job.Rack = append(job.Rack, b)
	}
	return job
}

func TestFloorSpeed(t *testing.T) {
	for _, n := range []int{100, 1000} {
		job := rackJob(300, n, 60)
		start := time.Now()
		l := Nest(job, nesting.Limits{Think: time.Second})
		t.Log("nest", time.Since(start), l.Cost, l.CostBound, len(l.Boards), len(l.Short))
	}
}
