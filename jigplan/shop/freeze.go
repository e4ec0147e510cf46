package shop

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"batchwright/jigplan"
	"batchwright/jigplan/document"
)

// Freeze is a plan's document, compressed, as the shop file keeps it.
func Freeze(p *jigplan.Plan) ([]byte, error) {
	data, err := document.Marshal(p)
	if err != nil {
		return nil, fmt.Errorf("keep the plan: %w", err)
	}
	var out bytes.Buffer
	zip := gzip.NewWriter(&out)
	if _, err := zip.Write(data); err != nil {
		return nil, fmt.Errorf("keep the plan: %w", err)
	}
	if err := zip.Close(); err != nil {
		return nil, fmt.Errorf("keep the plan: %w", err)
	}
	return out.Bytes(), nil
}

// Thaw reads a frozen plan to the end, where its checksum stands.
func Thaw(data []byte) (*jigplan.Plan, error) {
	zip, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read the kept plan: %w", err)
	}
	doc, err := io.ReadAll(zip)
	if err := errors.Join(err, zip.Close()); err != nil {
		return nil, fmt.Errorf("read the kept plan: %w", err)
	}
	p, err := document.Open(doc)
	if err != nil {
		return nil, fmt.Errorf("read the kept plan: %w", err)
	}
	return p, nil
}
