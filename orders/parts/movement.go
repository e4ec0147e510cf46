package parts

import "batchwright/orders/measure"

func (f *frame) room(width measure.Length, wood string) measure.Length { return 0 }
