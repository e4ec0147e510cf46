package badbook

import (
	"encoding/binary"
	"unicode/utf16"
)

// compound is a file in the container of the older office formats, with one
// empty stream of that name ([MS-CFB]: header, one FAT sector, one directory
// sector).
func compound(stream string) []byte {
	const (
		sector    = 512
		endOfList = 0xFFFFFFFE
		fatSector = 0xFFFFFFFD
		free      = 0xFFFFFFFF
	)
	out := make([]byte, 3*sector)
	le := binary.LittleEndian
	copy(out, "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
	le.PutUint16(out[24:], 0x3E)
	le.PutUint16(out[26:], 3)
	le.PutUint16(out[28:], 0xFFFE)
	le.PutUint16(out[30:], 9)
	le.PutUint16(out[32:], 6)
	le.PutUint32(out[44:], 1) // FAT sectors
	le.PutUint32(out[48:], 1) // first directory sector
	le.PutUint32(out[56:], 4096)
	le.PutUint32(out[60:], endOfList)
	le.PutUint32(out[68:], endOfList)
	for i := 76; i < sector; i += 4 {
		le.PutUint32(out[i:], free)
	}
	le.PutUint32(out[76:], 0)
	fat := out[sector : 2*sector]
	for i := 0; i < sector; i += 4 {
		le.PutUint32(fat[i:], free)
	}
	le.PutUint32(fat[0:], fatSector)
	le.PutUint32(fat[4:], endOfList)
	entry := func(at int, name string, kind byte, child uint32) {
		e := out[2*sector+at*128:]
		units := utf16.Encode([]rune(name))
		for i, u := range units {
			le.PutUint16(e[2*i:], u)
		}
		le.PutUint16(e[64:], uint16(2*len(units)+2))
		e[66], e[67] = kind, 1
		le.PutUint32(e[68:], free)
		le.PutUint32(e[72:], free)
		le.PutUint32(e[76:], child)
		le.PutUint32(e[116:], endOfList)
	}
	entry(0, "Root Entry", 5, 1)
	entry(1, stream, 2, free)
	return out
}
