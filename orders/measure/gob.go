package measure

import (
	"encoding/binary"
	"errors"
)

// GobEncode keeps an exact ratio in a frozen plan.
func (r Ratio) GobEncode() ([]byte, error) {
	return binary.AppendVarint(binary.AppendVarint(nil, r.num), r.Den()), nil
}

// GobDecode reads what GobEncode wrote.
func (r *Ratio) GobDecode(data []byte) error {
	num, n := binary.Varint(data)
	if n <= 0 {
		return errBits
	}
	den, m := binary.Varint(data[n:])
	if m <= 0 || den <= 0 || n+m != len(data) {
		return errBits
	}
	*r = Frac(num, den)
	return nil
}

// GobEncode keeps an exact area in a frozen plan.
func (a Area) GobEncode() ([]byte, error) {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(nil, a.hi), a.lo), nil
}

// GobDecode reads what GobEncode wrote.
func (a *Area) GobDecode(data []byte) error {
	if len(data) != 16 {
		return errBits
	}
	a.hi, a.lo = binary.BigEndian.Uint64(data), binary.BigEndian.Uint64(data[8:])
	return nil
}

var errBits = errors.New("these bytes are no exact number")
