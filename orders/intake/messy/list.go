package messy

import (
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"
)

// encode writes a list in the encoding and with the line ends that are named.
func encode(text string, how []string) ([]byte, error) {
	out := []byte(text)
	for _, h := range how {
		switch h {
		case "crlf":
			out = []byte(strings.ReplaceAll(string(out), "\n", "\r\n"))
		case "cr":
			out = []byte(strings.ReplaceAll(string(out), "\n", "\r"))
		case "tabs":
			out = []byte(strings.ReplaceAll(string(out), "|", "\t"))
		case "bom":
			out = append([]byte("\xEF\xBB\xBF"), out...)
		case "utf16le":
			out = inUTF16(string(out), binary.LittleEndian)
		case "utf16be":
			out = inUTF16(string(out), binary.BigEndian)
		case "latin1":
			out = inLatin1(string(out))
		default:
			return nil, fmt.Errorf("%q is no way to write a list", h)
		}
	}
	return out, nil
}

func inUTF16(text string, order binary.ByteOrder) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune("\uFEFF" + text)) {
		out = append(out, 0, 0)
		order.PutUint16(out[len(out)-2:], u)
	}
	return out
}

// inLatin1 writes characters up to U+00FF as their own byte.
func inLatin1(text string) []byte {
	var out []byte
	for _, r := range text {
		out = append(out, byte(r))
	}
	return out
}
