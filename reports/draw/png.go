package draw

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	_ "image/png" // whoever puts a picture into a file asks for its size
)

// encode writes a picture of sixteen grays as a PNG of four bits a dot. Each row
// is kept as its difference from the row above, so that the long upright edges
// of a drawing pack to next to nothing. The library's own encoder takes such
// pictures dot by dot, several times slower.
func encode(img *image.Paletted) ([]byte, error) {
	wide, tall := img.Rect.Dx(), img.Rect.Dy()
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	const up = 2 // the filter
	row, above, line := make([]byte, (wide+1)/2), make([]byte, (wide+1)/2), make([]byte, 1+(wide+1)/2)
	line[0] = up
	for y := range tall {
		pack(row, img.Pix[y*img.Stride:y*img.Stride+wide])
		for i := range row {
			line[1+i] = row[i] - above[i]
		}
		if _, err := z.Write(line); err != nil {
			return nil, err
		}
		row, above = above, row
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	var head [13]byte
	binary.BigEndian.PutUint32(head[0:], uint32(wide))
	binary.BigEndian.PutUint32(head[4:], uint32(tall))
	head[8] = 4 // bits a dot, gray
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")
	chunk(&out, "IHDR", head[:])
	chunk(&out, "IDAT", packed.Bytes())
	chunk(&out, "IEND", nil)
	return out.Bytes(), nil
}

// pack puts two dots into a byte. A dot's shade is counted in ink, a PNG's in
// light.
func pack(row, dots []byte) {
	for i := range row {
		low := byte(black)
		if 2*i+1 < len(dots) {
			low = dots[2*i+1]
		}
		row[i] = (black-dots[2*i])<<4 | (black - low)
	}
}

func chunk(out *bytes.Buffer, kind string, data []byte) {
	var n [4]byte
	binary.BigEndian.PutUint32(n[:], uint32(len(data)))
	out.Write(n[:])
	start := out.Len()
	out.WriteString(kind)
	out.Write(data)
	binary.BigEndian.PutUint32(n[:], crc32.ChecksumIEEE(out.Bytes()[start:]))
	out.Write(n[:])
}
